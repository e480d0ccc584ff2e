"""What was found so far: reading, verdict, limit and source in rows, the chosen one whole."""

import tkinter as tk
from collections.abc import Callable, Sequence

import ttkbootstrap as ttk

from shopdesk.bench.checks import System
from shopdesk.bench.judging import Verdict
from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.forms import wrapping
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.standing import DIAGNOSIS, PROOF, SETTING
from shopdesk.job.views import FindingView

_ORDER = {str(system): place for place, system in enumerate(System)}
_PHASES = {PROOF: "proof run", SETTING: "setting left", DIAGNOSIS: "found"}
_BRIEF = 11
OFF = [str(verdict) for verdict in Verdict if verdict.is_off]
_TAGS = {"fail": "trouble", "noted": "faint"}


class FindingList(ttk.Frame):
    """The findings of a ticket by system, or ``after`` the repair by what they are for.

    ``list`` takes the keys; the chosen finding is told in full below it, and ``on_choose`` hears.
    """

    def __init__(self, parent: tk.Misc, *, lines: int = 5, after: bool = False) -> None:
        super().__init__(parent)
        self._findings: dict[int, FindingView] = {}
        self._zone = "UTC"
        self._after = after
        self.on_choose: Callable[[], object] = lambda: None
        columns = [
            Column("For" if after else "System", 88),
            Column("What", 170, grows=True),
            *([Column("Before", 100)] if after else []),
            Column("Reading", 130, grows=True),
            Column("Verdict", 72),
            Column("Limit", 150, grows=True),
            Column("Source", 170, grows=True),
        ]
        self.list = RowList(
            self,
            columns,
            lines=lines,
            empty="Nothing is recorded yet: choose a check and type what it shows.",
        )
        self.list.pack(fill="x")
        self.list.on_select = self._chosen
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(fill="x", pady=(2, 0))

    @property
    def told(self) -> str:
        """What is said of the chosen finding."""
        return str(self._words.cget("text"))

    @property
    def chosen(self) -> FindingView | None:
        """The finding that is marked."""
        return self._findings.get(self.list.selected or 0)

    def show(self, findings: Sequence[FindingView], zone: str) -> None:
        """Show the findings; ``zone`` is the shop's, for the moments."""
        self._zone = zone
        ordered = sorted(findings, key=lambda one: (self._place(one), one.id))
        self._findings = {one.id: one for one in ordered}
        before = first_read(findings)
        rows, group = [], None
        for one in ordered:
            mine = self._group(one)
            cells = (
                "" if mine == group else mine,
                one.title,
                *(
                    [before.get(one.check_key, "") if one.phase == PROOF else ""]
                    if self._after
                    else []
                ),
                one.shown,
                one.verdict,
                one.limit,
                one.source,
            )
            rows.append((one.id, cells, _TAGS.get(one.verdict, "")))
            group = mine
        self.list.show(rows)
        self._tell()

    def _group(self, finding: FindingView) -> str:
        return _PHASES[finding.phase] if self._after else finding.system or "other"

    def _place(self, finding: FindingView) -> int:
        if self._after:
            return list(_PHASES).index(finding.phase)
        return _ORDER.get(finding.system, len(_ORDER))

    def _chosen(self) -> None:
        self._tell()
        self.on_choose()

    def _tell(self) -> None:
        finding = self.chosen
        self._words.configure(text=whole_words(finding, self._zone) if finding else "")


def whole_words(finding: FindingView, zone: str) -> str:
    """Return all that a finding says: its verdict, limit, source and meaning, by whom and when."""
    rules_out = f"Rules out: {finding.rules_out}" if finding.rules_out else ""
    points_to = f"Points to: {finding.points_to}" if finding.points_to else ""
    note = f"Note: {finding.note}" if finding.note else ""
    who = f"{finding.found_by}, " if finding.found_by else ""
    when = f"({who}{show_moment(finding.found_at, zone)})"
    parts = (f"{finding.title}: {finding.says}", rules_out, points_to, note, when)
    return "  ".join(filter(None, parts))


def verdict_words(finding: FindingView) -> str:
    """Return what was read and what it comes to: ``Compression 105 psi: pass, at least 81 psi``."""
    limit = finding.limit if finding.limit != finding.shown else ""
    should = limit if finding.verdict == Verdict.PASS else f"should be {limit}" if limit else ""
    verdict = ", ".join(filter(None, (finding.verdict, should)))
    return f"{finding.title} {finding.shown}: {verdict}"


def found_words(findings: Sequence[FindingView]) -> str:
    """Return all findings in one line, those that are off first."""
    off = [one for one in findings if one.verdict in OFF]
    others = [one for one in findings if one.verdict not in OFF]
    told = [f"{one.title}: {_in_short(one)}" for one in (*off, *others)]
    return f"Found so far: {'  ·  '.join(told)}" if told else "Nothing found yet."


def _in_short(finding: FindingView) -> str:
    return ", ".join(dict.fromkeys((brief(finding), finding.verdict)))


def first_read(findings: Sequence[FindingView]) -> dict[str, str]:
    """Return by check what was read of it before the repair, the last time."""
    return {
        one.check_key: one.shown for one in findings if one.check_key and one.phase == DIAGNOSIS
    }


def last_read(findings: Sequence[FindingView]) -> dict[str, str]:
    """Return by check what was read of it last: the reading, or for a look-see its verdict."""
    return {one.check_key: brief(one) for one in findings if one.check_key}


def brief(finding: FindingView) -> str:
    """Return the reading if it is short, else its verdict."""
    return finding.shown if len(finding.shown) <= _BRIEF else finding.verdict

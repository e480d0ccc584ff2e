"""What else on a machine is worn or due: parts that could be renewed while it is on the bench."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from shopdesk.bench.checks import Verdict
from shopdesk.job.options.in_sentence import lowered
from shopdesk.job.options.jobs import Fitting, Item, Jobs, part_ids_of
from shopdesk.job.options.odds import Chances
from shopdesk.job.options.rules import option_rules
from shopdesk.job.reasons import Reason
from shopdesk.job.reference import upkeep_tasks
from shopdesk.job.shop import Shop
from shopdesk.job.standing import DIAGNOSIS, TicketRows
from shopdesk.job.upkeep_plan import dues_of
from shopdesk.records.tables import Finding
from shopdesk.upkeep.due import Due

_LONGEST_NOTE = 200


@dataclass(frozen=True, slots=True)
class Wear:
    """A wear part with the upkeep task that it does; ``items`` are its lines on its own.

    ``found`` says that a finding shows it worn; else it is due by the calendar or by hours.
    """

    title: str
    parts: tuple[Item, ...]
    fitting: Fitting
    labour: Item
    task: str
    found: bool

    @property
    def items(self) -> tuple[Item, ...]:
        """Its lines when it is done on its own."""
        return (*self.parts, self.labour)

    @property
    def part_ids(self) -> frozenset[int]:
        """The parts of the catalogue that it takes."""
        return part_ids_of(self.parts)


def wear_of(
    rows: TicketRows, jobs: Jobs, chances: Chances, shop: Shop, today: date
) -> tuple[Wear, ...]:
    """Return what is worn by the findings or due by now, each part once; inside a transaction.

    Only what the catalogue has parts for: a part with an upkeep task it does.
    """
    unit = rows.ticket.unit
    due = {one.task.key: one for one in dues_of(unit, shop, today) if one.on <= today}
    found: dict[frozenset[int], Wear] = {}
    for task in upkeep_tasks():
        if task.fits(unit.kind, unit.engine) and task.key in jobs.parts.tasks:
            wear = _wear(task.key, due.get(task.key), rows.findings, jobs, chances)
            if wear is not None:
                found.setdefault(wear.part_ids, wear)
    return tuple(found.values())


def _wear(
    task: str, due: Due | None, findings: Sequence[Finding], jobs: Jobs, chances: Chances
) -> Wear | None:
    needed = jobs.parts.for_task(task)
    ids = [part.id for part, _ in needed]
    worn = _worn(task, findings)
    if worn is None and due is None:
        return None
    reason = Reason.WORN if worn else Reason.PREVENTIVE
    finding_id = worn.id if worn else None
    note = "" if worn or due is None else due.because[:_LONGEST_NOTE]
    names = [part.name for part, _ in needed]
    title = " and ".join([*names[:1], *map(lowered, names[1:])])
    fitting = jobs.fitting(title, ids, chances.evidence.causes)
    return Wear(
        title=title,
        parts=tuple(jobs.part(one, reason, finding_id, note) for one in needed),
        fitting=fitting,
        labour=jobs.labour(f"Fit: {title}", fitting.minutes, reason, finding_id),
        task=task,
        found=worn is not None,
    )


def _worn(task: str, findings: Sequence[Finding]) -> Finding | None:
    """Return the last finding off its limits that shows the task's part worn, if there is one."""
    checks = option_rules().shows_worn.get(task, frozenset())
    off = (
        row
        for row in reversed(findings)
        if row.phase == DIAGNOSIS and row.check_key in checks and Verdict(row.verdict).is_off
    )
    return next(off, None)

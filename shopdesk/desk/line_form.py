"""The form for a line: a part, labour, a fee, work done elsewhere or a discount, with its why."""

import tkinter as tk
from collections.abc import Sequence

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.diagnosis_findings import OFF
from shopdesk.desk.fields import LineField
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.page import Page
from shopdesk.desk.parts.suggest import HELD, free_words, known_parts
from shopdesk.desk.suggest import Offer, Suggestions
from shopdesk.errors import JobError
from shopdesk.job.labour.rates import BENCH_RATE, rate_names
from shopdesk.job.lines import CONDITIONS, LineEntry, add_line, change_line, faults
from shopdesk.job.parts.views import PartRow
from shopdesk.job.reasons import WORDS, Reason
from shopdesk.job.standing import SUPPLIES
from shopdesk.job.upkeep_plan import tasks_for
from shopdesk.job.views import FindingView, LineView, TicketView
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind

_NEW = {"kind": "part", "quantity": "1"}


class LineForm(ttk.Frame):
    """Adds a line to the page's ticket, or changes one; Enter does it."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._off: set[str] = set()
        self._suggestions: list[Suggestions[PartRow]] = []
        self.form = form = Form(self, columns=12)
        form.choice("kind", "Kind  Alt+A", [str(kind) for kind in LineKind], span=2)
        self._what = form.line("description", "What", "a part: type its name or number", span=4)
        form.line("quantity", "How many", "labour: hours", span=2)
        form.line("unit_price", "Price of one", span=2)
        form.choice("reason", "Reason", [(str(key), words) for key, words in WORDS.items()], span=2)
        self._finding_field = form.choice("finding_id", "The finding it rests on", [], span=4)
        form.line("reason_note", "Note on the reason", span=4)
        form.choice("supply", "Where it is", SUPPLIES, span=2)
        form.line("expected_on", "Expected", "a day", span=2)
        self._number = form.line("part_number", "Part number", span=2)
        form.choice("condition", "Condition", CONDITIONS, span=2)
        form.line("cost", "Costs us", span=2)
        self._renews_field = form.choice("renews", "Upkeep that it renews", [], span=2)
        self._rate_field = form.choice("rate", "Rate", [], "labour", span=2)
        form.line("off", "Comes off", "5.00 or 10 %", span=2)
        self._finding_field.watch(self._reason_of_finding)
        hold(form, "line", HELD)
        form.pack(fill="x")
        form.submit_with(self.keep)
        self._number.watch(self._let_go)
        for field in (self._what, self._number):
            self._suggest(field)
        self._put_buttons()
        page.front.keys.add(self, "Alt+A", "Add a line: begin at its kind", self.begin)

    def offer(self, ticket: TicketView) -> None:
        """Empty the form, and offer the ticket's findings and the machine's upkeep."""
        self._off = {str(one.id) for one in ticket.findings if one.verdict in OFF}
        self._finding_field.offer(finding_choices(ticket.findings))
        self._renews_field.offer([(task.key, task.title) for task in tasks_for(ticket.unit)])
        rates = [rate for rate in rate_names(self._page.front.shift.shop) if rate[0] != BENCH_RATE]
        self._rate_field.offer([("", ""), *rates])
        self.form.fill(_NEW)
        self._tell()

    def change(self, line: LineView) -> None:
        """Put a line into the form, for changing."""
        self.form.fill(_NEW)
        self.form.restore(line_values(line))
        self.show_mode()
        self._focus_on("description")

    def keep(self) -> bool:
        """Add what is typed, or keep the change; returns whether it was done."""
        line = self.form.text_of("line")
        if not self._is_whole():
            return False
        said = "The line is changed." if line else "The line is on the ticket."
        done = self._page.attempt(lambda: self._kept(line), self.form, said=said, empty=True)
        if done:
            self.begin()
        return done

    def _is_whole(self) -> bool:
        """Say all that is wrong with what is typed at once, the focus at the first of it."""
        self.form.clear_errors()
        wrong = faults(self.form.into(LineEntry, finding_id=None, part_id=self._part_id()))
        for error in reversed(wrong):
            self._page.say_error(error, self.form)
        return not wrong

    def begin(self) -> None:
        """Put the focus into the first field, what stands there marked for overtyping."""
        self._focus_on("kind")

    def resume(self) -> None:
        """Go on with the line that is typed: its price, what stands there marked."""
        self._focus_on("unit_price")

    def leave(self) -> None:
        """Forget the change; the line stays as it is."""
        self.form.fill(_NEW)
        self.show_mode()
        self.begin()

    @property
    def offers(self) -> list[str]:
        """The parts that are offered now, in words."""
        return [words for one in self._suggestions for words in one.offers]

    @property
    def told(self) -> str:
        """What is said of the part that was taken from the catalogue."""
        return str(self._words.cget("text"))

    def take(self, row: PartRow) -> None:
        """Take a part of the catalogue: its number, name, price, cost and condition."""
        self.form.restore(
            {
                "kind": str(LineKind.PART),
                "description": row.name,
                "unit_price": "" if row.price is None else str(row.price),
                "part_number": row.number,
                "condition": row.condition,
                "cost": "" if row.cost is None else str(row.cost),
                HELD: str(row.id),
            }
        )
        where = f" in bin {row.bin}" if row.bin else ""
        self._tell(
            f"{row.number} {row.name}: {free_words(row)}{where}. "
            f"{row.price_words[:1].upper()}{row.price_words[1:]}. "
            "Left empty, “Where it is” goes by the bin."
        )
        self._focus_on("quantity")

    def show_mode(self) -> None:
        """Say whether a line is added or changed."""
        changing = bool(self.form.text_of("line"))
        self._button.configure(text=f"{'Keep it' if changing else 'Add the line'}  Enter")
        if changing:
            self._leave.pack(side="left", padx=(8, 0), before=self._words)
        else:
            self._leave.pack_forget()

    def _put_buttons(self) -> None:
        line = ttk.Frame(self)
        line.pack(fill="x")
        keys = self._page.front.keys
        self._button = action_button(line, keys, "Add the line", "", self.keep)
        self._button.pack(side="left", padx=(0, 8))
        action_button(line, keys, "Flat time …", "Alt+F", self._take_flat_time).pack(side="left")
        self._leave = action_button(line, keys, "Leave", "Esc", self.leave)
        self._words = wrapping(ttk.Label(line, font=look.SMALL))
        self._words.pack(side="left", fill="x", expand=True, padx=(12, 0))

    def _suggest(self, field: LineField) -> None:
        suggestions: Suggestions[PartRow] = Suggestions(
            field.entry, self._find, self.take, wide=True
        )
        self._suggestions.append(suggestions)
        field.on_enter = lambda: suggestions.take_chosen() or self.keep()

    def _find(self, words: str) -> Sequence[Offer[PartRow]]:
        """Offer parts while a line for one is typed that is none of the catalogue yet."""
        if self.form.text_of("kind") != LineKind.PART or self._part_id() is not None:
            return ()
        return known_parts(self._page.front.shift, words)

    def _let_go(self) -> None:
        """Another number is another part."""
        if self._part_id() is not None:
            self.form.restore({HELD: ""})
            self._tell()

    def _tell(self, words: str = "") -> None:
        self._words.configure(text=words)

    def _take_flat_time(self) -> None:
        from shopdesk.desk.labour.flat_choice import choose_flat_time

        flat = choose_flat_time(self._page.front, self._page.ticket)
        if flat is not None:
            self.form.restore(
                {
                    "kind": str(LineKind.LABOUR),
                    "description": flat.name,
                    "quantity": show_quantity(flat.hours),
                    "rate": flat.rate,
                    "unit_price": "",
                }
            )
            self._focus_on("reason")

    def _part_id(self) -> int | None:
        held = self.form.text_of(HELD)
        return int(held) if held else None

    def _kept(self, line: str) -> TicketView:
        entry = self.form.into(LineEntry, finding_id=self._finding(), part_id=self._part_id())
        shift = self._page.front.shift
        return (
            change_line(shift, int(line), entry)
            if line
            else add_line(shift, self._page.ticket.id, entry)
        )

    def _focus_on(self, name: str) -> None:
        self.form[name].focus_input()
        self.form[name].input.event_generate("<<SelectAll>>")

    def _reason_of_finding(self) -> None:
        """Where no reason is given yet, what rests on a reading that is off has failed."""
        if self.form.text_of("finding_id") in self._off and not self.form.text_of("reason"):
            self.form.restore({"reason": str(Reason.FAILED)})

    def _finding(self) -> int | None:
        typed = self.form.text_of("finding_id").strip()
        if typed and not typed.isdecimal():
            raise JobError(
                f"“{typed[:40]}” is no finding of this ticket: choose one, or leave it empty.",
                "finding_id",
            )
        return int(typed) if typed else None


def finding_choices(findings: Sequence[FindingView]) -> list[tuple[str, str]]:
    """Return what a line may rest on: (id, ``Compression: 98 psi, marginal``)."""
    return [
        ("", ""),
        *((str(one.id), f"{one.title}: {one.shown}, {one.verdict}") for one in findings),
    ]


def line_values(line: LineView) -> dict[str, str]:
    """Return a line as it would be typed into the form."""
    return {
        "line": str(line.id),
        "kind": str(line.kind),
        "description": line.description,
        "quantity": show_quantity(line.quantity),
        "unit_price": line.price_typed,
        "reason": line.reason,
        "reason_note": line.reason_note,
        "finding_id": str(line.finding_id or ""),
        "supply": line.supply,
        "expected_on": line.expected_on.isoformat() if line.expected_on else "",
        "part_number": line.part_number,
        "condition": line.condition,
        "cost": "" if line.cost is None else str(line.cost),
        "renews": line.renews,
        "rate": line.rate,
        "off": line.off_typed,
        HELD: str(line.part_id or ""),
    }

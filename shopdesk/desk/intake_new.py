"""A new ticket: owner and machine, known or new, and what is wrong, taken in at one go."""

from collections.abc import Callable
from contextlib import suppress
from functools import partial

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk.columns import two_columns
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.intake_machine import MachinePart
from shopdesk.desk.intake_owner import OwnerPart
from shopdesk.desk.keys import action_button
from shopdesk.desk.sheet import Sheet
from shopdesk.desk.visit_form import VisitForm
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content
from shopdesk.job.intake import take_in, under_warranty
from shopdesk.job.reference import complaints
from shopdesk.job.reports.queue_now import TakenInToday, if_taken_in_today
from shopdesk.job.units import get_unit, units_of
from shopdesk.job.views import CustomerView, TicketView, UnitView
from shopdesk.job.visits import machines_here, terms_in_short

_KNOWN = "known"
"""Under what name a draft holds the ids of the owner and machine that were chosen."""
_MOST_DIGITS = 9
_TO_VISIT = "Alt+V"


class NewTicket(Sheet):
    """Owner and machine at the left, the visit at the right; Ctrl+S takes the machine in."""

    page, called = "new ticket", "the new ticket"

    def build(self) -> None:
        """Put the three parts side by side."""
        self.head("New ticket")
        self.action("Take in", "Ctrl+S", self._take_in, main=True)
        self.action("Take in, tag as PDF", "Ctrl+P", self._take_in_and_print)
        self.action("Take in, next machine", "Alt+N", self._take_in_and_go_on)
        self.action("Clear the form", "Alt+E", self._start_over)
        left, right = two_columns(self.body)
        self.owner = OwnerPart(left, self.front)
        self.owner.pack(fill="x")
        section(right, f"This visit  {_TO_VISIT}", top=0)
        self.visit = VisitForm(right)
        self.visit.pack(fill="x")
        self._put_queue_and_terms(right)
        self.front.keys.add(self, _TO_VISIT, "Go to the visit", self.visit.focus_first)
        self.machine = MachinePart(left, self.front, self.visit.focus_first)
        self.machine.pack(fill="x")
        self.owner.on_change = self._owner_changed
        self.machine.on_found = self._machine_found
        self.machine.on_take = self._machine_taken
        self._forms: dict[str, Form] = {
            "owner": self.owner.form,
            "machine": self.machine.form,
            "visit": self.visit,
        }
        looks: dict[str, Callable[[], object]] = {
            "owner": self.owner.same.typed,
            "machine": self.machine.same.typed,
            "visit": self._trades_words,
        }
        for name, form in self._forms.items():
            form.on_change = partial(self._typed_in, looks[name])
        held = self.front.drafts.find(self.held_at)
        if held is not None:
            self._put_in(held.content)

    def begin(self, owner_id: int | None = None, unit_id: int | None = None) -> None:
        """Begin, or go on with what is typed; a known owner or machine is filled in.

        Not over what is typed for somebody else: that goes first.
        """
        self._show_queue_and_terms()
        if self.draft() and (owner_id or unit_id):
            self.front.notices.trouble(
                "A new ticket is begun here and not saved yet: take it in or clear it first."
            )
            self.focus_first()
            return
        unit = None if unit_id is None else get_unit(self.front.shift, unit_id)
        owner = unit.owner_id if unit else owner_id
        if owner is not None:
            self.owner.take(owner)
        if unit is not None:
            self.machine.take(unit)
        elif owner is not None:
            self._leave_what_is_here(owner)
        self.focus_first()

    def focus_first(self) -> None:
        """Begin with the owner, the machine or the complaint: what is not known yet."""
        if self.owner.known is None:
            self.owner.form.focus_first()
        elif self.machine.known is None:
            self.machine.focus_first()
        else:
            self.visit.focus_first()

    def draft(self) -> Content:
        """Return what is typed, and which owner and machine of the records it was typed for."""
        drafts = {name: form.draft() for name, form in self._forms.items() if form.changed}
        known = {"owner": self.owner.known, "machine": self.machine.known}
        ids = {name: str(one.id) for name, one in known.items() if one is not None}
        return {**drafts, _KNOWN: ids} if drafts and ids else drafts

    def throw_away(self) -> None:
        """Empty all fields."""
        self.owner.forget()
        self.machine.take(None)
        self.machine.form.fill({})
        self.visit.fill({})

    def _put_in(self, content: Content) -> None:
        """Put in again what ``draft`` returned, as far as it still goes."""
        known = content.get(_KNOWN, {})
        for name, take in (("owner", self.owner.take), ("machine", self._take_machine)):
            typed = str(known.get(name, ""))
            if typed.isdecimal() and len(typed) <= _MOST_DIGITS:
                with suppress(JobError):
                    take(int(typed))
        if self.machine.known is not None and "machine" not in known:
            self.machine.take(None)
        for name in content.keys() & self._forms.keys():
            self._forms[name].restore(content[name])

    def _leave_what_is_here(self, owner_id: int) -> None:
        """Don't take a machine that is here already: they bring another one."""
        known = self.machine.known
        if known is not None and known.id in machines_here(self.front.shift, owner_id):
            self.machine.take(None)

    def _take_machine(self, unit_id: int) -> None:
        self.machine.take(get_unit(self.front.shift, unit_id))

    def _owner_changed(self, owner: CustomerView | None) -> None:
        self.machine.owner_id = None if owner is None else owner.id
        self.machine.offer(() if owner is None else units_of(self.front.shift, owner.id))
        if owner is not None:
            self.machine.focus_first()

    def _machine_taken(self, unit: UnitView | None) -> None:
        shift = self.front.shift
        self.visit.offer_comeback(None if unit is None else under_warranty(shift, unit.id))

    def _machine_found(self, unit: UnitView) -> None:
        if self.owner.known is None and not self.owner.called:
            self.owner.take(unit.owner_id)
            self.machine.take(unit)
        self.visit.focus_first()

    def _take_in(self) -> None:
        self._taken_in()

    def _take_in_and_print(self) -> None:
        ticket = self._taken_in()
        if ticket is not None:
            self.front.papers.tag(ticket)

    def _take_in_and_go_on(self) -> None:
        """Take the machine in, keep its owner, and begin the next machine of the visit."""
        ticket = self._kept()
        if ticket is None:
            return
        shift, owner = self.front.shift, ticket.owner
        self.owner.take(owner.id)
        self.machine.offer(units_of(shift, owner.id), take_only=False)
        self._show_queue_and_terms()
        self.front.refresh_board()
        self.machine.focus_first()
        self.front.notices.say(
            f"{ticket.tag} is taken in. {owner.name}'s next machine: which is it?"
        )

    def _taken_in(self) -> TicketView | None:
        ticket = self._kept()
        if ticket is not None:
            self.front.open_ticket(ticket.id)
            self.front.show_ticket(ticket)
            self.front.notices.say(f"{ticket.tag} is taken in. Ctrl+P makes its tag.")
        return ticket

    def _kept(self) -> TicketView | None:
        """Take the machine in and empty the form; nothing where it can't be, and it is said why."""
        for form in self._forms.values():
            form.clear_errors()
        handed_on = self._is_handed_on()
        if handed_on and not self._confirm_handed_on():
            return None
        try:
            ticket = take_in(
                self.front.shift,
                self.owner.entry(),
                self.machine.entry(),
                self.visit.entry(),
                changed_hands=handed_on,
            )
        except JobError as error:
            self.say_error(error, *self._likely_forms(error))
            return None
        self.throw_away()
        self.front.drafts.gather()
        return ticket

    def _is_handed_on(self) -> bool:
        """Whether a known machine is brought by somebody who is not its owner in the records."""
        unit, owner = self.machine.known, self.owner.known
        return unit is not None and (owner is None or owner.id != unit.owner_id)

    def _confirm_handed_on(self) -> bool:
        unit = self.machine.known
        assert unit is not None
        return self.front.dialogs.confirm(
            "Changed hands?",
            f"The {unit.title} is {unit.owner_name}'s in the records. "
            f"Is it {self.owner.called or 'somebody else'}'s now?",
            "Changed hands",
            "Look again",
        )

    def _likely_forms(self, error: JobError) -> tuple[Form, ...]:
        """Return the forms to look for the error's field in: several have a note."""
        forms = tuple(self._forms.values())
        if error.field == "notes":
            return tuple(form for form in forms if form.text_of("notes")) or forms
        return forms

    def _start_over(self) -> None:
        self.throw_away()
        self.front.drafts.gather()
        self.owner.form.focus_first()

    def _put_queue_and_terms(self, parent: ttk.Frame) -> None:
        line = ttk.Frame(parent)
        line.pack(fill="x", pady=(4, 0))
        button = action_button(line, self.front.keys, "Promise it", "Alt+D", self._promise)
        button.pack(side="right", anchor="n", padx=(8, 12))
        self._queue = wrapping(ttk.Label(line, bootstyle="secondary"))
        self._queue.pack(side="left", fill="x", expand=True)
        section(parent, "Terms to name")
        self._terms = wrapping(ttk.Label(parent))
        self._terms.pack(fill="x")
        self._ready: TakenInToday | None = None
        self._filled = ""

    def _show_queue_and_terms(self) -> None:
        shift = self.front.shift
        self._ready = if_taken_in_today(shift)
        self._queue.configure(text=f"Taken in today, by the queue: {self._ready.words}.")
        self._terms.configure(text=terms_in_short(shift.shop))

    def _promise(self) -> None:
        """Put the day that the queue gives into the field."""
        if self._ready is not None:
            self.visit.restore({"promised_on": show_date(self._ready.ready_on)})

    def _typed_in(self, look: Callable[[], object]) -> None:
        look()
        self.mark_typed()

    def _trades_words(self) -> None:
        """Put the trade's words for the chosen kind where the owner's own are not typed."""
        said, kind = self.visit.text_of("complaint").strip(), self.visit.text_of("complaint_kind")
        known = complaints().by_key.get(kind)
        if known is None or (said and said != self._filled):
            return
        words = f"{known.words[:1].upper()}{known.words[1:]}."
        if said != words:
            self._filled = words
            self.visit.restore({"complaint": words})

"""A machine's card: what it is, whose it was when, and all its visits."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.history_card import HistoryCard, owned_words
from shopdesk.desk.machine_form import MachineForm
from shopdesk.desk.machine_upkeep import MachineUpkeep
from shopdesk.desk.people import ask_owner
from shopdesk.desk.visit_rows import VisitRows
from shopdesk.errors import JobError
from shopdesk.job.history import unit_history, unit_owners
from shopdesk.job.units import change_unit, get_unit, hand_on
from shopdesk.job.views import UnitView
from shopdesk.job.warranty import unit_warranty


class MachineCard(Card):
    """Particulars above, owners and visits below."""

    page = "machine"

    def build(self) -> None:
        """Put the form over owners and visits."""
        self._unit: UnitView | None = None
        self.action("Save", "Ctrl+S", self.save, main=True)
        self.action("New ticket for it", "Alt+N", self._new_ticket)
        self.action("Handed on …", "Alt+H", self._hand_on)
        self.action("Its owner", "Alt+O", self._open_owner)
        self.action("History", "F12", self._open_history)
        self.action("Written down twice …", "Alt+W", self._same)
        self._particulars = MachineForm(self.body, columns=4)
        self.watch_form(self._particulars)
        self._particulars.pack(fill="x")
        self._warranty = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._warranty.pack(fill="x", pady=(6, 0))
        section(self.body, "Upkeep")
        self.upkeep = MachineUpkeep(self.body, self.front, self._read_anew)
        self.upkeep.pack(fill="x")
        section(self.body, "Owners")
        self._owners = wrapping(ttk.Label(self.body))
        self._owners.pack(fill="x")
        section(self.body, "Visits")
        self._visits = VisitRows(self.body, self.front.open_ticket)
        self._visits.pack(fill="both", expand=True)

    def fill(self, known: int) -> None:
        """Show what is kept of the machine."""
        shift = self.front.shift
        self._unit = get_unit(shift, known)
        self.head(self._unit.title)
        self._particulars.show(self._unit)
        self.upkeep.show(self._unit)
        running = unit_warranty(shift, known)
        self._warranty.configure(
            text="  ".join(f"Under warranty, {tag}: {one.words}." for tag, one in running)
        )
        self._owners.configure(
            text="\n".join(owned_words(one) for one in unit_owners(shift, known))
        )
        self._visits.show_visits(unit_history(shift, known), shift.shop.currency)

    def keep(self, known: int) -> None:
        """Change the machine."""
        assert self._unit is not None
        self._unit = change_unit(
            self.front.shift, known, self._particulars.entry(), self._unit.version
        )

    @property
    def called(self) -> str:
        """Return the machine's name."""
        return f"the card of {self._unit.title}" if self._unit else "a machine's card"

    def focus_first(self) -> None:
        """Begin with the particulars."""
        self._particulars.focus_first()

    def _read_anew(self) -> None:
        if self.known is not None:
            self.show(self.known)

    def _new_ticket(self) -> None:
        if self._unit is not None and self.save():
            self.front.new_ticket(None, self._unit.id)

    def _same(self) -> None:
        from shopdesk.desk.merge_sheet import MachinesMerge

        if self._unit is not None and self.save():
            self.front.open_card(MachinesMerge, self._unit.id)

    def _open_owner(self) -> None:
        if self._unit is not None:
            self.front.open_owner(self._unit.owner_id)

    def _open_history(self) -> None:
        if self._unit is not None:
            self.front.open_card(HistoryCard, self._unit.id)

    def _hand_on(self) -> None:
        if self._unit is None or not self.save():
            return
        owner = ask_owner(self.front, "Handed on", f"Who has the {self._unit.title} now?")
        if owner is None:
            return
        question = f"Since when does {owner.name} have it?"
        since = self.front.dialogs.ask_text("Handed on", question, "today")
        if since is None:
            return
        try:
            hand_on(self.front.shift, self._unit.id, owner.id, since)
        except JobError as error:
            self.front.notices.trouble(error.sentence)
            return
        self.fill(self._unit.id)
        self.front.notices.say(
            f"The {self._unit.title} is {owner.name}'s now; its history stays with it."
        )

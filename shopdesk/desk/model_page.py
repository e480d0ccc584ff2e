"""The Model card page: what the shop learnt of a make and model, and the limits it goes by."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.forms import section
from shopdesk.desk.model_limits import OwnLimits
from shopdesk.desk.model_notes import ModelNotes
from shopdesk.desk.model_words import failed_words, record_words
from shopdesk.desk.page import Draft, Page
from shopdesk.job.limits import limits_of_unit
from shopdesk.job.model_notes import ModelCardView, model_card
from shopdesk.job.views import TicketView


class ModelPage(Page):
    """The record of the model, its entries, and the shop's own limits for it and this machine."""

    title, short = "Model card", "Model"
    stages = ()

    def build(self) -> None:
        """Put record, entries and limits under each other."""
        self._name = section(self.body, "", top=0)
        self._record = wrapping(ttk.Label(self.body))
        self._record.pack(fill="x")
        self._failed = wrapping(ttk.Label(self.body, font=look.SMALL))
        self._failed.pack(fill="x", pady=(0, 4))
        self.notes = ModelNotes(self.body, self)
        self.notes.pack(fill="x")
        self.keep_typed("note", self.notes.form)
        section(self.body, "Limits of our own, that go before the reference")
        self.limits = OwnLimits(self.body, self)
        self.limits.pack(fill="x")
        self.keep_typed("limit", self.limits.form)

    def refresh(self) -> None:
        """Show the card of the machine's model."""
        unit, shift = self.ticket.unit, self.front.shift
        card = model_card(shift, unit.make, unit.model)
        self._name.configure(text=" ".join(filter(None, (unit.make, unit.model))) or "No model")
        self._record.configure(text=_record(card))
        self._failed.configure(text=failed_words(card.record) if card else "")
        self.notes.show(card.notes if card else ())
        self.limits.show(unit, limits_of_unit(shift, unit.id))

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket's model, and whether an entry is being changed."""
        super().show(ticket, draft)
        self.notes.show_mode()

    def focus_first(self) -> None:
        """Begin at a new entry."""
        self.notes.begin()

    def save(self) -> bool:
        """Keep the entry and the limit that are typed."""
        if self.notes.form.changed and not self.notes.keep():
            return False
        return not self.limits.form.changed or self.limits.keep()

    @property
    def record(self) -> str:
        """What is said of our tickets of the model."""
        return " ".join(str(label.cget("text")) for label in (self._record, self._failed))


def _record(card: ModelCardView | None) -> str:
    if card is None:
        return "No make and model are known of this machine: type them on Intake (Alt+1)."
    return record_words(card.record)

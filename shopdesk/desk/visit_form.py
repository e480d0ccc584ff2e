"""What is asked at the counter about this visit, as fields."""

import tkinter as tk
from textwrap import shorten

from shopdesk.dates import show_date
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.intake import EarlierMend, TicketEntry
from shopdesk.job.reference import complaints
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money

_MOST_SHOWN = 60
"""How much of an earlier complaint is shown beside its tick, in letters."""


class VisitForm(Form):
    """The complaint, what was left with the machine, the promise, and how far the shop may go."""

    def __init__(self, parent: tk.Misc, columns: int = 2) -> None:
        super().__init__(parent, columns)
        known = complaints()
        self.text("complaint", "Complaint", "in the owner's own words", lines=3)
        kinds = [(one.key, one.words) for one in known.by_key.values()]
        self.choice("complaint_kind", "Kind of complaint", kinds)
        self.choice("onset", "How it came on", list(known.onsets.items()))
        self.line("fuel", "Fuel", "which, how old")
        self.line("accessories", "Left with it", "guard, case …")
        self.text("condition", "Condition", "as it stands on the counter", lines=2)
        self.line("promised_on", "Promised for", "as fri, 14 mar, +5")
        self.line("limit", "May cost up to", "empty: ask first")
        self.text("notes", "Note for the shop", lines=1)
        self.tick("old_parts_back", "Owner wants old parts back")
        self._comeback = self.tick("comeback", "Comeback under warranty", span=columns)
        self.offer_comeback(None)

    def entry(self) -> TicketEntry:
        """Return what is typed, for the job."""
        return self.into(TicketEntry)

    def show(self, ticket: TicketView, earlier: EarlierMend | None) -> None:
        """Fill the fields from what is kept; ``earlier`` is what it could be a comeback of."""
        self.offer_comeback(earlier)
        self.fill(as_typed(ticket))

    def offer_comeback(self, earlier: EarlierMend | None) -> None:
        """Let it be ticked that the machine came back for what was mended then; never by itself."""
        if earlier is None:
            self._comeback.set(False)
            self._comeback.grid_remove()
        else:
            self._comeback.input.configure(text=comeback_words(earlier))  # type: ignore[call-arg]
            self._comeback.grid()


def comeback_words(earlier: EarlierMend) -> str:
    """Return what is ticked, the earlier ticket and its complaint named."""
    complaint = shorten(earlier.complaint, _MOST_SHOWN, placeholder=" …")
    days = "today" if not earlier.days_ago else f"{earlier.days_ago} days ago"
    lines = [f"Comeback under warranty: {earlier.tag}, {days}", f"“{complaint}”"]
    if earlier.cause:
        lines.append(f"It was: {shorten(earlier.cause, _MOST_SHOWN, placeholder=' …')}")
    return "\n".join([*lines, f"Still covered: {earlier.warranty}"])


def as_typed(ticket: TicketView) -> dict[str, Value]:
    """Return a visit as it would be typed."""
    return {
        "complaint": ticket.complaint,
        "complaint_kind": ticket.complaint_kind,
        "onset": ticket.onset,
        "fuel": ticket.fuel,
        "accessories": ticket.accessories,
        "condition": ticket.condition,
        "promised_on": show_date(ticket.promised_on) if ticket.promised_on else "",
        "limit": "" if ticket.limit is None else show_money(ticket.limit, ""),
        "notes": ticket.notes,
        "old_parts_back": ticket.old_parts_back,
        "comeback": ticket.comeback_of is not None,
    }

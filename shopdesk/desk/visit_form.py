"""What is asked at the counter about this visit, as fields."""

import tkinter as tk

from shopdesk.dates import show_date
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.intake import TicketEntry
from shopdesk.job.reference import complaints
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money


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
        self.line("promised_on", "Promised for", "as fri, 3/14, +5")
        self.line("limit", "May go up to", "empty: ask first")
        self.text("notes", "Note for the shop", lines=1)
        self.tick("old_parts_back", "Owner wants old parts back")
        self.tick("comeback", "Comeback under warranty")
        self.fill(EMPTY)

    def entry(self) -> TicketEntry:
        """Return what is typed, for the job."""
        return self.into(TicketEntry)

    def show(self, ticket: TicketView) -> None:
        """Fill the fields from what is kept."""
        self.fill(as_typed(ticket))


EMPTY: dict[str, Value] = {"comeback": True}


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

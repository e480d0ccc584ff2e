"""The earlier visits of a machine or an owner, as a list that opens them."""

import tkinter as tk
from collections.abc import Callable, Sequence

from shopdesk.dates import show_date
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.views import VisitView
from shopdesk.pricing.money import show_money


class VisitRows(RowList):
    """One visit to a row, newest first; Enter opens its ticket."""

    def __init__(self, parent: tk.Misc, open_ticket: Callable[[int], object]) -> None:
        super().__init__(
            parent,
            [
                Column("Tag", 60),
                Column("Taken in", 100),
                Column("Ended", 110),
                Column("Complaint", 200, grows=True),
                Column("Done", 240, grows=True),
                Column("Total", 80, right=True),
            ],
            lines=7,
            empty="No visit yet: what is done on a ticket stands here once it ends.",
        )
        self.on_open(open_ticket)

    def show_visits(self, visits: Sequence[VisitView], currency: str) -> None:
        """Show the visits."""
        self.show([(visit.ticket_id, _cells(visit, currency)) for visit in visits])


def _cells(visit: VisitView, currency: str) -> tuple[str, ...]:
    comeback = f" (comeback of T{visit.comeback_of})" if visit.comeback_of else ""
    return (
        visit.tag,
        show_date(visit.taken_in_on)[4:],
        visit.outcome or f"open: {visit.stage}",
        " ".join(visit.complaint.split()) + comeback,
        "; ".join(visit.done or visit.failed),
        show_money(visit.total, currency),
    )

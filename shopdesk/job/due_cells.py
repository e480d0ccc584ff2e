"""The due list as a table for a spreadsheet: one row for each machine."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from shopdesk.job.csv_out import Cell
from shopdesk.job.due_list import DueOwner

HEADS = (
    *("Owner", "Way", "Not to be reached", "Phones", "E-mail", "Address"),
    *("Machine", "Due", "What is due", "Invite for the week of"),
)


def due_cells(
    owners: Iterable[DueOwner], week_of: Mapping[int, date] | None = None
) -> Iterator[tuple[Cell, ...]]:
    """Return the rows; ``week_of`` has by owner the week that they are best invited for."""
    for one in owners:
        week = (week_of or {}).get(one.customer_id)
        for machine in one.machines:
            yield (
                one.owner,
                one.way,
                one.why_not,
                ", ".join(one.phones),
                one.email,
                ", ".join(one.address),
                machine.title,
                machine.due_on,
                machine.tasks,
                week,
            )

"""Owners with machines that were mended and went home, for tests of what falls due later."""

from dataclasses import replace
from datetime import date
from typing import Any

from shopdesk.job.customers import CustomerEntry
from shopdesk.job.due_list import DueOwner, due_list
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Ticket
from tests.job.mended import closed
from tests.job.workshop import OWNER, TRIMMER, Clock, taken_in

MOWER = UnitEntry("push mower", "four-stroke", "Tarnbeck", "TM-46", "TM46-77")
SAW = UnitEntry("chain saw", "two-stroke", "Osmarrow", "OS 40", "OS/40/77")
SPRING = date(2032, 3, 20)
"""A year after the workshop's clock begins: the season of most machines opens soon."""


def went_home(
    shift: Shift, owner: int | CustomerEntry = OWNER, unit: int | UnitEntry = TRIMMER
) -> TicketView:
    """Return a closed ticket: half an hour at the bench, paid and fetched."""
    ticket = go_on(shift, taken_in(shift, owner, unit).id, Stage.DIAGNOSIS)
    return closed(shift, ticket, "0.5")


def at_home(
    shift: Shift, owner: int | CustomerEntry = OWNER, unit: int | UnitEntry = TRIMMER
) -> TicketView:
    """Return a ticket that was closed by putting it so in the file: quicker, where that will do."""
    ticket = taken_in(shift, owner, unit)
    with shift.records.writing():
        closed_now = {"stage": Stage.CLOSED, "closed_at": shift.now()}
        Ticket.update(**closed_now).where(Ticket.id == ticket.id).execute()
    return open_ticket(shift, ticket.id)


def household(shift: Shift) -> TicketView:
    """Return the last ticket of an owner whose three machines all went home."""
    first = at_home(shift)
    at_home(shift, first.owner.id, MOWER)
    return at_home(shift, first.owner.id, SAW)


def neighbour(shift: Shift, number: int, **more: Any) -> TicketView:
    """Return the ticket of one more owner, with a trimmer."""
    owner = CustomerEntry(
        f"Owner {number}",
        (f"555-01{number:02}9",),
        email=f"n{number}@example.com",
        address=f"{number} Mill Row\nFernhollow",
    )
    owner = replace(owner, **more)
    return at_home(shift, owner, replace(TRIMMER, serial=f"N{number}"))


def until_spring(clock: Clock) -> None:
    """Let the time go by up to the spring after."""
    clock.forward((SPRING - clock.moment.date()).days)


def due_soon(shift: Shift, days: int = 30) -> tuple[DueOwner, ...]:
    """Return who is on the list now."""
    return due_list(shift, date.fromordinal(shift.today.toordinal() + days))

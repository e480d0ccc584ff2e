"""Intake: a machine is set on the counter; writes the ticket, and puts right what was wrong."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from shopdesk.dates import local_day, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.customers import CustomerEntry, find_customer, insert_customer
from shopdesk.job.opened import tag_of, ticket_view
from shopdesk.job.reference import cause_title, complaints
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.standing import find_ticket, rows_of
from shopdesk.job.units import (
    UnitEntry,
    current_ownership,
    find_unit,
    insert_unit,
    pass_to,
    put_owner_right,
)
from shopdesk.job.views import TicketView
from shopdesk.job.warranty import warranty_of
from shopdesk.pricing.totals import ZERO
from shopdesk.records.tables import Customer, Ticket, Unit


@dataclass(frozen=True, slots=True)
class TicketEntry:
    """What is asked at the counter, as typed.

    An empty promise means the shop's usual days; an empty limit, ask first.
    """

    complaint: str
    complaint_kind: str = ""
    onset: str = ""
    fuel: str = ""
    accessories: str = ""
    condition: str = ""
    notes: str = ""
    promised_on: str = ""
    limit: str = ""
    old_parts_back: bool = False
    comeback: bool = True
    """Link the last visit if it is within the shop's warranty; false: this is another matter."""


@dataclass(frozen=True, slots=True)
class EarlierMend:
    """A visit that was mended, and whose warranty runs."""

    tag: str
    complaint: str
    closed_on: date
    days_ago: int
    cause: str
    """What it turned out to be, or empty."""
    warranty: str
    """What is still covered, until when."""


def under_warranty(
    shift: Shift, unit_id: int, taken_in_at: datetime | None = None
) -> EarlierMend | None:
    """Return the visit that a machine taken in then (empty: now) could be a comeback of."""
    with shift.records.reading():
        shop = load_shop()
        moment = taken_in_at or shift.now()
        last = _last_mended(unit_id, moment, shop.zone)
        if last is None:
            return None
        on, closed_on = local_day(moment, shop.zone), local_day(last.closed_at, shop.zone)
        return EarlierMend(
            tag=tag_of(last.number),
            complaint=last.complaint,
            closed_on=closed_on,
            days_ago=(on - closed_on).days,
            cause=cause_title(last.cause, last.cause_words) if last.cause else "",
            warranty=warranty_of(last).running(on).words,
        )


def take_in(
    shift: Shift,
    customer: int | CustomerEntry,
    unit: int | UnitEntry,
    entry: TicketEntry,
    *,
    changed_hands: bool = False,
) -> TicketView:
    """Take a machine in: a known or new owner, a known or new machine, and what is wrong with it.

    A known machine of somebody else is taken in only with ``changed_hands``: it is this owner's
    from today on, and its history stays with it. All of it is written or nothing is. Raises
    ``JobError`` at the field.
    """
    with shift.changing() as change:
        owner = (
            insert_customer(change, customer)
            if isinstance(customer, CustomerEntry)
            else find_customer(customer)
        )
        machine = _machine(change, owner, unit, changed_hands)
        ticket = _new_ticket(change, owner, machine, entry)
        return ticket_view(ticket, change.shop, change.today)


def _machine(change: Change, owner: Customer, unit: int | UnitEntry, changed_hands: bool) -> Unit:
    if isinstance(unit, UnitEntry):
        return insert_unit(change, owner, unit)
    machine = find_unit(unit)
    present = current_ownership(machine).customer
    if present.id != owner.id:
        if not changed_hands:
            raise JobError(
                f"This machine is {present.name}'s: take it in under that name, "
                "or say that it changed hands.",
                "unit",
            )
        pass_to(change, machine, owner, change.today)
    if machine.gone_on is not None:
        machine.gone_on, machine.gone_how = None, ""
        change.save(machine, "it is here again")
    return machine


def change_intake(
    shift: Shift, ticket_id: int, entry: TicketEntry, version: int | None = None
) -> TicketView:
    """Put right what was written at intake.

    ``version`` is the one that was shown; raises ``StaleError`` if it grew.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        if version is not None:
            ticket.version = version
        _fill(change, ticket, entry)
        change.save(ticket)
        return ticket_view(ticket, change.shop, change.today)


def change_ticket_owner(
    shift: Shift, ticket_id: int, customer_id: int, *, owns_unit: bool = True
) -> TicketView:
    """Put right a ticket written under the wrong customer.

    ``owns_unit`` puts the machine right as well. Raises ``JobError`` once an invoice stands: it
    names the customer, so credit it first.
    """
    with shift.changing() as change:
        ticket, owner = find_ticket(ticket_id), find_customer(customer_id)
        _refuse_if_invoiced(ticket)
        ticket.customer = owner
        change.save(ticket, "wrong customer")
        if owns_unit:
            put_owner_right(change, ticket.unit, owner)
        return ticket_view(find_ticket(ticket_id), change.shop, change.today)


def change_ticket_unit(shift: Shift, ticket_id: int, unit_id: int) -> TicketView:
    """Put right a ticket written for the wrong machine of the same owner."""
    with shift.changing() as change:
        ticket, unit = find_ticket(ticket_id), find_unit(unit_id)
        _refuse_if_invoiced(ticket)
        if current_ownership(unit).customer_id != ticket.customer_id:
            raise JobError(
                "That machine belongs to someone else: change the ticket's owner first.", "unit"
            )
        _refuse_second_ticket(unit, ticket)
        ticket.unit = unit
        ticket.comeback_of = _comeback_of(ticket, change.shop.zone)
        change.save(ticket, "wrong machine")
        return ticket_view(find_ticket(ticket_id), change.shop, change.today)


def _new_ticket(change: Change, owner: Customer, unit: Unit, entry: TicketEntry) -> Ticket:
    _refuse_second_ticket(unit, None)
    ticket = Ticket(
        customer=owner,
        unit=unit,
        stage=Stage.INTAKE,
        taken_in_at=change.at,
    )
    _fill(change, ticket, entry)
    ticket.number = change.next_number("ticket")
    change.add(ticket)
    return ticket


def _fill(change: Change, ticket: Ticket, entry: TicketEntry) -> None:
    ticket.complaint = typed.text(entry.complaint, "complaint", "The complaint", needed=True)
    ticket.complaint_kind = typed.choice(
        entry.complaint_kind, "complaint_kind", complaints().by_key, "The kind of complaint"
    )
    ticket.onset = typed.choice(entry.onset, "onset", complaints().onsets, "How it came on")
    ticket.fuel = typed.line(entry.fuel, "fuel", "The fuel")
    ticket.accessories = typed.text(entry.accessories, "accessories", "What was left with it")
    ticket.condition = typed.text(entry.condition, "condition", "The condition")
    ticket.notes = typed.text(entry.notes, "notes", "The note")
    ticket.promised_on = _promise(change, ticket, entry)
    ticket.limit_amount = typed.optional_money(entry.limit, "limit")
    ticket.old_parts_back = entry.old_parts_back
    linked_before = ticket.comeback_of_id
    ticket.comeback_of = _comeback_of(ticket, change.shop.zone) if entry.comeback else None
    if ticket.diagnosis_fee is None or ticket.comeback_of_id != linked_before:
        ticket.diagnosis_fee = ZERO if ticket.comeback_of_id else change.shop.diagnosis_fee


def _promise(change: Change, ticket: Ticket, entry: TicketEntry) -> date | None:
    day = typed.day(entry.promised_on, "promised_on", change.today, day_first=change.shop.day_first)
    if day is None:
        return ticket.promised_on or change.today + timedelta(days=change.shop.turnaround_days)
    if day < change.today and day != ticket.promised_on:
        raise JobError(f"{show_date(day)} is past: promise today or a later day.", "promised_on")
    return day


def _refuse_second_ticket(unit: Unit, ticket: Ticket | None) -> None:
    other = Ticket.get_or_none(
        (Ticket.unit == unit.id)
        & (Ticket.stage != Stage.CLOSED)
        & (Ticket.id != (ticket.id if ticket else 0))
    )
    if other is not None:
        raise JobError(
            f"This machine is here already on ticket {other.number}: open that one.", "unit"
        )


def _refuse_if_invoiced(ticket: Ticket) -> None:
    invoice = rows_of(ticket).standing_invoice
    if invoice is not None:
        raise JobError(
            f"Invoice {invoice.number} stands for this ticket: write a credit note for it first.",
            "invoice",
        )


def _comeback_of(ticket: Ticket, zone: str) -> Ticket | None:
    return _last_mended(ticket.unit_id, ticket.taken_in_at, zone)


def _last_mended(unit_id: int, before: datetime, zone: str) -> Ticket | None:
    """Return the last mended visit if any of its warranty ran when the machine came in again."""
    last: Ticket | None = (
        Ticket.select()
        .where((Ticket.unit == unit_id) & (Ticket.outcome == MENDED) & (Ticket.closed_at < before))
        .order_by(Ticket.closed_at.desc())
        .first()
    )
    if last is None or not warranty_of(last).running(local_day(before, zone)).covered:
        return None
    return last

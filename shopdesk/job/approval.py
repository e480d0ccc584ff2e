"""The owner's say: a written estimate, and who said yes or no, how, and up to how much."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

import msgspec

from shopdesk.dates import show_moment
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.lines import (
    AGREED_FEE,
    decline_line,
    next_position,
    put_back_on_offer,
    refuse_if_done,
)
from shopdesk.job.opened import ticket_view
from shopdesk.job.options.named import ways_named
from shopdesk.job.paper_content import EstimateContent
from shopdesk.job.paperwork import estimate_content
from shopdesk.job.phones import refuse_unless_phone
from shopdesk.job.reasons import Reason
from shopdesk.job.reckoned import SUPPLIES, reckon
from shopdesk.job.said_when import said_at
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import (
    DECLINED,
    TicketRows,
    agreed_fee,
    fee_is_owed,
    find_ticket,
    is_diagnosis_fee,
    refuse_below_zero,
    rows_of,
    totals_of,
)
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Approval, Estimate, Line, Ticket

WAYS = ("in person", "by phone", "by text", "by e-mail", "in writing")
ASKABLE = (Stage.DIAGNOSIS, Stage.APPROVAL, Stage.PARTS, Stage.REPAIR, Stage.PICKUP)
DECLINABLE = (Stage.INTAKE, *ASKABLE)


@dataclass(frozen=True, slots=True)
class SayEntry:
    """The owner's word as typed. An empty amount on a yes means the estimate's total."""

    who: str
    how: str
    amount: str = ""
    phone: str = ""
    note: str = ""
    declined_line_ids: tuple[int, ...] = ()
    """With a yes: what they did not want of what was offered."""
    option: str = ""
    """The way out that they chose, by its name."""
    said: str = ""
    """When they said it, if earlier than now: ``yesterday 16:30``."""


def quote(shift: Shift, ticket_id: int, ready_by: str = "") -> TicketView:
    """Give a written estimate of the lines as they stand; it is the last of the ticket's estimates.

    Without ``ready_by`` it names the day of the way out whose lines they are, else the promise.
    Raises ``JobError`` when there is nothing on the ticket to quote.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        rows = rows_of(ticket)
        _refuse_unless_askable(ticket, rows)
        if not rows.live_lines:
            raise JobError(
                "There is nothing to quote: add the parts and labour that the repair needs.",
                "lines",
            )
        refuse_below_zero(totals_of(rows, change.shop).total)
        ready = typed.day(ready_by, "ready_by", change.today, day_first=change.shop.day_first)
        number = f"{ticket.number}-{len(rows.estimates) + 1}"
        content = estimate_content(rows, change.shop, number, change.today, ready)
        change.add(
            Estimate(
                ticket=ticket,
                number=number,
                total=content.totals.total,
                content=msgspec.json.encode(content).decode(),
                made_at=change.at,
            )
        )
        return ticket_view(ticket, change.shop, change.today)


def estimate_as_given(shift: Shift, estimate_id: int) -> EstimateContent:
    """Return what an estimate said when it was given."""
    with shift.records.reading():
        row = Estimate.get_or_none(Estimate.id == estimate_id)
    if row is None:
        raise JobError(
            "That estimate is not in the records any more: open the ticket again.", "estimate"
        )
    return _as_given(row)


def refuse_unsaid(say: SayEntry) -> None:
    """Raise ``JobError`` at the field if who said it, how, or the phone can't be kept as typed."""
    for read in (_phone, _who, _how):
        read(say)


def approve(shift: Shift, ticket_id: int, say: SayEntry) -> TicketView:
    """Record a yes, from whom, how, and up to how much. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        rows = rows_of(ticket)
        _refuse_unless_askable(ticket, rows)
        _decline_lines(change, rows, say.declined_line_ids)
        reckon(change, ticket)
        rows = rows_of(ticket)
        _refuse_if_empty(rows)
        amount = _amount(change, rows, say)
        change.add(_approval(change, rows, say, yes=True, amount=amount))
        return ticket_view(ticket, change.shop, change.today)


def decline(shift: Shift, ticket_id: int, say: SayEntry) -> TicketView:
    """Record a no: all that was offered is declined; the fee agreed at intake is owed.

    The owner may also take the machine home before it was looked at: then nothing is owed.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        rows = rows_of(ticket)
        _refuse_unless_askable(ticket, rows, DECLINABLE)
        done = [line for line in rows.live_lines if line.done_at is not None]
        if done:
            raise JobError(
                f"“{done[0].description}” is done already: take its tick off first, "
                "or record a yes for what was done.",
                "lines",
            )
        offered = totals_of(rows, change.shop).total
        offers = tuple(
            line.id
            for line in rows.live_lines
            if not is_diagnosis_fee(line) and line.reckoned != SUPPLIES
        )
        _decline_lines(change, rows, offers)
        _charge_diagnosis(change, rows)
        reckon(change, ticket)
        change.add(_approval(change, rows, say, yes=False, amount=offered))
        return ticket_view(ticket, change.shop, change.today)


def drop_approval(shift: Shift, approval_id: int, why: str) -> TicketView:
    """Take back a yes or no that was written down wrongly; the journal keeps it and the reason.

    With the last no taken back, what it declined is on offer again and its fee goes.
    """
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        row = Approval.get_or_none(Approval.id == approval_id)
        if row is None:
            raise JobError(
                "That answer is not in the records any more: open the ticket again.", "approval"
            )
        ticket = row.ticket
        rows = rows_of(ticket)
        _refuse_unless_askable(ticket, rows, DECLINABLE)
        if not row.yes and rows.approvals[-1].id == row.id:
            put_back_on_offer(change, (line for line in rows.lines if line.decision == DECLINED))
            reckon(change, ticket)
        change.remove(row, reason)
        return ticket_view(ticket, change.shop, change.today)


def _refuse_unless_askable(
    ticket: Ticket, rows: TicketRows, stages: tuple[Stage, ...] = ASKABLE
) -> None:
    if ticket.stage == Stage.CLOSED:
        raise JobError("This ticket is closed: reopen it to ask the owner anything.", "stage")
    if ticket.stage not in stages:
        raise JobError(
            f"A ticket in {ticket.stage} has nothing to ask the owner yet: "
            "look at the machine first.",
            "stage",
        )
    if rows.standing_invoice is not None:
        raise JobError(
            f"Invoice {rows.standing_invoice.number} stands: write a credit note for it first.",
            "stage",
        )


def _refuse_if_empty(rows: TicketRows) -> None:
    if not rows.live_lines:
        raise JobError(
            "There is nothing to say yes to: add the parts and labour that the repair needs, "
            "or record a no.",
            "lines",
        )


def _decline_lines(change: Change, rows: TicketRows, ids: tuple[int, ...]) -> None:
    for line in rows.live_lines:
        if line.id in ids:
            refuse_if_done(line)
            decline_line(change, line)


def _charge_diagnosis(change: Change, rows: TicketRows) -> None:
    fee = agreed_fee(rows.ticket, change.shop)
    if not fee or not fee_is_owed(rows) or any(map(is_diagnosis_fee, rows.live_lines)):
        return
    change.add(
        Line(
            ticket=rows.ticket,
            position=next_position(rows.ticket),
            kind=LineKind.FEE,
            description=AGREED_FEE,
            quantity=Decimal(1),
            unit_price=fee,
            reason=Reason.DIAGNOSIS,
        )
    )


def _amount(change: Change, rows: TicketRows, say: SayEntry) -> Decimal:
    total = totals_of(rows, change.shop).total
    refuse_below_zero(total)
    amount = typed.optional_money(say.amount, "amount")
    if amount is None:
        return total
    if amount == 0 and total > 0:
        raise JobError(
            f"A yes to 0.00 is no yes to {show_money(total, change.shop.currency)}: "
            "type how far they said.",
            "amount",
        )
    return amount


def _approval(
    change: Change, rows: TicketRows, say: SayEntry, *, yes: bool, amount: Decimal
) -> Approval:
    moment = said_at(change, say.said)
    _refuse_if_answered_since(change, rows, moment)
    given = [estimate for estimate in rows.estimates if estimate.made_at <= moment]
    estimate = given[-1] if given else None
    return Approval(
        ticket=rows.ticket,
        estimate=estimate,
        yes=yes,
        option=_option(change, rows, say) or (_itemised(estimate) if yes and estimate else ""),
        amount=amount,
        who=_who(say),
        how=_how(say),
        phone=_phone(say),
        note=typed.line(say.note, "note", "The note"),
        noted_by=change.who,
        said_at=moment,
    )


def _refuse_if_answered_since(change: Change, rows: TicketRows, moment: datetime) -> None:
    """Refuse a word that was not the last: it would stand after one that was said later."""
    last = rows.approvals[-1] if rows.approvals else None
    if last is not None and last.said_at > moment:
        answer, when = "yes" if last.yes else "no", show_moment(last.said_at, change.shop.zone)
        raise JobError(
            f"A {answer} of {when} is recorded, said after that: take it back first, "
            "or type when they said this.",
            "said",
        )


def _who(say: SayEntry) -> str:
    return typed.line(say.who, "who", "Who said it", needed=True)


def _how(say: SayEntry) -> str:
    return typed.choice(say.how, "how", WAYS, "How they said it", needed=True)


def _itemised(estimate: Estimate) -> str:
    """Return the way out whose lines stand on an estimate: a yes to it is a yes to that."""
    ways_out = _as_given(estimate).ways_out
    return ways_out.itemised if ways_out else ""


def _as_given(estimate: Estimate) -> EstimateContent:
    return msgspec.json.decode(estimate.content, type=EstimateContent)


def _option(change: Change, rows: TicketRows, say: SayEntry) -> str:
    if not say.option.strip():
        return ""
    ways = ways_named(rows, change.shop, change.today)
    return typed.choice(say.option, "option", ways, "The way out they chose")


def _phone(say: SayEntry) -> str:
    phone = typed.line(say.phone, "phone", "The phone number")
    if phone:
        refuse_unless_phone(phone, phone, "phone")
    return phone

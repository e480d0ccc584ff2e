"""Opens a ticket whole, as one plain value that the window shows and the papers draw from."""

from datetime import date

import msgspec

from shopdesk.bench.checks import Verdict
from shopdesk.dates import local_day
from shopdesk.errors import JobError
from shopdesk.job import views
from shopdesk.job.customers import customer_view
from shopdesk.job.labour.views import spell_views
from shopdesk.job.paper_content import UpkeepRow
from shopdesk.job.reasons import NEEDS_FINDING, NO_FINDING, WORDS, Reason
from shopdesk.job.reference import cause_title
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage, ways_back, ways_on, whose_move
from shopdesk.job.standing import (
    LEFT_OUT,
    TicketRows,
    credited_whole,
    diagnosis_fee_with_tax,
    fee_is_owed,
    find_ticket,
    is_taxed,
    net_of,
    rows_of,
    standing_of,
    totals_of,
)
from shopdesk.job.teardown_views import reassembly_views, teardown_views
from shopdesk.job.units import unit_view
from shopdesk.pricing.totals import ZERO, LineKind
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Approval, Finding, Invoice, Line, Photo, Reminder, Ticket

MOST_NUMBER = 999_999_999


def open_ticket(shift: Shift, ticket_id: int) -> views.TicketView:
    """Return the ticket whole; raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        shop = load_shop()
        return ticket_view(find_ticket(ticket_id), shop, shift.today_in(shop))


def ticket_numbered(shift: Shift, number: int) -> views.TicketView:
    """Return the ticket of that number; raises ``JobError`` if there is none."""
    with shift.records.reading():
        row = Ticket.get_or_none(Ticket.number == number) if number <= MOST_NUMBER else None
    if row is None:
        raise JobError(f"There is no ticket {number}: check the number on the tag.", "ticket")
    return open_ticket(shift, row.id)


def tag_of(number: int) -> str:
    """Return the ticket number as it stands on the tag and in its barcode."""
    return f"T{number}"


def ticket_view(
    ticket: Ticket, shop: Shop, today: date, rows: TicketRows | None = None
) -> views.TicketView:
    """Return the ticket whole, inside a transaction; ``rows`` are its rows, if known as they are.

    Else they are read.
    """
    return _whole(ticket, rows or rows_of(ticket), shop, today)


def _whole(ticket: Ticket, rows: TicketRows, shop: Shop, today: date) -> views.TicketView:
    standing = standing_of(rows, shop)
    photos = _photos(ticket)
    return views.TicketView(
        id=ticket.id,
        version=ticket.version,
        number=ticket.number,
        tag=tag_of(ticket.number),
        stage=Stage(ticket.stage),
        outcome=ticket.outcome,
        move=whose_move(standing),
        owner=customer_view(ticket.customer),
        unit=unit_view(ticket.unit),
        complaint=ticket.complaint,
        complaint_kind=ticket.complaint_kind,
        onset=ticket.onset,
        fuel=ticket.fuel,
        accessories=ticket.accessories,
        condition=ticket.condition,
        notes=ticket.notes,
        promised_on=ticket.promised_on,
        days_late=days_late(ticket, today),
        limit=ticket.limit_amount,
        old_parts_back=ticket.old_parts_back,
        confirmed=ticket.confirmed,
        confirmed_note=ticket.confirmed_note,
        cause=ticket.cause,
        cause_title=cause_title(ticket.cause, ticket.cause_words),
        cause_words=ticket.cause_words,
        proof_reason=ticket.proof_reason,
        balance_reason=ticket.balance_reason,
        told_ready_at=ticket.told_ready_at,
        taken_in_at=ticket.taken_in_at,
        taken_in_on=local_day(ticket.taken_in_at, shop.zone),
        closed_at=ticket.closed_at,
        comeback_of=ticket.comeback_of.number if ticket.comeback_of_id else None,
        findings=tuple(_finding_view(finding) for finding in rows.findings),
        lines=tuple(_line_view(line, rows, shop) for line in rows.lines),
        totals=totals_of(rows, shop),
        approved=rows.approved,
        may_charge=standing.may_charge,
        if_declined=diagnosis_fee_with_tax(shop, ticket) if fee_is_owed(rows) else ZERO,
        declined=rows.declined,
        estimates=tuple(
            views.EstimateView(row.id, row.number, row.total, row.made_at) for row in rows.estimates
        ),
        approvals=tuple(_approval_view(word, rows) for word in rows.approvals),
        invoices=tuple(_invoice_view(bill, rows) for bill in rows.invoices),
        payments=tuple(
            views.PaymentView(row.id, row.amount, row.method, row.note, row.taken_at)
            for row in rows.payments
        ),
        paid=rows.paid,
        balance=rows.balance,
        reminders=_reminders(ticket),
        photos=photos,
        teardown=teardown_views(rows.steps, photos),
        reassembly=reassembly_views(rows.steps, rows.findings, ticket.unit),
        ways_on=ways_on(standing),
        ways_back=ways_back(standing),
        written_off=rows.written_off,
        write_offs=tuple(
            views.WriteOffView(row.id, row.amount, row.why, row.written_by, row.written_at)
            for row in rows.write_offs
        ),
        spells=spell_views(ticket.id),
    )


def days_late(ticket: Ticket, today: date) -> int:
    """Return how many days the promise is past, 0 when it is not or the machine is ready."""
    ready = ticket.stage in (Stage.PICKUP, Stage.CLOSED)
    if ready or ticket.promised_on is None:
        return 0
    return max(0, (today - ticket.promised_on).days)


def in_short(finding: Finding) -> str:
    """Return the finding as an owner reads it: what it showed, and what it should be."""
    off_limits = Verdict(finding.verdict).is_off and finding.limit_words
    should_be = f" (should be: {finding.limit_words})" if off_limits else ""
    return f"{finding.title}: {finding.shown}{should_be}"


def evidence_for(line: Line, findings: dict[int, Finding]) -> str:
    """Return in words the finding that bears the line out, or that none does where one should."""
    finding = findings.get(line.finding_id or 0)
    if finding is not None and line.reason in NEEDS_FINDING and finding.verdict == Verdict.PASS:
        return f"{in_short(finding)}, which was good"
    if finding is not None:
        return in_short(finding)
    return NO_FINDING if line.reason in NEEDS_FINDING and line.kind == LineKind.PART else ""


def _finding_view(row: Finding) -> views.FindingView:
    return views.FindingView(
        id=row.id,
        phase=row.phase,
        check_key=row.check_key,
        title=row.title,
        system=row.system,
        typed=row.typed,
        shown=row.shown,
        verdict=row.verdict,
        limit=row.limit_words,
        correction=row.correction,
        source=row.source,
        rules_out=row.rules_out,
        points_to=row.points_to,
        says=row.says,
        note=row.note,
        found_by=row.found_by,
        found_at=row.found_at,
    )


def _line_view(row: Line, rows: TicketRows, shop: Shop) -> views.LineView:
    kind = LineKind(row.kind)
    return views.LineView(
        id=row.id,
        kind=kind,
        description=row.description,
        part_number=row.part_number,
        condition=row.condition,
        quantity=row.quantity,
        unit_price=row.unit_price,
        cost=row.cost,
        net=net_of(row),
        taxed=is_taxed(kind, shop, rows.ticket),
        reason=row.reason,
        reason_words=WORDS[Reason(row.reason)],
        reason_note=row.reason_note,
        finding_id=row.finding_id,
        evidence=evidence_for(row, {finding.id: finding for finding in rows.findings}),
        renews=row.renews,
        supply=row.supply,
        expected_on=row.expected_on,
        declined=bool(row.decision),
        done=row.done_at is not None,
        part_id=row.part_id,
        rate=row.rate,
        percent=row.percent,
        value=row.value,
        off=row.off or ZERO,
        reckoned=row.reckoned,
        left_out_because=row.reason_note if row.decision == LEFT_OUT else "",
    )


def _approval_view(row: Approval, rows: TicketRows) -> views.ApprovalView:
    numbers = {estimate.id: estimate.number for estimate in rows.estimates}
    return views.ApprovalView(
        id=row.id,
        yes=row.yes,
        amount=row.amount,
        who=row.who,
        how=row.how,
        phone=row.phone,
        note=row.note,
        noted_by=row.noted_by,
        said_at=row.said_at,
        estimate_number=numbers.get(row.estimate_id or 0, ""),
        option=row.option,
    )


def _invoice_view(row: Invoice, rows: TicketRows) -> views.InvoiceView:
    numbers = {bill.id: bill.number for bill in rows.invoices}
    notes = [bill.total for bill in rows.invoices if bill.credits_id == row.id]
    return views.InvoiceView(
        id=row.id,
        number=row.number,
        credits=numbers.get(row.credits_id or 0, ""),
        credited=credited_whole(row, rows.invoices),
        total=row.total,
        issued_at=row.issued_at,
        credited_amount=ZERO - sum(notes, ZERO),
    )


def _reminders(ticket: Ticket) -> tuple[views.ReminderView, ...]:
    rows = rows_by(Reminder, "ticket_id", ticket.id, "due_on")
    return tuple(reminder_view(row) for row in rows)


def reminder_view(row: Reminder) -> views.ReminderView:
    """Return the row as a plain value."""
    titles = tuple(task.title for task in reminder_rows(row))
    return views.ReminderView(row.id, row.due_on, titles, row.state)


def reminder_rows(row: Reminder) -> tuple[UpkeepRow, ...]:
    """Return what a reminder said when it was made."""
    return msgspec.json.decode(row.tasks, type=tuple[UpkeepRow, ...])


def _photos(ticket: Ticket) -> tuple[views.PhotoView, ...]:
    rows = rows_by(Photo, "ticket_id", ticket.id)
    return tuple(
        views.PhotoView(row.id, row.file, row.caption, row.finding_id, row.step_id) for row in rows
    )

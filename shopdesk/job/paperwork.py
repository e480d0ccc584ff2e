"""Gathers what each paper says from the records, as plain values for the papers to draw."""

from dataclasses import replace
from datetime import date, timedelta

from shopdesk.bench.checks import Verdict
from shopdesk.dates import local_day, show_moment
from shopdesk.job import paper_content as paper
from shopdesk.job.opened import evidence_for, in_short, tag_of
from shopdesk.job.options.columns import ways_out_beside
from shopdesk.job.reasons import WORDS, Reason
from shopdesk.job.reckoned import CREDITED_WORDS, is_credited
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.standing import (
    TicketRows,
    diagnosis_fee_with_tax,
    find_ticket,
    is_taxed,
    net_of,
    priced,
    tax_rule,
    totals_of,
)
from shopdesk.job.units import unit_view
from shopdesk.pricing.allowance import most_allowed
from shopdesk.pricing.before_tax import before_tax
from shopdesk.pricing.totals import ZERO
from shopdesk.records.tables import Approval, Customer, Line, Payment, Phone, Unit


def tag_content(shift: Shift, ticket_id: int) -> paper.TagContent:
    """Return the claim tag of a ticket."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        return paper.TagContent(
            shop=letterhead(shop),
            ticket=tag_of(ticket.number),
            owner=addressee(ticket.customer),
            machine=machine(ticket.unit),
            complaint=ticket.complaint,
            onset=ticket.onset,
            accessories=ticket.accessories,
            condition=ticket.condition,
            taken_in=local_day(ticket.taken_in_at, shop.zone),
            promised=ticket.promised_on,
            limit=ticket.limit_amount,
            diagnosis_fee=diagnosis_fee_with_tax(shop, ticket),
            old_parts_back=ticket.old_parts_back,
            storage_per_day=shop.storage_per_day,
            storage_after_days=shop.storage_after_days,
        )


def estimate_content(
    rows: TicketRows, shop: Shop, number: str, today: date, ready_by: date | None
) -> paper.EstimateContent:
    """Return an estimate of the ticket's lines as they stand, inside a transaction.

    ``ready_by`` is the day that was typed, if one was.
    """
    ticket = rows.ticket
    totals = totals_of(rows, shop)
    ready, ways_out = _ready_day(ways_out_beside(rows, shop, today), ready_by, ticket.promised_on)
    return paper.EstimateContent(
        shop=letterhead(shop),
        number=number,
        ticket=tag_of(ticket.number),
        on=today,
        owner=addressee(ticket.customer),
        machine=machine(ticket.unit),
        complaint=ticket.complaint,
        found=tuple(in_short(row) for row in rows.findings if Verdict(row.verdict).is_off),
        rows=charge_rows(rows, shop),
        totals=totals,
        most_allowed=most_allowed(totals.total, shop.excess),
        if_declined=diagnosis_fee_with_tax(shop, ticket),
        valid_until=today + timedelta(days=shop.estimate_days),
        ready_by=ready,
        old_parts_back=ticket.old_parts_back,
        ways_out=ways_out,
        tax_exempt_number=ticket.customer.tax_exempt_number,
        storage_per_day=shop.storage_per_day,
        storage_after_days=shop.storage_after_days,
    )


def _ready_day(
    ways_out: paper.WaysOut | None, typed: date | None, promised: date | None
) -> tuple[date | None, paper.WaysOut | None]:
    """Return the one day that an estimate names, and the ways out with that day at the lines' own.

    A day that was typed goes before the one worked out for the way whose lines they are, and that
    before the day promised at intake.
    """
    columns = ways_out.columns if ways_out else ()
    worked_out = next((way.ready for way in columns if way.itemised and way.ready), None)
    day = typed or worked_out or promised
    if ways_out is None or worked_out is None:
        return day, ways_out
    said = tuple(replace(way, ready=day) if way.itemised else way for way in columns)
    return day, replace(ways_out, columns=said)


def invoice_content(rows: TicketRows, shop: Shop, number: str, today: date) -> paper.InvoiceContent:
    """Return the invoice of the ticket's lines as they stand, inside a transaction."""
    ticket = rows.ticket
    return paper.InvoiceContent(
        shop=letterhead(shop),
        number=number,
        credits="",
        ticket=tag_of(ticket.number),
        on=today,
        owner=addressee(ticket.customer),
        machine=machine(ticket.unit),
        complaint=ticket.complaint,
        returned_as_is=rows.declined,
        rows=charge_rows(rows, shop),
        totals=totals_of(rows, shop),
        approvals=tuple(_approval_row(word, shop) for word in rows.approvals),
        approved=rows.approved,
        payments=tuple(_payment_row(payment, rows, shop) for payment in rows.payments),
        warranty_days=0 if rows.declined else shop.warranty_days,
        old_parts_back=ticket.old_parts_back,
        tax_exempt_number=ticket.customer.tax_exempt_number,
        reason="",
        currency_code=shop.currency_code,
        country=shop.country,
        e_invoice=shop.e_invoice,
        part_warranty_days=None if rows.declined else shop.part_warranty_days,
        storage_per_day=shop.storage_per_day,
        storage_after_days=shop.storage_after_days,
    )


def letterhead(shop: Shop) -> paper.Letterhead:
    """Return the shop as a paper names it."""
    return paper.Letterhead(
        name=shop.name,
        address=_address_lines(shop.address),
        phone=shop.phone,
        email=shop.email,
        tax_number=shop.tax_number,
        currency=shop.currency,
        paper=shop.paper,
    )


def addressee(customer: Customer) -> paper.Addressee:
    """Return the owner as a paper names them, inside a transaction."""
    phones = Phone.select().where(Phone.customer == customer.id).order_by(Phone.position)
    numbers = tuple(" ".join(filter(None, (phone.label, phone.number))) for phone in phones)
    return paper.Addressee(customer.name, _address_lines(customer.address), numbers, customer.email)


def machine(unit: Unit) -> paper.MachineOnPaper:
    """Return the machine as a paper names it, inside a transaction."""
    view = unit_view(unit)
    return paper.MachineOnPaper(view.title, view.serial, view.engine)


def charge_rows(rows: TicketRows, shop: Shop) -> tuple[paper.ChargeRow, ...]:
    """Return the lines that are charged, each with its why, inside a transaction."""
    findings = {finding.id: finding for finding in rows.findings}
    lines = [priced(line, shop, rows.ticket) for line in rows.live_lines]
    nets = before_tax(lines, tax_rule(shop))
    return tuple(
        paper.ChargeRow(
            kind=line.kind,
            description=line.description,
            part_number=line.part_number,
            condition=line.condition,
            quantity=line.quantity,
            unit_price=line.unit_price,
            net=net_of(line),
            taxed=is_taxed(one.kind, shop, rows.ticket),
            why=why_words(line),
            evidence=evidence_for(line, findings),
            cost=line.cost,
            value=line.value,
            off=line.off or ZERO,
            percent=line.percent,
            rate=line.rate,
            rates=tuple(sorted(one.rates)),
            before_tax=net,
            warranty_days=line.part.warranty_days if line.part else None,
        )
        for line, one, net in zip(rows.live_lines, lines, nets, strict=True)
    )


def why_words(line: Line) -> str:
    """Return the line's reason in words, with its note, and that it is credited."""
    credited = CREDITED_WORDS if is_credited(line) else ""
    return "; ".join(filter(None, (WORDS[Reason(line.reason)], line.reason_note, credited)))


def _approval_row(word: Approval, shop: Shop) -> paper.ApprovalRow:
    how = " ".join(filter(None, (word.how, word.phone)))
    return paper.ApprovalRow(
        word.who, how, show_moment(word.said_at, shop.zone), word.amount, word.yes, word.option
    )


def _payment_row(payment: Payment, rows: TicketRows, shop: Shop) -> paper.PaymentRow:
    first_bill = min((bill.issued_at for bill in rows.invoices), default=None)
    deposit = payment.amount > 0 and (first_bill is None or payment.taken_at < first_bill)
    return paper.PaymentRow(
        local_day(payment.taken_at, shop.zone), payment.method, payment.amount, deposit
    )


def _address_lines(address: str) -> tuple[str, ...]:
    return tuple(line for line in address.splitlines() if line)

"""What was issued and what was paid in a span of days: what the reports add up.

Invoices and credit notes count on the day printed on them, by what they said when they were issued.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

import msgspec

from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.reports.asking import tuples
from shopdesk.job.reports.period import Period
from shopdesk.records.tables import Customer, Invoice, Payment, Ticket, WriteOff

_SLACK = timedelta(days=2)
"""More than zones are apart: the shop may have changed its own since."""


@dataclass(frozen=True, slots=True)
class Bill:
    """An invoice or credit note, and what it said."""

    id: int
    ticket_id: int
    said: InvoiceContent

    @property
    def is_credit(self) -> bool:
        """Whether it takes an invoice back, or a part of one."""
        return bool(self.said.credits)


@dataclass(frozen=True, slots=True)
class Money:
    """Money taken (positive) or given back (negative), or a debt given up; ``what`` says which."""

    ticket_id: int
    ticket: int
    owner: str
    amount: Decimal
    what: str
    by: str
    at: datetime


def bills_in(period: Period) -> Iterator[Bill]:
    """Give what was issued on those days, in the order of issue, inside a transaction."""
    begin, end = period.moments("UTC")
    rows = (
        Invoice.select(Invoice.id, Invoice.ticket, Invoice.content)
        .where((Invoice.issued_at >= begin - _SLACK) & (Invoice.issued_at < end + _SLACK))
        .order_by(Invoice.id)
    )
    for row_id, ticket_id, content in tuples(rows):
        said = msgspec.json.decode(content, type=InvoiceContent)
        if said.on in period:
            yield Bill(row_id, ticket_id, said)


def payments_in(period: Period, zone: str) -> list[Money]:
    """Return the money taken and given back on those days, inside a transaction."""
    begin, end = period.moments(zone)
    rows = (
        Payment.select(*_WHOSE, Payment.amount, Payment.method, Payment.taken_by, Payment.taken_at)
        .join(Ticket)
        .join(Customer)
        .where((Payment.taken_at >= begin) & (Payment.taken_at < end))
        .order_by(Payment.taken_at, Payment.id)
    )
    return [Money(*row) for row in tuples(rows)]


def write_offs_in(period: Period, zone: str) -> list[Money]:
    """Return the debts given up on those days, inside a transaction; no money moved with them."""
    begin, end = period.moments(zone)
    rows = (
        WriteOff.select(
            *_WHOSE, WriteOff.amount, WriteOff.why, WriteOff.written_by, WriteOff.written_at
        )
        .join(Ticket)
        .join(Customer)
        .where((WriteOff.written_at >= begin) & (WriteOff.written_at < end))
        .order_by(WriteOff.written_at, WriteOff.id)
    )
    return [Money(*row) for row in tuples(rows)]


_WHOSE = (Ticket.id, Ticket.number, Customer.name)

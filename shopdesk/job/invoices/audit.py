"""Adds every issued invoice and credit note up again, and holds its row against what it said."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import msgspec

from shopdesk.job.invoices.chain import as_issued
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.row_words import value_words
from shopdesk.job.shop import Shop
from shopdesk.pricing.totals import ZERO
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Invoice


@dataclass(frozen=True, slots=True)
class Bill:
    """An invoice or credit note as the database keeps it, whatever stands there."""

    id: int
    number: str
    credits_id: int | None
    sums: tuple[Any, ...]
    """Net, tax and total in cents."""
    said: InvoiceContent | None
    """What was printed, if it can still be read."""

    @property
    def name(self) -> str:
        """What people call it."""
        return f"{'credit note' if self.credits_id else 'invoice'} {self.number}"


def read_bills() -> dict[int, Bill]:
    """Return all invoices and credit notes by id, inside a transaction."""
    query = 'SELECT id, number, credits_id, net, tax, total, content FROM "invoice" ORDER BY id'
    return {
        row_id: Bill(row_id, str(number), credits_id, tuple(sums), _said(content))
        for row_id, number, credits_id, *sums, content in answers(query)
    }


def bill_faults(bills: Mapping[int, Bill], shop: Shop) -> Iterator[str]:
    """Say what does not add up, or is kept otherwise than it was printed."""
    for bill in bills.values():
        if bill.said is None:
            yield f"what {bill.name} said can't be read any more"
        else:
            yield from _row_faults(bill, bill.said, shop)
            if not adds_up(bill.said):
                yield f"the lines of {bill.name} do not add up to its total"
    notes: defaultdict[int | None, list[Bill]] = defaultdict(list)
    for bill in bills.values():
        notes[bill.credits_id].append(bill)
    for bill in bills.values():
        yield from _credit_faults(bill, notes.get(bill.id, []))


def _said(content: Any) -> InvoiceContent | None:
    try:
        return as_issued(Invoice(content=content))
    except (msgspec.MsgspecError, TypeError):
        return None


def _row_faults(bill: Bill, said: InvoiceContent, shop: Shop) -> Iterator[str]:
    totals = said.totals
    if said.number != bill.number:
        yield f"{bill.name} was printed as {said.number}"
    if bill.sums != tuple(each.scaleb(2) for each in (totals.net, totals.tax, totals.total)):
        kept = value_words("invoice", "total", bill.sums[-1], shop)
        yield f"{bill.name} is kept as {kept} but was printed as {totals.total:,.2f}"


def adds_up(said: InvoiceContent) -> bool:
    """Whether lines, kinds, taxes and payments come to the sums that were printed."""
    totals = said.totals
    nets = [row.net_before_tax for row in said.rows]
    written = [row.net for row in said.rows]
    kinds = (totals.parts, totals.labour, totals.fees, totals.sublet, totals.discount)
    paid = ZERO if said.credits else sum((each.amount for each in said.payments), ZERO)
    return (
        sum(nets, ZERO) == sum(kinds, ZERO) == totals.net
        and sum((row.tax for row in totals.taxes), ZERO) == totals.tax
        and totals.net + totals.tax == totals.total
        and totals.total - totals.paid == totals.due
        and totals.paid == paid
        and (totals.included or nets == written)
    )


def _credit_faults(bill: Bill, notes: list[Bill]) -> Iterator[str]:
    """Say when credit notes take back more than the invoice came to, or not all they said."""
    said = [note.said for note in notes if note.said]
    if bill.said is None or not said:
        return
    taken = -sum((note.totals.total for note in said), ZERO)
    whole = any(note.credits_how != "part" for note in said)
    if taken > bill.said.totals.total or (whole and taken != bill.said.totals.total):
        names = " and ".join(note.name for note in notes)
        verb = "takes" if len(notes) == 1 else "take"
        yield f"{names} {verb} back {taken:,.2f}, which is not what the invoice came to"

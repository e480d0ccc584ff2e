"""Proves the books: invoices against what was printed, the numbers, the journal, the photos."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Any

import msgspec

from shopdesk.errors import JobError
from shopdesk.job.journal_audit import journal_faults
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.pickup import as_issued
from shopdesk.job.row_words import value_words
from shopdesk.job.shift import FIRST_NUMBERS, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.pricing.totals import negated
from shopdesk.records.examine import Examination
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Invoice, JournalEntry, Photo

ZERO = Decimal("0.00")
NOT_PROVED = (
    "that nobody changed a row and its journal entries alike: only a copy kept elsewhere shows it",
)


@dataclass(frozen=True, slots=True)
class _Bill:
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
        return f"{'credit note' if self.credits_id else 'invoice'} {self.number}"


def audit(shift: Shift) -> Examination:
    """Go through all invoices, numbers and photos, and hold every row against the journal."""
    with shift.records.reading():
        shop = _shop()
        bills = {bill.id: bill for bill in _bills()}
        entries = JournalEntry.select().count()
        photos = list(Photo.select().order_by(Photo.id))
        faults = [
            *(fault for bill in bills.values() for fault in _bill_faults(bill, bills, shop)),
            *_number_faults(bills.values()),
            *journal_faults(shop),
            *(fault for photo in photos for fault in _photo_faults(shift, photo)),
        ]
    credits = sum(bill.credits_id is not None for bill in bills.values())
    proved = (
        f"{_count(len(bills) - credits, 'invoice')} and {_count(credits, 'credit note')} "
        "add up to what was printed",
        "numbers of tickets, invoices and credit notes run from the first to the last given out, "
        "with no gap and no double",
        f"every row is as the journal's {entries:,} entries tell, payments among them",
        f"{_count(len(photos), 'photo')} found beside the records as taken",
    )
    return Examination(proved, tuple(faults), NOT_PROVED)


def _shop() -> Shop:
    """Return the shop, or a nameless one where none is set up or its row is harmed."""
    try:
        return load_shop()
    except (JobError, msgspec.MsgspecError):
        return Shop("")


def _bills() -> Iterator[_Bill]:
    query = 'SELECT id, number, credits_id, net, tax, total, content FROM "invoice" ORDER BY id'
    for row_id, number, credits_id, *sums, content in answers(query):
        yield _Bill(row_id, str(number), credits_id, tuple(sums), _said(content))


def _said(content: Any) -> InvoiceContent | None:
    try:
        return as_issued(Invoice(content=content))
    except (msgspec.MsgspecError, TypeError):
        return None


def _bill_faults(bill: _Bill, bills: Mapping[int, _Bill], shop: Shop) -> Iterator[str]:
    said = bill.said
    if said is None:
        yield f"what {bill.name} said can't be read any more"
        return
    totals = said.totals
    if said.number != bill.number:
        yield f"{bill.name} was printed as {said.number}"
    if bill.sums != tuple(each.scaleb(2) for each in (totals.net, totals.tax, totals.total)):
        kept = value_words("invoice", "total", bill.sums[-1], shop)
        yield f"{bill.name} is kept as {kept} but was printed as {totals.total:,.2f}"
    if (
        sum((row.net for row in said.rows), ZERO) != totals.net
        or totals.net + totals.tax != totals.total
    ):
        yield f"the lines of {bill.name} do not add up to its total"
    taken_back = bills.get(bill.credits_id or 0)
    if taken_back and taken_back.said and negated(taken_back.said.totals).total != totals.total:
        yield f"{bill.name} takes back {-totals.total:,.2f}, which is not what the invoice came to"


def _number_faults(bills: Iterable[_Bill]) -> Iterator[str]:
    given: dict[str, list[str]] = {series: [] for series in FIRST_NUMBERS}
    given["ticket"] = [str(number) for (number,) in answers('SELECT number FROM "ticket"')]
    for bill in bills:
        series = "credit note" if bill.credits_id else "invoice"
        given[series].append(bill.number.removeprefix("C" if bill.credits_id else ""))
    counts = dict(answers('SELECT name, last FROM "counter"'))
    for series, first in FIRST_NUMBERS.items():
        yield from _series_faults(series, given[series], first, counts.get(series, first - 1))


def _series_faults(series: str, given: Iterable[str], first: int, last: int) -> Iterator[str]:
    """Say where numbers are left out, up to the last given out, and what was never given out."""
    known = {int(number) for number in given if number.isdecimal()}
    within = sorted(number for number in known if first <= number <= last)
    for earlier, later in pairwise([first - 1, *within, last + 1]):
        if later - earlier == 2:
            yield f"{series} {earlier + 1} is missing"
        elif later - earlier > 2:
            yield f"{series} {earlier + 1} to {later - 1} are missing"
    if known and max(known) > last:
        yield f"{series} {max(known)} is kept, but the last number given out was {last}"


def _photo_faults(shift: Shift, photo: Photo) -> Iterator[str]:
    file = shift.records.photo_folder / photo.file
    if not file.is_file():
        yield f"the photo {file} is missing"
    elif hashlib.sha256(file.read_bytes()).hexdigest() != photo.sha256:
        yield f"the photo {file} is not the one that was taken"


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"

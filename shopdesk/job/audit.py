"""Proves the books: each invoice against what was printed, the numbers, the photos."""

import hashlib
from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import groupby, pairwise

from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.pickup import as_issued
from shopdesk.job.shift import Shift
from shopdesk.pricing.totals import negated
from shopdesk.records.examine import Examination
from shopdesk.records.tables import Invoice, Photo

ZERO = Decimal("0.00")


def audit(shift: Shift) -> Examination:
    """Go through all invoices, credit notes and photos of the shop."""
    with shift.records.reading():
        invoices = list(Invoice.select().order_by(Invoice.id))
        photos = list(Photo.select().order_by(Photo.id))
    issued = {bill.id: as_issued(bill) for bill in invoices}
    faults = [
        *(fault for bill in invoices for fault in _invoice_faults(bill, issued)),
        *_number_faults(bill.number for bill in invoices),
        *(fault for photo in photos for fault in _photo_faults(shift, photo)),
    ]
    bills = sum(bill.credits_id is None for bill in invoices)
    proved = (
        f"{_count(bills, 'invoice')} and {_count(len(invoices) - bills, 'credit note')} "
        "add up to what was printed",
        "their numbers have no gap and no double",
        f"{_count(len(photos), 'photo')} lie beside the records as they were taken",
    )
    return Examination(proved, tuple(faults))


def _invoice_faults(bill: Invoice, issued: dict[int, InvoiceContent]) -> Iterator[str]:
    said = issued[bill.id]
    totals = said.totals
    name = f"{'credit note' if bill.credits_id else 'invoice'} {bill.number}"
    if said.number != bill.number:
        yield f"{name} was printed as {said.number}"
    kept = (bill.net, bill.tax, bill.total)
    if kept != (totals.net, totals.tax, totals.total):
        yield f"{name} is kept as {bill.total:,.2f} but was printed as {totals.total:,.2f}"
    if (
        sum((row.net for row in said.rows), ZERO) != totals.net
        or totals.net + totals.tax != totals.total
    ):
        yield f"the lines of {name} do not add up to its total"
    if bill.credits_id and negated(issued[bill.credits_id].totals).total != totals.total:
        yield f"{name} takes back {-totals.total:,.2f}, which is not what the invoice came to"


def _number_faults(numbers: Iterable[str]) -> Iterator[str]:
    """Say where a series (the letters before the digits) leaves a number out or gives it twice."""
    split = sorted((number.rstrip("0123456789"), number) for number in numbers)
    for series, group in groupby(split, key=lambda pair: pair[0]):
        given = sorted(int(number.removeprefix(series)) for _, number in group)
        for earlier, later in pairwise(given):
            if later - earlier != 1:
                yield f"after number {series}{earlier} comes {series}{later}"


def _photo_faults(shift: Shift, photo: Photo) -> Iterator[str]:
    file = shift.records.photo_folder / photo.file
    if not file.is_file():
        yield f"the photo {file} is missing"
    elif hashlib.sha256(file.read_bytes()).hexdigest() != photo.sha256:
        yield f"the photo {file} is not the one that was taken"


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"

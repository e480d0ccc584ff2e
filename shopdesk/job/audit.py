"""Proves the books: invoices against what was printed, the numbers, the journal, the photos."""

import hashlib
from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import pairwise

import msgspec

from shopdesk.errors import JobError
from shopdesk.job.invoices.audit import Bill, bill_faults, read_bills
from shopdesk.job.invoices.chain import chain_faults, last_seal
from shopdesk.job.invoices.prints import print_faults
from shopdesk.job.journal_audit import journal_faults
from shopdesk.job.parts.stock_audit import stock_faults, stock_proved
from shopdesk.job.shift import FIRST_NUMBERS, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.records.examine import Examination
from shopdesk.records.fetch import answers
from shopdesk.records.never_changed import Guard
from shopdesk.records.tables import InvoicePrint, JournalEntry, Photo

ZERO = Decimal("0.00")
NOT_PROVED = (
    "that nobody changed a row and its journal entries alike: only a copy kept elsewhere shows it",
    "that nobody changed who, when or why an entry of the journal says: nothing else tells it",
    "that what was issued was guarded all along: only a guard found gone at this opening is told",
)

_GUARDED = {
    "invoice": "issued invoices",
    "invoice_print": "the list of printed invoices",
    "stored_file": "the printed files",
}
_DEEDS = {"UPDATE": "changed", "DELETE": "deleted"}


def audit(shift: Shift) -> Examination:
    """Go through all invoices, numbers and photos, and hold every row against the journal."""
    with shift.records.reading():
        shop = _shop()
        bills = read_bills()
        printed = InvoicePrint.select().count()
        entries = JournalEntry.select().count()
        stock, sealed = stock_proved(), last_seal()
        photos = list(Photo.select().order_by(Photo.id))
        faults = [
            *bill_faults(bills, shop),
            *_number_faults(bills.values()),
            *chain_faults(),
            *print_faults(),
            *stock_faults(),
            *journal_faults(shop),
            *(fault for photo in photos for fault in _photo_faults(shift, photo)),
            *_guard_faults(shift.records.unguarded),
        ]
    credits = sum(bill.credits_id is not None for bill in bills.values())
    proved = (
        f"{_count(len(bills) - credits, 'invoice')} and {_count(credits, 'credit note')} "
        "add up to what was printed",
        f"{_count(len(bills) - credits, 'invoice')} and {_count(credits, 'credit note')} "
        f"stand in one unbroken chain, none of them changed{_to(sealed)}",
        f"{_count(printed, 'printed invoice')} kept to the byte as first printed",
        "numbers of tickets, invoices, credit notes and orders run from the first to the last "
        "given out, with no gap and no double",
        f"every row is as the journal's {entries:,} entries tell, payments among them",
        stock,
        f"{_count(len(photos), 'photo')} found beside the records as taken",
    )
    return Examination(proved, tuple(faults), (*_not_printed(len(bills) - printed), *NOT_PROVED))


def _to(sealed: str) -> str:
    return f", up to {sealed}" if sealed else ""


def _not_printed(number: int) -> tuple[str, ...]:
    """Say that some invoices have no kept print; their words are kept all the same."""
    if not number:
        return ()
    return (f"how invoices looked on paper: {number} of them were never printed",)


def _shop() -> Shop:
    """Return the shop, or a nameless one where none is set up or its row is harmed."""
    try:
        return load_shop()
    except (JobError, msgspec.MsgspecError):
        return Shop("")


def _number_faults(bills: Iterable[Bill]) -> Iterator[str]:
    given: dict[str, list[str]] = {series: [] for series in FIRST_NUMBERS}
    given["ticket"] = [str(number) for (number,) in answers('SELECT number FROM "ticket"')]
    given["order"] = [
        str(number).removeprefix("P") for (number,) in answers('SELECT number FROM "part_order"')
    ]
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


def _guard_faults(gone: Iterable[Guard]) -> Iterator[str]:
    """Say which guards somebody had taken away before the records were opened."""
    for guard in gone:
        what, done = _GUARDED[guard.table], _DEEDS[guard.deed]
        yield f"the guard that keeps {what} from being {done} was taken away"


def _photo_faults(shift: Shift, photo: Photo) -> Iterator[str]:
    file = shift.records.photo_folder / photo.file
    if not file.is_file():
        yield f"the photo {file} is missing"
    elif hashlib.sha256(file.read_bytes()).hexdigest() != photo.sha256:
        yield f"the photo {file} is not the one that was taken"


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"

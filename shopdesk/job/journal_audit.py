"""Holds every row of the shop against the journal, which tells how each came to be."""

from collections.abc import Iterator
from itertools import islice

from shopdesk.job.change_words import COLUMNS
from shopdesk.job.row_words import row_words, value_words
from shopdesk.job.shop import Shop
from shopdesk.records.examine import MOST_NAMED
from shopdesk.records.replay import JOURNALLED, Difference, differences, missing_entries


def journal_faults(shop: Shop) -> Iterator[str]:
    """Say what is kept otherwise than the journal tells, inside a transaction.

    The first few rows are named, the rest are counted.
    """
    missing = missing_entries()
    if missing:
        yield f"the journal lacks {missing:,} of its entries"
    all_found = (
        (table._meta.table_name, found) for table in JOURNALLED for found in differences(table)
    )
    for table, found in islice(all_found, MOST_NAMED):
        yield _fault(table, found, shop)
    more = sum(1 for _ in all_found)
    if more:
        yield f"{more:,} more rows are not as the journal tells"


def _fault(table: str, found: Difference, shop: Shop) -> str:
    row = row_words(table, found.row_id, found.told or found.kept or {}, shop)
    if found.told is None:
        return f"the journal does not tell of {row}"
    if found.kept is None:
        return f"{row} is gone, and the journal does not tell who took it away"
    told = "; ".join(_column(table, column, found, shop) for column in found.columns)
    return f"{row} is not as the journal tells: {told}"


def _column(table: str, column: str, found: Difference, shop: Shop) -> str:
    what = COLUMNS.get(table, {}).get(column, column.replace("_", " "))
    kept, told = (
        value_words(table, column, values[column], shop) or "nothing"
        for values in (found.kept or {}, found.told or {})
    )
    return what if max(len(kept), len(told)) > 60 else f"{what} is {kept}, and was {told}"

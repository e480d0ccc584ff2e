"""Chains the invoices and credit notes in the order of issue: whoever changes the past breaks it.

Each row's hash is SHA-256 over all that the row says and over the hash of the one issued before.
"""

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.shift import Change
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Invoice, Ticket

_SAID = "number, ticket_id, credits_id, net, tax, total, content, issued_at, issued_by"
"""What is sealed, as the database keeps it; the same since the first chain, or none would hold."""


@dataclass(frozen=True, slots=True)
class _Link:
    """An invoice or credit note as kept, whatever stands there."""

    name: str
    said: tuple[Any, ...]
    previous: str
    hash: str


def keep_invoice(
    change: Change, ticket: Ticket, content: InvoiceContent, credits: Invoice | None
) -> Invoice:
    """Insert an invoice or credit note, chained to the one issued before. It never changes."""
    totals = content.totals
    row = Invoice(
        number=content.number,
        ticket=ticket,
        credits=credits,
        net=totals.net,
        tax=totals.tax,
        total=totals.total,
        content=msgspec.json.encode(content).decode(),
        issued_at=change.at,
        issued_by=change.who,
        previous_hash=_last_hash(),
    )
    row.hash = seal(_as_kept(row), row.previous_hash)
    change.add(row)
    return row


def as_issued(row: Invoice) -> InvoiceContent:
    """Return the content kept with an invoice or credit note."""
    return msgspec.json.decode(row.content, type=InvoiceContent)


def seal(said: Sequence[Any], previous: str) -> str:
    """Return the hash over what a row says, as the database keeps it, and the one before."""
    text = json.dumps([*said, previous], separators=(",", ":"), default=repr)
    return hashlib.sha256(text.encode()).hexdigest()


def chain_faults() -> Iterator[str]:
    """Say which invoice was changed, is missing or stands out of order, inside a transaction."""
    links = list(_links())
    by_hash = {link.hash: link for link in links}
    before: _Link | None = None
    for link in links:
        if seal(link.said, link.previous) != link.hash:
            yield f"{link.name} was changed after it was issued"
        if link.previous != (before.hash if before else ""):
            yield _break(link, before, by_hash.get(link.previous))
        before = link


def last_seal() -> str:
    """Return the last one issued and the beginning of its hash, inside a transaction.

    Written down elsewhere it proves, later, all that was issued until now.
    """
    query = 'SELECT number, credits_id, hash FROM "invoice" ORDER BY id DESC LIMIT 1'
    for number, credits_id, own in answers(query):
        return f"{_name(number, credits_id)} with the seal {str(own)[:16]}"
    return ""


def _break(link: _Link, stands_after: _Link | None, issued_after: _Link | None) -> str:
    """Say how a link does not follow on the one before it."""
    stands = f"stands after {stands_after.name}" if stands_after else "stands first"
    if issued_after is not None:
        return f"{link.name} is out of order: it was issued after {issued_after.name}, and {stands}"
    if not link.previous:
        return f"{link.name} is out of order: it was issued first, and {stands}"
    return (
        f"the chain of invoices breaks before {link.name}, which {stands}: "
        "what was issued in between is missing, or the one before was changed"
    )


def _links() -> Iterator[_Link]:
    query = f'SELECT {_SAID}, previous_hash, hash FROM "invoice" ORDER BY id'
    for *said, previous, own in answers(query):
        yield _Link(_name(said[0], said[2]), tuple(said), str(previous), str(own))


def _name(number: Any, credits_id: Any) -> str:
    return f"{'invoice' if credits_id is None else 'credit note'} {number}"


def _last_hash() -> str:
    last = answers('SELECT hash FROM "invoice" ORDER BY id DESC LIMIT 1')
    return str(last[0][0]) if last else ""


def _as_kept(row: Invoice) -> list[Any]:
    columns = {field.column_name: field for field in Invoice._meta.sorted_fields}
    values = (
        columns[name].db_value(row.__data__[columns[name].name]) for name in _SAID.split(", ")
    )
    return [str(value) if hasattr(value, "isoformat") else value for value in values]

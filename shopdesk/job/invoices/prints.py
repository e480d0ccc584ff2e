"""What was printed of an invoice, kept to the byte: every further print of it is those bytes."""

import hashlib
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.errors import JobError
from shopdesk.job.shift import Shift
from shopdesk.records.fetch import answers, rows_by
from shopdesk.records.tables import Invoice, InvoicePrint, StoredFile


@dataclass(frozen=True, slots=True)
class KeptPrint:
    """A printed invoice; ``missing`` are the characters that stand on it as codes."""

    pdf: bytes
    pages: int
    missing: tuple[str, ...]


def kept_print(shift: Shift, invoice_id: int) -> KeptPrint | None:
    """Return what was printed of an invoice or credit note, ``None`` if it never was.

    Raises ``JobError`` when the file kept is not the one that was printed.
    """
    with shift.records.reading():
        return _kept(invoice_id)


def keep_print(
    shift: Shift, invoice_id: int, pdf: bytes, pages: int, missing: tuple[str, ...] = ()
) -> KeptPrint:
    """Keep the first print of an invoice and return it; where one is kept already, that one."""
    with shift.changing() as change:
        kept = _kept(invoice_id)
        if kept is not None:
            return kept
        if not rows_by(Invoice, "id", invoice_id):
            raise JobError("That invoice is not in the records: open the ticket again.", "invoice")
        sha256 = hashlib.sha256(pdf).hexdigest()
        if not answers('SELECT 1 FROM "stored_file" WHERE sha256 = ?', sha256):
            StoredFile.create(sha256=sha256, content=zlib.compress(pdf, 9))
        change.add(
            InvoicePrint(
                invoice=invoice_id,
                sha256=sha256,
                pages=pages,
                missing="".join(missing),
                made_at=change.at,
            )
        )
        return KeptPrint(pdf, pages, missing)


def unprinted(shift: Shift, most: int = 25) -> tuple[int, ...]:
    """Return the ids of invoices that were issued and never printed, the newest first."""
    with shift.records.reading():
        found = answers(
            'SELECT id FROM "invoice" WHERE id NOT IN (SELECT invoice_id FROM "invoice_print") '
            "ORDER BY id DESC LIMIT ?",
            most,
        )
    return tuple(row_id for (row_id,) in found)


def print_faults() -> Iterator[str]:
    """Say which printed files are missing or not as they were printed, inside a transaction.

    The files are read one at a time: together they may be large.
    """
    query = """SELECT i.number, i.credits_id, p.sha256 FROM "invoice_print" p
        JOIN "invoice" i ON i.id = p.invoice_id ORDER BY p.id"""
    for number, credits_id, sha256 in answers(query):
        name = f"{'credit note' if credits_id else 'invoice'} {number}"
        stored = _stored(sha256)
        if stored is None:
            yield f"the printed file of {name} is missing"
        elif _unpacked(stored, sha256) is None:
            yield f"the printed file of {name} is not the one that was printed"


def _kept(invoice_id: int) -> KeptPrint | None:
    found = next(iter(rows_by(InvoicePrint, "invoice_id", invoice_id)), None)
    if found is None:
        return None
    stored = _stored(found.sha256)
    pdf = _unpacked(stored, found.sha256) if stored else None
    if pdf is None:
        raise JobError(
            "What was printed of that invoice is not as it was kept: "
            "run the check, and restore the newest good backup.",
            "invoice",
        )
    return KeptPrint(pdf, found.pages, tuple(found.missing))


def _stored(sha256: str) -> bytes | None:
    """Return the compressed file of that sum, nothing of it if it is not kept as bytes any more."""
    query = """SELECT CASE WHEN typeof(content) = 'blob' THEN content ELSE x'' END
        FROM "stored_file" WHERE sha256 = ?"""
    return next((bytes(content) for (content,) in answers(query, sha256)), None)


def _unpacked(content: bytes, sha256: str) -> bytes | None:
    """Return the file, or ``None`` if it is not the one of that sum, to the last byte kept."""
    unpacking = zlib.decompressobj()
    try:
        pdf = unpacking.decompress(content)
    except zlib.error:
        return None
    if not unpacking.eof or unpacking.unused_data:
        return None
    return pdf if hashlib.sha256(pdf).hexdigest() == sha256 else None

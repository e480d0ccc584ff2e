"""What was printed of an invoice is kept to the byte."""

import sqlite3
from contextlib import closing

import pytest

from shopdesk.errors import JobError
from shopdesk.job.audit import audit
from shopdesk.job.invoices.prints import KeptPrint, keep_print, kept_print, unprinted
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.records.tables import StoredFile
from tests.job.workshop import at_stage, refused

PDF = b"%PDF-1.4 " + bytes(range(256)) * 20


def issued(shift: Shift) -> int:
    return issue_invoice(shift, at_stage(shift, Stage.PICKUP).id).invoices[-1].id


def test_the_first_print_is_kept_and_no_later_one(shift: Shift) -> None:
    bill = issued(shift)
    assert kept_print(shift, bill) is None
    first = keep_print(shift, bill, PDF, 2, ("🪚", "🔥"))
    assert first == KeptPrint(PDF, 2, ("🪚", "🔥"))
    assert keep_print(shift, bill, b"%PDF drawn anew", 1) == first
    assert kept_print(shift, bill) == first
    assert audit(shift).faults == ()


def test_equal_files_are_kept_once(shift: Shift) -> None:
    first = issued(shift)
    with shift.records.reading():
        ticket = 1
    note = credit_invoice(shift, ticket, "wrong").invoices[-1].id
    keep_print(shift, first, PDF, 1)
    keep_print(shift, note, PDF, 1)
    with shift.records.reading():
        assert StoredFile.select().count() == 1
        assert len(StoredFile.get().content) < len(PDF)


def test_what_was_never_printed_is_known_the_newest_first(shift: Shift) -> None:
    first = issued(shift)
    note = credit_invoice(shift, 1, "wrong").invoices[-1].id
    second = issue_invoice(shift, 1).invoices[-1].id
    assert unprinted(shift) == (second, note, first)
    assert unprinted(shift, 1) == (second,)
    keep_print(shift, note, PDF, 1)
    assert unprinted(shift) == (second, first)
    assert any("2 of them were never printed" in words for words in audit(shift).not_proved)


def test_a_print_of_no_invoice_is_refused(shift: Shift) -> None:
    issued(shift)
    with refused(shift, "invoice", "not in the records"):
        keep_print(shift, 77, PDF, 1)


@pytest.mark.parametrize(
    ("harm", "words"),
    [
        ("UPDATE stored_file SET content = x'00'", "is not the one that was printed"),
        ("UPDATE stored_file SET content = 'words'", "is not the one that was printed"),
        ("UPDATE stored_file SET content = 7", "is not the one that was printed"),
        (
            "UPDATE stored_file SET content = CAST(content || x'00' AS BLOB)",
            "the printed file of invoice 5001 is not the one that was printed",
        ),
        ("DELETE FROM stored_file", "the printed file of invoice 5001 is missing"),
    ],
)
def test_a_harmed_print_is_found_and_never_printed_again(
    shift: Shift, harm: str, words: str
) -> None:
    bill = issued(shift)
    keep_print(shift, bill, PDF, 1)
    with closing(sqlite3.connect(shift.records.file)) as raw, raw:
        raw.execute("DROP TRIGGER stored_file_no_update")
        raw.execute("DROP TRIGGER stored_file_no_delete")
        raw.execute(harm)
    assert any(words in fault for fault in audit(shift).faults)
    with refused(shift, "invoice", "not as it was kept", "restore the newest good backup"):
        kept_print(shift, bill)
    with refused(shift, "invoice", "not as it was kept"):
        keep_print(shift, bill, PDF, 1)


def test_a_print_turned_to_text_is_found_without_its_bytes_being_told(shift: Shift) -> None:
    bill = issued(shift)
    keep_print(shift, bill, PDF, 1)
    with closing(sqlite3.connect(shift.records.file)) as raw, raw:
        raw.execute("DROP TRIGGER stored_file_no_update")
        raw.execute("UPDATE stored_file SET content = CAST(content AS TEXT)")
    assert audit(shift).faults == (
        "the printed file of invoice 5001 is not the one that was printed",
    )
    with pytest.raises(JobError, match="not as it was kept"):
        kept_print(shift, bill)

"""Invoices never change, and whoever gets past that is found by the chain."""

import sqlite3
from collections.abc import Callable
from contextlib import closing

import pytest
from peewee import SqliteDatabase
from playhouse.migrations import Runner

from shopdesk.errors import RecordsError
from shopdesk.job.audit import audit
from shopdesk.job.invoices.chain import chain_faults, seal
from shopdesk.job.invoices.prints import keep_print
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.records.never_changed import ISSUED
from shopdesk.records.store import HISTORY_TABLE, MIGRATIONS, known_migrations, open_records
from shopdesk.records.tables import Invoice, InvoicePrint, StoredFile, database
from tests.job.workshop import at_stage


@pytest.fixture
def books(shift: Shift) -> Shift:
    """Invoice 5001, credit note C1, invoices 5002 with its print, C2 and 5003."""
    ticket = at_stage(shift, Stage.PICKUP)
    issue_invoice(shift, ticket.id)
    credit_invoice(shift, ticket.id, "wrong price")
    bill = issue_invoice(shift, ticket.id).invoices[-1]
    keep_print(shift, bill.id, b"%PDF the second", 1)
    credit_invoice(shift, ticket.id, "wrong again")
    issue_invoice(shift, ticket.id)
    return shift


def forge(shift: Shift, *statements: str) -> None:
    """Change the file behind the program's back, its guards taken away as a forger would."""
    with closing(sqlite3.connect(shift.records.file)) as raw, raw:
        for table in ISSUED:
            for deed in ("update", "delete"):
                raw.execute(f"DROP TRIGGER {table}_no_{deed}")
        raw.create_function("seal", -1, lambda *said: seal(said[:-1], said[-1]))
        for statement in statements:
            assert raw.execute(statement).rowcount > 0


SAID = "number, ticket_id, credits_id, net, tax, total, content, issued_at, issued_by"
RESEAL = f"UPDATE invoice SET hash = seal({SAID}, previous_hash)"


def faults(shift: Shift) -> str:
    return "; ".join(audit(shift).faults)


def test_an_untouched_chain_is_proved(books: Shift) -> None:
    found = audit(books)
    assert found.faults == ()
    with books.records.reading():
        seal_of_last = Invoice.get(Invoice.number == "5003").hash[:16]
    assert (
        "3 invoices and 2 credit notes stand in one unbroken chain, none of them changed, "
        f"up to invoice 5003 with the seal {seal_of_last}"
    ) in found.proved


def test_each_row_is_chained_to_the_one_issued_before(books: Shift) -> None:
    with books.records.reading():
        rows = list(Invoice.select().order_by(Invoice.id))
    assert [row.number for row in rows] == ["5001", "C1", "5002", "C2", "5003"]
    assert rows[0].previous_hash == ""
    assert [row.previous_hash for row in rows[1:]] == [row.hash for row in rows[:-1]]
    assert len({row.hash for row in rows}) == 5
    assert all(len(row.hash) == 64 for row in rows)


@pytest.mark.parametrize(
    ("forged", "words"),
    [
        (
            "UPDATE invoice SET content = replace(content, 'Sam', 'Tim') || ' ' WHERE id = 3",
            "invoice 5002 was changed after it was issued",
        ),
        (
            "UPDATE invoice SET total = total - 100, net = net - 100 WHERE id = 5",
            "invoice 5003 was changed after it was issued",
        ),
        (
            "UPDATE invoice SET issued_at = '2031-01-01 10:00:00' WHERE id = 1",
            "invoice 5001 was changed after it was issued",
        ),
        (
            "UPDATE invoice SET issued_by = 'Nobody' WHERE id = 2",
            "credit note C1 was changed after it was issued",
        ),
        (
            "UPDATE invoice SET credits_id = NULL WHERE id = 4",
            "invoice C2 was changed after it was issued",
        ),
        (
            "DELETE FROM invoice WHERE id = 1",
            "the chain of invoices breaks before credit note C1, which stands first",
        ),
        (
            "DELETE FROM invoice WHERE id = 4",
            "the chain of invoices breaks before invoice 5003, which stands after invoice 5002",
        ),
        ("DELETE FROM invoice WHERE id = 5", "invoice 5003 is missing"),
        ("UPDATE invoice SET hash = 'x' WHERE id = 5", "invoice 5003 was changed"),
        (
            "UPDATE invoice SET previous_hash = '' WHERE id = 3",
            "invoice 5002 is out of order: it was issued first, and stands after credit note C1",
        ),
    ],
)
def test_a_changed_past_is_found(books: Shift, forged: str, words: str) -> None:
    forge(books, forged)
    assert words in faults(books)


def test_the_last_credit_note_taken_away_is_found(books: Shift) -> None:
    forge(books, "DELETE FROM invoice WHERE id >= 4")
    found = faults(books)
    assert "invoice 5003 is missing" in found
    assert "credit note 2 is missing" in found


def test_a_row_that_was_sealed_anew_is_found_by_the_next(books: Shift) -> None:
    forge(
        books,
        "UPDATE invoice SET total = total - 100, net = net - 100 WHERE id = 3",
        f"{RESEAL} WHERE id = 3",
    )
    found = faults(books)
    assert "invoice 5002 was changed" not in found
    assert (
        "the chain of invoices breaks before credit note C2, which stands after invoice 5002"
        in (found)
    )


def test_two_that_changed_places_are_found(books: Shift) -> None:
    forge(
        books,
        "DELETE FROM invoice_print",
        "UPDATE invoice SET credits_id = NULL WHERE credits_id IS NOT NULL",
        "UPDATE invoice SET id = 99 WHERE id = 3",
        "UPDATE invoice SET id = 3 WHERE id = 5",
        "UPDATE invoice SET id = 5 WHERE id = 99",
    )
    found = faults(books)
    assert "invoice 5003 is out of order: it was issued after invoice C2" in found
    assert "invoice 5002 is out of order: it was issued after invoice C1" in found


def test_one_whose_words_were_given_to_another_is_found(books: Shift) -> None:
    forge(
        books,
        "UPDATE invoice SET content = (SELECT content FROM invoice WHERE id = 3) WHERE id = 5",
    )
    assert "invoice 5003 was changed after it was issued" in faults(books)


@pytest.mark.parametrize(
    "change",
    [
        lambda: Invoice.update(total=0).execute(),
        lambda: database.execute_sql("DELETE FROM invoice WHERE id = 5"),
        lambda: Invoice.get(Invoice.number == "5003").delete_instance(),
        lambda: Invoice.get(Invoice.number == "5003").save(),
        lambda: InvoicePrint.update(sha256="x").execute(),
        lambda: InvoicePrint.get().delete_instance(),
        lambda: StoredFile.update(content=b"x").execute(),
        lambda: StoredFile.get().delete_instance(),
    ],
)
def test_the_records_refuse_to_change_what_was_issued(
    books: Shift, change: Callable[[], object]
) -> None:
    with (
        pytest.raises(RecordsError, match="never changes: put it right with a credit note"),
        books.records.writing(),
    ):
        change()
    assert audit(books).faults == ()


def test_invoices_from_before_the_chain_are_chained_by_the_upgrade(books: Shift) -> None:
    """The file goes back to what the version before it kept, and is opened anew."""
    file, now = books.records.file, books.now()
    books.records.close()
    engine = SqliteDatabase(str(file))
    runner = Runner(engine, str(MIGRATIONS), table_name=HISTORY_TABLE)
    for migration in reversed(known_migrations()[5:]):
        runner.down(migration)
    (columns,) = zip(
        *(row[1:2] for row in engine.execute_sql("PRAGMA table_info(invoice)")), strict=True
    )
    assert "hash" not in columns
    engine.close()
    opened = open_records(file, now)
    with opened.reading():
        assert list(chain_faults()) == []
        rows = list(Invoice.select().order_by(Invoice.id))
    assert [row.previous_hash for row in rows[1:]] == [row.hash for row in rows[:-1]]
    issue_after = credit_invoice(Shift(opened, "Sam", books.now), 1, "wrong").invoices[-1]
    assert issue_after.number == "C3"
    with opened.reading():
        assert list(chain_faults()) == []
    opened.close()

"""The books: what `check` proves, and that each kind of harm is found."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import msgspec
import pytest
from PIL import Image

from shopdesk.job.audit import NOT_PROVED, audit
from shopdesk.job.invoices.chain import as_issued
from shopdesk.job.opened import open_ticket
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.payments import drop_payment, take_payment
from shopdesk.job.photos import add_photo
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.records.never_changed import lift
from shopdesk.records.store import open_records
from shopdesk.records.tables import Invoice
from tests.job.workshop import Clock, at_stage

CENT = Decimal("0.01")


@pytest.fixture
def books(shift: Shift, tmp_path: Path) -> Shift:
    """A shop with invoice 5001 taken back by C1, invoice 5002, two payments and a photo."""
    ticket = at_stage(shift, Stage.PICKUP)
    Image.new("RGB", (9, 9)).save(tmp_path / "a.png")
    add_photo(shift, ticket.id, tmp_path / "a.png", "the ring")
    issue_invoice(shift, ticket.id)
    credit_invoice(shift, ticket.id, "wrong price")
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "20", "cash")
    take_payment(shift, ticket.id, "25", "card")
    return shift


def harm(shift: Shift, *statements: str) -> None:
    """Change the file behind the program's back."""
    with closing(sqlite3.connect(shift.records.file)) as raw, raw:
        for (trigger,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'"):
            raw.execute(f"DROP TRIGGER {trigger}")
        for statement in statements:
            assert raw.execute(statement).rowcount > 0


def reissued(shift: Shift, number: str, change: Callable[[InvoiceContent], InvoiceContent]) -> None:
    """Change what an invoice said, and its sums with it, behind the program's back."""
    with shift.records.writing():
        lift(shift.records.engine)
        row = Invoice.get(Invoice.number == number)
        said = change(as_issued(row))
        row.content = msgspec.json.encode(said).decode()
        row.net, row.tax, row.total = said.totals.net, said.totals.tax, said.totals.total
        row.save()


def test_sound_books_say_what_was_proved_and_what_not(books: Shift) -> None:
    found = audit(books)
    assert found.faults == ()
    assert found.proved[0] == "2 invoices and 1 credit note add up to what was printed"
    assert found.proved[-1] == "1 photo found beside the records as taken"
    assert any("payments among them" in words for words in found.proved)
    assert "0 printed invoices kept to the byte as first printed" in found.proved
    assert found.not_proved == (
        "how invoices looked on paper: 3 of them were never printed",
        *NOT_PROVED,
    )


def test_records_without_a_shop_are_sound(tmp_path: Path) -> None:
    shift = Shift(open_records(tmp_path / "new.db", Clock()()), "Sam", Clock())
    assert audit(shift).faults == ()
    shift.records.close()


@pytest.mark.parametrize(
    ("harmed", "faults"),
    [
        (
            ("DELETE FROM invoice WHERE number = '5002'",),
            ("invoice 5002 is missing", "invoice 5002 is gone, and the journal does not tell"),
        ),
        (
            ("DELETE FROM invoice WHERE number = 'C1'", "DELETE FROM invoice WHERE id = 1"),
            ("invoice 5001 is missing", "credit note 1 is missing"),
        ),
        (("UPDATE counter SET last = 5004 WHERE name = 'invoice'",), ("5003 to 5004 are missing",)),
        (
            ("UPDATE counter SET last = 5001 WHERE name = 'invoice'",),
            ("invoice 5002 is kept, but the last number given out was 5001",),
        ),
        (
            ("DELETE FROM counter WHERE name = 'ticket'",),
            ("ticket 1001 is kept, but the last number given out was 1000",),
        ),
        (
            ("UPDATE invoice SET number = '5009' WHERE number = '5002'",),
            ("invoice 5009 was printed as 5002", "invoice 5002 is missing"),
        ),
        (
            ("UPDATE invoice SET total = total + 1 WHERE number = '5002'",),
            ("invoice 5002 is kept as $84.68 but was printed as 84.67",),
        ),
        (
            ("UPDATE invoice SET total = 'much' WHERE number = '5002'",),
            ("invoice 5002 is kept as much but was printed as 84.67",),
        ),
        (
            ("UPDATE invoice SET content = '{' WHERE number = '5002'",),
            ("what invoice 5002 said can't be read any more",),
        ),
        (
            ("UPDATE payment SET amount = 2600 WHERE amount = 2500",),
            ("payment of $25.00 is not as the journal tells: amount is $26.00, and was $25.00",),
        ),
        (
            ("UPDATE payment SET method = 'cash' WHERE amount = 2500",),
            ("payment of $25.00 is not as the journal tells: how is cash, and was card",),
        ),
        (
            ("DELETE FROM payment WHERE amount = 2500",),
            ("payment of $25.00 is gone, and the journal does not tell who took it away",),
        ),
        (
            (
                "INSERT INTO payment (version, ticket_id, amount, method, note, taken_by, taken_at)"
                " VALUES (1, 1, 500, 'cash', '', '', '2031-04-07 15:00:00')",
            ),
            ("the journal does not tell of payment of $5.00",),
        ),
        (
            ("UPDATE finding SET verdict = 'fail' WHERE id = 1",),
            ("finding “Compression” is not as the journal tells: verdict is fail, and was pass",),
        ),
        (
            ("DELETE FROM journal_entry",),
            ("the journal does not tell of setting 1", "more rows are not as the journal tells"),
        ),
        (
            ("DELETE FROM journal_entry WHERE id IN (3, 4)",),
            ("the journal lacks 2 of its entries",),
        ),
        (
            ("UPDATE journal_entry SET after = '[' WHERE \"table\" = 'payment'",),
            ("the journal does not tell of payment of $20.00",),
        ),
        (
            ("UPDATE setting SET content = '{'",),
            ("setting 1 is not as the journal tells: content",),
        ),
        (("UPDATE photo SET sha256 = 'x'",), ("is not the one that was taken",)),
        (("UPDATE photo SET file = 'gone.jpg'",), ("gone.jpg is missing",)),
    ],
)
def test_each_harm_is_found(books: Shift, harmed: tuple[str, ...], faults: tuple[str, ...]) -> None:
    harm(books, *harmed)
    found = "; ".join(audit(books).faults)
    for fault in faults:
        assert fault in found


def test_guards_taken_away_are_told_though_opening_puts_them_back(books: Shift) -> None:
    books.records.close()
    with closing(sqlite3.connect(books.records.file)) as raw, raw:
        raw.execute("DROP TRIGGER invoice_no_update")
        raw.execute("DROP TRIGGER stored_file_no_delete")
    again = replace(books, records=open_records(books.records.file, Clock()()))
    assert audit(again).faults == (
        "the guard that keeps issued invoices from being changed was taken away",
        "the guard that keeps the printed files from being deleted was taken away",
    )
    again.records.close()


def test_what_an_entry_says_of_itself_is_not_proved(books: Shift) -> None:
    harm(books, "UPDATE journal_entry SET who = 'nobody', why = 'no reason'")
    found = audit(books)
    assert found.faults == ()
    assert any("who, when or why an entry of the journal says" in one for one in found.not_proved)


def test_lines_that_do_not_add_up_are_found(books: Shift) -> None:
    def change(said: InvoiceContent) -> InvoiceContent:
        first, *rest = said.rows
        return replace(said, rows=(replace(first, net=first.net + CENT), *rest))

    reissued(books, "5002", change)
    assert "the lines of invoice 5002 do not add up to its total" in audit(books).faults


def test_a_tax_that_does_not_add_up_is_found(books: Shift) -> None:
    def change(said: InvoiceContent) -> InvoiceContent:
        return replace(said, totals=replace(said.totals, tax=said.totals.tax + CENT))

    reissued(books, "5002", change)
    assert "the lines of invoice 5002 do not add up to its total" in audit(books).faults


def test_a_credit_note_that_takes_back_another_sum_is_found(books: Shift) -> None:
    def change(said: InvoiceContent) -> InvoiceContent:
        first, *rest = said.rows
        first = replace(first, net=first.net - CENT, before_tax=first.net - CENT)
        sums = {
            name: getattr(said.totals, name) - CENT for name in ("parts", "net", "total", "due")
        }
        return replace(said, rows=(first, *rest), totals=replace(said.totals, **sums))

    reissued(books, "C1", change)
    faults = audit(books).faults
    assert "credit note C1 takes back 84.68, which is not what the invoice came to" in faults
    assert not any("add up" in fault or "kept as" in fault for fault in faults)


def test_money_taken_out_by_a_person_is_sound(books: Shift) -> None:
    with books.records.reading():
        ticket = open_ticket(books, Invoice.get(Invoice.number == "5002").ticket_id)
    drop_payment(books, ticket.payments[-1].id, "typed twice")
    assert audit(books).faults == ()

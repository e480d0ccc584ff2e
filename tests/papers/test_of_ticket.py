from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import facturx
import pytest

from shopdesk.job.causes import say_cause
from shopdesk.job.invoices.prints import keep_print, unprinted
from shopdesk.job.opened import open_ticket
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import StepEntry, note_step, tick_step
from shopdesk.job.views import TicketView
from shopdesk.papers.of_ticket import (
    invoice_print,
    keep_unprinted,
    papers_of,
    save_papers,
    words_of,
)
from shopdesk.papers.printed import Printed
from tests.job.workshop import SHOP, Clock, another, at_stage, open_shop
from tests.papers.reading import text_of
from tests.papers.samples import WORDS
from tests.published.en16931 import off_by_a_cent, troubles


@pytest.fixture
def shift(tmp_path: Path) -> Iterator[Shift]:
    opened = open_shop(tmp_path, Clock())
    yield opened
    opened.records.close()


@pytest.mark.parametrize(
    ("stage", "names"),
    [
        (Stage.INTAKE, ["claim tag"]),
        (Stage.DIAGNOSIS, ["claim tag", "bench sheet", "ways out"]),
        (Stage.PARTS, ["claim tag", "ways out", "estimate 1001-1"]),
        (Stage.REPAIR, ["claim tag", "bench sheet", "estimate 1001-1"]),
        (Stage.PICKUP, ["claim tag", "estimate 1001-1", "work and why"]),
    ],
)
def test_a_ticket_has_the_papers_of_its_stage(shift: Shift, stage: Stage, names: list[str]) -> None:
    ticket = at_stage(shift, stage)
    assert list(papers_of(shift, ticket)) == [f"T1001 {name}" for name in names]


def test_the_bench_sheet_stays_once_the_machine_was_taken_apart(
    shift: Shift, tmp_path: Path
) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    entry = StepEntry("Starter", fasteners="4 M5 x 20 in cup 1", routing="left notch")
    ticket = note_step(shift, ticket.id, entry)
    text = text_of(papers_of(shift, ticket)["T1001 bench sheet"](WORDS))
    assert "4 × M5 x 20 from cup 1 back" in text
    assert "spring flies out" in text
    ticket = tick_step(shift, ticket.teardown[0].id, "4")
    saved = save_papers(shift, open_ticket(shift, ticket.id), tmp_path / "out")
    assert [paper.file.name for paper in saved] == [
        "T1001 claim tag.pdf",
        "T1001 bench sheet.pdf",
        "T1001 ways out.pdf",
    ]
    assert all(paper.file.read_bytes().startswith(b"%PDF") for paper in saved)


def test_the_bench_sheet_says_why_a_limit_is_lower_here(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    moved = "130 psi at sea level, lowered to 107 psi for 1,609 m: a gauge shows"
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    sheet = text_of(papers_of(shift, ticket)["T1001 bench sheet"](WORDS))
    assert f"Good: at least 107 psi {moved}" in sheet


def test_the_summary_names_what_moved_the_limit_and_the_cause(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    ticket = say_cause(shift, at_stage(shift, Stage.PICKUP).id, "stale-fuel", "nine months old")
    text = text_of(papers_of(shift, ticket)["T1001 work and why"](WORDS))
    assert "at least 107 psi [1]" in text
    assert "[1] 130 psi at sea level, lowered to 107 psi for 1,609 m: a gauge shows" in text
    assert "US Standard Atmosphere 1976; common practice, no published source" in text
    assert "What it was stale fuel: nine months old" in text


def billed(shift: Shift) -> TicketView:
    """Return a ticket with invoice 5001, its credit note C1 and invoice 5002."""
    ticket = at_stage(shift, Stage.PICKUP)
    issue_invoice(shift, ticket.id)
    credit_invoice(shift, ticket.id, "wrong price")
    return issue_invoice(shift, ticket.id)


def test_an_invoice_is_printed_again_to_the_byte_whatever_changed_since(
    shift: Shift, tmp_path: Path
) -> None:
    ticket = billed(shift)
    first = {paper.file.name: paper for paper in save_papers(shift, ticket, tmp_path / "one")}
    bytes_then = {name: paper.file.read_bytes() for name, paper in first.items()}
    save_shop(shift, replace(SHOP, name="Another Name", paper="A4", currency="€"))
    own = shift.records.templates_folder
    own.mkdir()
    (own / "invoice.toml").write_text('title = "Bill {number}"\nwarranty_label = "Promise"\n')
    again = save_papers(shift, open_ticket(shift, ticket.id), tmp_path / "two")
    issued = [
        paper for paper in again if "invoice" in paper.file.name or "credit" in paper.file.name
    ]
    assert len(issued) == 3
    for paper in issued:
        assert paper.file.read_bytes() == bytes_then[paper.file.name]
        assert paper.pages == first[paper.file.name].pages
    assert "Another Name" in text_of(papers_of(shift, ticket)["T1001 claim tag"](words_of(shift)))


def test_an_upgraded_program_prints_what_was_printed(shift: Shift) -> None:
    bill = billed(shift).invoices[0]
    keep_print(shift, bill.id, b"%PDF of an earlier version", 3, ("🪚",))
    printed = invoice_print(shift, bill.id, WORDS)
    assert printed == Printed(b"%PDF of an earlier version", 3, ("🪚",))


def test_what_was_issued_and_never_printed_is_kept_at_the_next_chance(
    shift: Shift, tmp_path: Path
) -> None:
    billed(shift)
    assert len(unprinted(shift)) == 3
    other = another(shift, 2)
    save_papers(shift, other, tmp_path / "out")
    assert unprinted(shift) == ()
    assert keep_unprinted(shift, WORDS) == 0


def test_a_shop_that_asks_for_it_has_its_invoices_as_xml_too(shift: Shift) -> None:
    german = replace(
        SHOP, tax_number="DE123456789", currency="€", currency_code="EUR", country="DE"
    )
    save_shop(shift, replace(german, e_invoice=True))
    bill = billed(shift).invoices[0]
    save_shop(shift, german)
    _, xml = facturx.get_xml_from_pdf(invoice_print(shift, bill.id, WORDS).pdf)
    assert troubles(xml) == []
    assert off_by_a_cent(xml) == []

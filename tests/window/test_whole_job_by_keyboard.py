"""A new owner with a new machine from the counter to the door, every paper, by keyboard alone."""

from decimal import Decimal
from pathlib import Path

from pypdf import PdfReader

from shopdesk.job.opened import ticket_numbered
from shopdesk.job.shift import Shift
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver


def test_new_owner_to_printed_invoice_by_keyboard(desk: Driver, shift: Shift) -> None:
    take_in(desk)
    find_the_cause(desk)
    assert last(shift).stage is Stage.DIAGNOSIS
    price_it_and_ask(desk)
    assert last(shift).stage is Stage.REPAIR
    mend_and_prove(desk)
    assert last(shift).stage is Stage.PICKUP
    bill_and_hand_over(desk)

    ticket = last(shift)
    assert (ticket.stage, ticket.outcome, ticket.balance) == (Stage.CLOSED, MENDED, Decimal(0))
    assert [finding.verdict for finding in ticket.findings][:2] == ["pass", "fail"]
    assert len(ticket.reminders) == 1
    names = [paper.name for paper in desk.opened]
    assert names == [
        "T1002 claim tag.pdf",
        "T1002 estimate 1002-1.pdf",
        "T1002 invoice 5001.pdf",
        "T1002 work and why.pdf",
    ]
    invoice = text_of(desk.opened[2])
    for words in ("Oona Verhaal", "Dies when it gets hot.", "Spark plug", "58.52"):
        assert words in invoice


def last(shift: Shift) -> TicketView:
    return ticket_numbered(shift, 1002)


def text_of(paper: Path) -> str:
    return " ".join(page.extract_text() for page in PdfReader(paper).pages)


def take_in(desk: Driver) -> None:
    desk.press("<Control-n>")
    desk.fill("Oona Verhaal", "home 555-0150", "3 Weir Street", "oona@example.com", "", "")
    desk.press("<Tab>", "<Tab>")
    desk.fill("chain", "two", "Oakrill", "OR-40", "OR40-221", "", "2", "", "3", "11", "", "")
    desk.fill("Dies when it gets hot.", "starts cold", "crept", "two weeks old", "bar cover")
    desk.press("<Control-p>")
    assert desk.notice.startswith("The claim tag is in ")
    desk.shot("walk-1-intake")
    desk.press("<Control-Return>")


def find_the_cause(desk: Driver) -> None:
    for check, reading in (("spark", "s"), ("plug gap", ".040")):
        desk.type(check)
        desk.press("<Return>")
        desk.type(reading)
        desk.press("<Return>")
    desk.press("<Alt-w>")
    desk.type("seen")
    desk.press("<Alt-n>")
    desk.shot("walk-2-diagnosis")


def price_it_and_ask(desk: Driver) -> None:
    desk.press("<Alt-Key-3>", "<Alt-a>", "<Tab>")
    desk.fill("Spark plug", "", "6.50", "failed")
    desk.type("plug gap")
    desk.press("<Return>", "<Alt-a>")
    desk.type("labour")
    desk.press("<Tab>")
    desk.type("Fit and set the plug")
    desk.press("<Tab>", "<Control-a>")
    desk.type("45 min")
    desk.press("<Tab>", "<Tab>")
    desk.type("failed")
    desk.press("<Return>")
    desk.press("<Alt-e>")
    desk.press("<Alt-y>")
    desk.type("by phone")
    desk.press("<Return>")
    assert desk.notice == "The yes is recorded."
    desk.shot("walk-3-approval")
    desk.press("<Control-Return>")


def mend_and_prove(desk: Driver) -> None:
    desk.press("<space>", "<Down>", "<space>")
    desk.press("<Alt-s>", "<Alt-k>")
    desk.type("plug gap")
    desk.press("<Return>")
    desk.type(".025")
    desk.press("<Return>")
    desk.press("<Alt-p>", "<Alt-k>")
    desk.type("stop switch")
    desk.press("<Return>")
    desk.type("s")
    desk.press("<Return>")
    desk.shot("walk-4-repair")
    desk.dialogs.answers.append("fouled or worn plug")
    desk.press("<Control-Return>")


def bill_and_hand_over(desk: Driver) -> None:
    desk.type("by phone")
    desk.press("<Return>", "<Alt-i>")
    desk.press("<Alt-w>", "<Alt-r>")
    desk.press("<Alt-a>")
    desk.fill("58.52")
    desk.type("card")
    desk.press("<Return>")
    desk.shot("walk-5-pickup")
    desk.press("<Control-Return>")
    desk.shot("walk-6-closed")

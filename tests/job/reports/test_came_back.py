"""What came back: linked to the earlier visit, counted by cause, part, month and person."""

from dataclasses import replace
from datetime import date

from shopdesk.job.causes import say_cause
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.lines import add_line
from shopdesk.job.moving import go_on
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import hand_over, issue_invoice
from shopdesk.job.reports import came_back
from shopdesk.job.reports.came_back import HandedOver, comebacks
from shopdesk.job.reports.report import Bars
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.reports.books import APRIL, HOUR, MAY, PART, cells, money, ready
from tests.job.workshop import Clock

SPARK = replace(PART, description="Ignition coil", part_number="IC-3")


def _mended(shift: Shift, owner: str = "Mara Quill", cause: str = "") -> TicketView:
    ticket = ready(shift, PART, HOUR, owner=owner)
    if cause:
        say_cause(shift, ticket.id, cause)
    ticket = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, str(ticket.balance), "card")
    return hand_over(shift, ticket.id)


def _again(shift: Shift, ticket: TicketView) -> TicketView:
    entry = TicketEntry("It dies again.", comeback=True)
    return take_in(shift, ticket.owner.id, ticket.unit.id, entry)


def test_in_again(shift: Shift, clock: Clock) -> None:
    first = _mended(shift, cause="gummed-carburettor")
    clock.forward(12)
    again = _again(shift, first)
    go_on(shift, again.id, Stage.DIAGNOSIS)
    add_line(shift, again.id, replace(PART, reason="comeback"))
    add_line(shift, again.id, SPARK)
    (one,) = comebacks(shift, APRIL).back
    assert (one.on, one.ticket, one.earlier, one.days) == (
        *(date(2031, 4, 19), again.tag, first.tag, 12),
    )
    assert (one.parts, one.people) == (("Carburettor kit",), ("Sam",))
    assert one.cause == first.cause_title
    assert comebacks(shift, MAY).back == ()


def test_of_what_was_handed_over(shift: Shift, clock: Clock) -> None:
    first = _mended(shift)
    _mended(shift, "Odd Øye")
    other = replace(shift, who="Ida")
    _mended(other, "Ansel Tarn")
    clock.forward(30)
    _again(shift, first)
    april = comebacks(shift, APRIL)
    assert april.back == ()
    assert april.handed_over == (HandedOver(APRIL, "Ida", 1, 0), HandedOver(APRIL, "Sam", 2, 1))
    assert april.handed_over[1].percent == money("50.0")
    assert len(comebacks(shift, MAY).back) == 1


def test_the_report(shift: Shift, clock: Clock) -> None:
    for owner in ("Mara Quill", "Odd Øye"):
        first = _mended(shift, owner, "gummed-carburettor")
        again = _again(shift, first)
        go_on(shift, again.id, Stage.DIAGNOSIS)
        add_line(shift, again.id, replace(PART, reason="comeback"))
    third = _mended(shift, "Ansel Tarn")
    _again(shift, third)
    report = came_back.report(shift, APRIL)
    title = first.cause_title
    assert cells(report, "By what it was the time before") == [
        (title, 2),
        ("cause not said", 1),
        ("All", 3),
    ]
    assert cells(report, "Parts fitted then and needed again") == [
        ("Carburettor kit", 2),
        ("All", 2),
    ]
    shares = cells(report, "Of the jobs handed over in these days, by month and person")
    assert shares == [("Apr 2031", "Sam", 3, 3, money("100.0"))]
    (bars,) = report.pictures
    assert isinstance(bars, Bars)
    assert [(bar.label, bar.words) for bar in bars.bars] == [
        (title, "2 times"),
        ("cause not said", "once"),
    ]


def test_nothing_came_back(shift: Shift) -> None:
    report = came_back.report(shift, MAY)
    assert report.pictures == ()
    assert all(not table.rows for table in report.tables)

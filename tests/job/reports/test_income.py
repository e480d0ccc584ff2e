"""Income by kind and month, to the cent."""

from dataclasses import replace
from datetime import date

from shopdesk.job.lines import LineEntry
from shopdesk.job.pickup import credit_invoice
from shopdesk.job.reports import income as incomes
from shopdesk.job.reports.income import income
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Bars, Strips
from shopdesk.job.shift import Shift
from tests.job.reports.books import APRIL, FEE, HOUR, MAY, PART, SPRING, cells, money, sold
from tests.job.workshop import Clock

SUBLET = LineEntry("sublet", "Crankshaft straightened", unit_price="90.00", reason="failed")
DISCOUNT = LineEntry("discount", "For the long wait", unit_price="5.00")


def test_by_kind(shift: Shift) -> None:
    sold(shift, replace(PART, quantity="3"), HOUR, FEE, SUBLET, DISCOUNT)
    whole = income(shift, APRIL).whole
    assert whole.by_kind == tuple(
        map(money, ("60.00", "60.00", "35.00", "90.00", "-5.00")),
    )
    assert whole.net == money("240.00")
    assert whole.total - whole.tax == whole.net


def test_a_credit_note_takes_away_in_its_own_month(shift: Shift, clock: Clock) -> None:
    ticket = sold(shift, PART, HOUR)
    clock.forward(30)
    credit_invoice(shift, ticket.id, "charged twice")
    sold(shift, HOUR)
    found = income(shift, SPRING)
    assert [one.net for one in found.by_month] == [money("80.00"), money("-20.00"), 0]
    assert found.whole.net == money("60.00")
    assert [one.period.month_words for one in found.by_month] == [
        "Apr 2031",
        "May 2031",
        "Jun 2031",
    ]


def test_the_report(shift: Shift, clock: Clock) -> None:
    sold(shift, PART, HOUR)
    clock.forward(30)
    sold(shift, HOUR)
    report = incomes.report(shift, SPRING)
    zero = money("0.00")
    assert cells(report, "By month")[0] == (
        *("Apr 2031", money("20.00"), money("60.00"), zero, zero, zero),
        *(money("80.00"), money("6.40"), money("86.40")),
    )
    assert cells(report, "By month")[-1] == (
        *("All", money("20.00"), money("120.00"), zero, zero, zero),
        *(money("140.00"), money("11.20"), money("151.20")),
    )
    strips, bars = report.pictures
    assert isinstance(strips, Strips)
    assert [strip.name for strip in strips.strips] == ["Parts", "Labour", "Net"]
    assert strips.strips[1].amounts == (money("60.00"), money("60.00"), zero)
    assert isinstance(bars, Bars)
    assert [bar.words for bar in bars.bars] == [
        "$20.00, 14.3% of the net",
        "$120.00, 85.7% of the net",
    ]


def test_an_empty_month_has_no_picture(shift: Shift) -> None:
    report = incomes.report(shift, MAY)
    assert report.pictures == ()
    assert cells(report, "By month")[0][-1] == 0


def test_the_day_of_issue_is_the_shops(shift: Shift, clock: Clock) -> None:
    """23:30 on 30 April in Denver is 05:30 UTC on 1 May."""
    clock.moment = clock.moment.replace(month=5, day=1, hour=5, minute=30)
    sold(shift, PART)
    assert income(shift, APRIL).whole.net == money("20.00")
    assert income(shift, MAY).whole.net == 0
    last = date(2031, 4, 30)
    assert income(shift, Period(last, last)).whole.net == money("20.00")

"""Open balances: who owes what at the end of a day, since when."""

from datetime import date, timedelta

import pytest

from shopdesk.job.bad_debts import write_off
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import agree_balance, credit_invoice
from shopdesk.job.reports import open_balances as balances
from shopdesk.job.reports.open_balances import open_balances
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Bars
from shopdesk.job.shift import Shift
from tests.job.reports.books import HOUR, PART, cells, money, ready, sold
from tests.job.workshop import Clock

MONDAY = date(2031, 4, 7)


def test_what_is_owed_ages_from_the_day_of_the_invoice(shift: Shift, clock: Clock) -> None:
    ticket = sold(shift, PART, HOUR)
    take_payment(shift, ticket.id, "6.40", "cash")
    agree_balance(shift, ticket.id, "pays on Friday")
    clock.forward(40)
    (one,) = open_balances(shift, MONDAY + timedelta(days=40)).owed
    assert (one.ticket, one.owner, one.phones) == (ticket.tag, "Mara Quill", ("555-0142",))
    assert (one.since, one.days, one.balance) == (MONDAY, 40, money("80.00"))
    assert one.agreed == "pays on Friday"


def test_it_is_as_the_books_stood_that_day(shift: Shift, clock: Clock) -> None:
    ticket = sold(shift, PART, HOUR)
    clock.forward(3)
    take_payment(shift, ticket.id, "86.40", "card")
    assert open_balances(shift, MONDAY - timedelta(days=1)).owed == ()
    assert open_balances(shift, MONDAY + timedelta(days=2)).owed[0].balance == money("86.40")
    assert open_balances(shift, MONDAY + timedelta(days=3)).owed == ()


def test_credited_and_given_up_is_owed_no_more(shift: Shift) -> None:
    credit_invoice(shift, sold(shift, PART).id, "charged twice")
    write_off(shift, sold(shift, HOUR).id, "moved away")
    found = open_balances(shift, MONDAY)
    assert (found.owed, found.held) == ((), ())


def test_deposits_and_what_was_paid_too_much_are_held(shift: Shift) -> None:
    waiting = ready(shift, PART, owner="Odd Øye")
    take_payment(shift, waiting.id, "10.00", "cash")
    credited = sold(shift, HOUR)
    take_payment(shift, credited.id, "64.80", "card")
    credit_invoice(shift, credited.id, "charged twice")
    report = balances.report(shift, Period(MONDAY, MONDAY))
    phone = "555-0142"
    assert cells(report, "Owners' money that we hold") == [
        ("Mara Quill", phone, credited.tag, "paid or credited too much", money("64.80")),
        ("Odd Øye", phone, waiting.tag, "deposit, not invoiced yet", money("10.00")),
        ("All", None, None, None, money("74.80")),
    ]
    assert cells(report, "Whom to call") == []


@pytest.mark.parametrize(("days", "band"), [(0, 0), (30, 0), (31, 1), (60, 1), (90, 2), (91, 3)])
def test_bands(shift: Shift, clock: Clock, days: int, band: int) -> None:
    sold(shift, PART)
    clock.forward(days)
    on = MONDAY + timedelta(days=days)
    report = balances.report(shift, Period(on, on))
    rows = cells(report, "By age")
    assert [row[1] for row in rows] == [*(int(place == band) for place in range(4)), 1]
    assert rows[band][2] == money("21.60")
    assert [row[0] for row in rows] == [
        *("0 to 30 days", "31 to 60 days", "61 to 90 days", "over 90 days", "All"),
    ]
    (bars,) = report.pictures
    assert isinstance(bars, Bars)
    assert bars.bars[band].words == "$21.60, 1 ticket"


def test_the_oldest_stand_first(shift: Shift, clock: Clock) -> None:
    old = sold(shift, PART)
    clock.forward(5)
    small, large = sold(shift, PART), sold(shift, HOUR)
    report = balances.report(shift, Period(MONDAY, MONDAY + timedelta(days=300)))
    rows = balances.open_balances(shift, MONDAY + timedelta(days=5)).owed
    assert [one.ticket for one in rows] == [old.tag, large.tag, small.tag]
    assert report.period.last == MONDAY + timedelta(days=5), "not later than today"

"""Day close: money by how it was paid, on the day it changed hands."""

from datetime import date

from shopdesk.job.bad_debts import write_off
from shopdesk.job.payments import give_back, take_payment
from shopdesk.job.reports import day_close as day
from shopdesk.job.reports.day_close import MethodSum, day_close
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.till import CountEntry, count_till
from shopdesk.job.shift import Shift
from tests.job.reports.books import APRIL, HOUR, MAY, PART, cells, money, sold
from tests.job.workshop import Clock

MONDAY = Period(date(2031, 4, 7), date(2031, 4, 7))


def _a_day(shift: Shift) -> int:
    """Two bills of 86.40: cash and card on one, of which some goes back, a cheque on the other."""
    first, second = sold(shift, PART, HOUR), sold(shift, PART, HOUR, owner="Odd Øye")
    take_payment(shift, first.id, "50.00", "cash")
    take_payment(shift, first.id, "36.40", "card")
    give_back(shift, first.id, "6.40", "cash")
    take_payment(shift, second.id, "86.40", "cheque")
    return first.id


def test_by_method(shift: Shift) -> None:
    _a_day(shift)
    close = day_close(shift, MONDAY)
    assert close.methods == (
        MethodSum("cash", money("50.00"), money("6.40"), 2),
        MethodSum("card", money("36.40"), money("0.00"), 1),
        MethodSum("cheque", money("86.40"), money("0.00"), 1),
    )
    assert close.net == money("166.40")


def test_money_counts_on_the_day_it_changed_hands(shift: Shift, clock: Clock) -> None:
    ticket = sold(shift, PART, HOUR)
    clock.forward(30)
    take_payment(shift, ticket.id, "10.00", "cash")
    assert day_close(shift, APRIL).methods == ()
    assert day_close(shift, MAY).net == money("10.00")


def test_the_report_of_a_day(shift: Shift) -> None:
    first = _a_day(shift)
    count_till(shift, MONDAY.first, CountEntry("143.00", "100"))
    report = day.report(shift, MONDAY)
    assert cells(report, "By how it was paid") == [
        ("Cash", 2, money("50.00"), money("6.40"), money("43.60")),
        ("Card", 1, money("36.40"), money("0.00"), money("36.40")),
        ("Cheque", 1, money("86.40"), money("0.00"), money("86.40")),
        ("All", 4, money("172.80"), money("6.40"), money("166.40")),
    ]
    assert cells(report, "The till") == [
        ("In the till in the morning (as typed with the count)", money("100.00")),
        ("Cash taken", money("50.00")),
        ("Cash given back", money("-6.40")),
        ("Should be in the till", money("143.60")),
        ("Counted", money("143.00")),
        ("Over (below zero: missing)", money("-0.60")),
        ("Taken out", money("0.00")),
        ("Stays for the next day", money("143.00")),
    ]
    assert report.notes == ("There is $0.60 missing from the till.",)
    each = next(table for table in report.tables if table.title == "Each payment")
    assert len(each.rows) == 4
    assert each.rows[0].ticket_id == first
    assert each.rows[0].cells[0] == "Mon 7 Apr 2031, 09:00"


def test_the_report_of_a_month_goes_day_by_day(shift: Shift, clock: Clock) -> None:
    _a_day(shift)
    clock.forward(2)
    ticket = sold(shift, PART)
    take_payment(shift, ticket.id, "21.60", "card")
    report = day.report(shift, APRIL)
    assert cells(report, "Day by day") == [
        (date(2031, 4, 7), money("43.60"), money("36.40"), money("86.40"), money("166.40")),
        (date(2031, 4, 9), None, money("21.60"), None, money("21.60")),
        ("All", money("43.60"), money("58.00"), money("86.40"), money("188.00")),
    ]


def test_a_day_without_money(shift: Shift) -> None:
    report = day.report(shift, MONDAY)
    assert cells(report, "By how it was paid") == []
    assert report.pictures == ()
    assert report.notes == ("The till is not counted yet.",)


def test_money_comes_before_debts_given_up(shift: Shift) -> None:
    ticket = sold(shift, PART)
    write_off(shift, ticket.id, "moved abroad")
    notes = day.report(shift, MONDAY).notes
    assert [words.split(":")[0] for words in notes] == [
        "The till is not counted yet.",
        "Debts given up",
    ]
    month = day.report(shift, APRIL).notes
    assert [words.split(":")[0] for words in month] == ["Money that stayed", "Debts given up"]

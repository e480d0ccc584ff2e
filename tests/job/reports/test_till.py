"""The till: what should be in it, what was counted, what it begins the next day with."""

from datetime import UTC, date, datetime

import pytest

from shopdesk.job.payments import give_back, take_payment
from shopdesk.job.reports.till import CountEntry, Till, count_till, till
from shopdesk.job.shift import Shift
from tests.job.reports.books import HOUR, PART, money, sold
from tests.job.workshop import Clock, refused

MONDAY, TUESDAY, WEDNESDAY = date(2031, 4, 7), date(2031, 4, 8), date(2031, 4, 9)


def _taken(shift: Shift, *amounts: str, method: str = "cash") -> int:
    ticket = sold(shift, PART, HOUR)
    for amount in amounts:
        take_payment(shift, ticket.id, amount, method)
    return ticket.id


def _sums(kept: Till) -> tuple[object, ...]:
    return kept.opening, kept.taken, kept.given_back, kept.should_be, kept.counted, kept.difference


def test_a_day_without_any_count_says_only_what_moved(shift: Shift) -> None:
    ticket_id = _taken(shift, "50.00")
    _taken(shift, "20.00", method="card")
    give_back(shift, ticket_id, "5.00", "cash")
    kept = till(shift, MONDAY)
    assert _sums(kept) == (None, money("50.00"), money("5.00"), None, None, None)
    assert kept.opening_words == "no earlier count says it"


def test_the_first_count_needs_what_lay_in_it_in_the_morning(shift: Shift) -> None:
    _taken(shift, "50.00")
    with refused(shift, "opening", "type it"):
        count_till(shift, MONDAY, CountEntry("150.00"))
    kept = count_till(shift, MONDAY, CountEntry("149.50", "100", "99.50", " short of a coin "))
    assert _sums(kept) == (
        *(money("100.00"), money("50.00"), money("0.00")),
        *(money("150.00"), money("149.50"), money("-0.50")),
    )
    assert (kept.stays, kept.note, kept.counted_by) == (money("50.00"), "short of a coin", "Sam")


def test_the_next_day_begins_with_what_stayed(shift: Shift, clock: Clock) -> None:
    count_till(shift, MONDAY, CountEntry("100", "100", "40"))
    clock.forward(1)
    _taken(shift, "10.00")
    kept = till(shift, TUESDAY)
    assert (kept.opening, kept.should_be) == (money("60.00"), money("70.00"))
    assert kept.opening_words == "left by the count of Mon 7 Apr 2031"
    assert count_till(shift, TUESDAY, CountEntry("70.00")).difference == 0


def test_cash_of_days_without_a_count_and_after_one_is_carried_on(
    shift: Shift, clock: Clock
) -> None:
    count_till(shift, MONDAY, CountEntry("100", "100"))
    _taken(shift, "5.00")
    after = till(shift, MONDAY)
    assert (after.after_count, after.difference) == (money("5.00"), money("0.00"))
    clock.forward(1)
    _taken(shift, "20.00")
    clock.forward(1)
    _taken(shift, "1.00")
    kept = till(shift, WEDNESDAY)
    assert (kept.opening, kept.should_be) == (money("125.00"), money("126.00"))
    assert kept.opening_words.endswith("with the cash since")


def test_a_count_made_the_morning_after_saw_the_whole_day(shift: Shift, clock: Clock) -> None:
    _taken(shift, "30.00")
    clock.forward(0.7)
    _taken(shift, "7.00")
    kept = count_till(shift, MONDAY, CountEntry("130", "100"))
    assert kept.difference == kept.after_count == 0
    assert till(shift, TUESDAY).opening == money("130.00")


def test_counting_again_takes_the_place_of_the_first(shift: Shift) -> None:
    count_till(shift, MONDAY, CountEntry("100", "100", "10"))
    _taken(shift, "25.00")
    kept = count_till(shift, MONDAY, CountEntry("125"))
    assert _sums(kept)[0] == money("100.00")
    assert kept.difference == kept.taken_out == kept.after_count == 0


def test_midnight_is_the_shops(shift: Shift, clock: Clock) -> None:
    """In Denver it is still Monday at 05:30 UTC on Tuesday."""
    clock.moment = datetime(2031, 4, 8, 5, 30, tzinfo=UTC)
    _taken(shift, "11.00")
    clock.moment = datetime(2031, 4, 8, 6, 30, tzinfo=UTC)
    _taken(shift, "13.00")
    assert till(shift, MONDAY).taken == money("11.00")
    assert till(shift, TUESDAY).taken == money("13.00")


@pytest.mark.parametrize(
    ("day", "entry", "field", "words"),
    [
        (TUESDAY, CountEntry("10", "10"), "day", "still to come"),
        (MONDAY, CountEntry("", "10"), "counted", ""),
        (MONDAY, CountEntry("10", "ten"), "opening", "ten"),
        (MONDAY, CountEntry("10", "10", "11"), "taken_out", "more than was counted"),
    ],
)
def test_what_cannot_be_a_count_is_refused(
    shift: Shift, day: date, entry: CountEntry, field: str, words: str
) -> None:
    with refused(shift, field, words):
        count_till(shift, day, entry)

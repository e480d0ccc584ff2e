"""Invitations spread over the quiet weeks: never late, nobody lost, as even as can be."""

from collections import Counter
from datetime import date, timedelta
from decimal import Decimal
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.upkeep.levelling import Guest, level, monday_of

TODAY = date(2027, 2, 3)
FIRST = monday_of(TODAY)


def week(number: int) -> date:
    return FIRST + timedelta(days=7 * number)


def guest(key: int, earliest: int, due: int) -> Guest:
    return Guest(key, week(earliest), week(due) + timedelta(days=4))


guests = st.lists(st.tuples(st.integers(-2, 4), st.integers(0, 3)), max_size=6).map(
    lambda pairs: [guest(key, start, start + more) for key, (start, more) in enumerate(pairs)]
)
loads = st.dictionaries(st.integers(0, 7).map(week), st.decimals(0, 4, places=1), max_size=6)


def unevenness(invited: dict[int, date], usual: dict[date, Decimal]) -> Decimal:
    many = Counter(invited.values())
    weeks = usual.keys() | many.keys()
    return sum(((usual.get(one, Decimal(0)) + many[one]) ** 2 for one in weeks), Decimal(0))


def test_the_rush_is_spread_before_the_day_it_is_due() -> None:
    rush = [guest(key, 0, 3) for key in range(8)]
    assert Counter(level(rush, {}, TODAY).values()) == {week(number): 2 for number in range(4)}


def test_weeks_that_fill_by_themselves_are_left_alone() -> None:
    usual = {week(2): Decimal(9), week(3): Decimal(12)}
    invited = level([guest(key, 0, 3) for key in range(6)], usual, TODAY)
    assert Counter(invited.values()) == {week(0): 3, week(1): 3}


def test_who_is_due_already_is_invited_this_week() -> None:
    assert level([guest(1, -8, -3)], {FIRST: Decimal(40)}, TODAY) == {1: FIRST}


def test_what_may_not_be_early_stays_in_its_week() -> None:
    assert level([Guest(1, week(5), week(5))], {week(5): Decimal(9)}, TODAY) == {1: week(5)}


def test_a_chain_makes_room_where_no_single_move_does() -> None:
    """The wide one must give way to the one that can only come then."""
    crowd = [guest(1, 0, 1), guest(2, 0, 1), guest(3, 1, 2), guest(4, 1, 2), guest(5, 2, 2)]
    assert max(Counter(level(crowd, {}, TODAY).values()).values()) == 2


@given(guests, loads)
def test_everyone_is_invited_within_their_weeks(
    crowd: list[Guest], usual: dict[date, Decimal]
) -> None:
    invited = level(crowd, usual, TODAY)
    assert invited.keys() == {one.key for one in crowd}
    for one in crowd:
        assert invited[one.key] >= FIRST
        assert invited[one.key] <= max(FIRST, monday_of(one.due))
        assert invited[one.key] >= min(monday_of(one.earliest), max(FIRST, monday_of(one.due)))


@settings(max_examples=150)
@given(guests, loads)
def test_no_other_way_is_more_even(crowd: list[Guest], usual: dict[date, Decimal]) -> None:
    """Against every way there is."""
    keys = [one.key for one in crowd]
    choices = []
    for one in crowd:
        last = max(FIRST, monday_of(one.due))
        first = min(max(FIRST, monday_of(one.earliest)), last)
        choices.append(
            [first + timedelta(days=day) for day in range(0, (last - first).days + 1, 7)]
        )
    ways = (dict(zip(keys, way, strict=True)) for way in product(*choices))
    best = min(unevenness(way, usual) for way in ways)
    assert unevenness(level(crowd, usual, TODAY), usual) == best

"""Whom to invite for which week: by the shop's own past, never late, everybody once."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from shopdesk.job.due_list import due_list
from shopdesk.job.invitations import Invitations, invitations, usual_weeks
from shopdesk.job.reports.report import Kind
from shopdesk.job.shift import Shift
from shopdesk.records.tables import Ticket
from shopdesk.upkeep.levelling import monday_of
from tests.job.due_shop import SPRING, household, neighbour, until_spring
from tests.job.workshop import Clock

BY = date(2032, 4, 30)


def taken_in_on(shift: Shift, *days: date) -> None:
    """Put the moments into the file that tickets were taken in at, one for each day."""
    with shift.records.writing():
        for row, day in zip(Ticket.select().order_by(Ticket.id), days, strict=False):
            moment = datetime(day.year, day.month, day.day, 18, tzinfo=UTC)
            Ticket.update(taken_in_at=moment).where(Ticket.id == row.id).execute()


def usual(shift: Shift) -> dict[date, Decimal]:
    with shift.records.reading():
        return usual_weeks(shift.shop.zone, shift.today)


def planned(shift: Shift, by: date = BY) -> Invitations:
    return invitations(shift, due_list(shift, by))


def test_a_week_is_held_against_the_same_weeks_of_past_years(shift: Shift, clock: Clock) -> None:
    for number in range(1, 8):
        neighbour(shift, number)
    until_spring(clock)
    last_year = [date(2031, 4, 7), date(2031, 4, 9), date(2031, 4, 11), date(2031, 5, 6)]
    taken_in_on(shift, *last_year, date(2030, 4, 10), date(2030, 4, 2), date(2029, 6, 6))
    weeks = usual(shift)
    assert len(weeks) == 53
    assert next(iter(weeks)) == date(2032, 3, 15)
    assert (weeks[date(2032, 4, 5)], weeks[date(2032, 5, 3)]) == (Decimal("2.0"), Decimal("0.5"))
    assert weeks[date(2032, 3, 29)] == Decimal("0.5")
    assert weeks[date(2032, 3, 22)] == 0


def test_a_shop_of_one_year_goes_by_that_one(shift: Shift, clock: Clock) -> None:
    neighbour(shift, 1)
    until_spring(clock)
    assert usual(shift)[date(2032, 4, 5)] == Decimal("1.0")


def test_everybody_is_invited_once_and_nobody_late(shift: Shift, clock: Clock) -> None:
    household(shift)
    for number in range(1, 7):
        neighbour(shift, number)
    neighbour(shift, 8, may_remind=False)
    until_spring(clock)
    owners = due_list(shift, BY)
    plan = invitations(shift, owners)
    by_key = {one.customer_id: one for one in owners if one.way}
    assert plan.week_of.keys() == by_key.keys()
    this_week = monday_of(SPRING)
    for key, monday in plan.week_of.items():
        assert this_week <= monday
        if by_key[key].due_on > SPRING:
            assert monday <= by_key[key].due_on
    mondays = [week.monday for week in plan.weeks]
    assert mondays == [this_week + timedelta(days=7 * at) for at in range(len(mondays))]


def test_the_week_of_the_rush_is_relieved(shift: Shift, clock: Clock) -> None:
    for number in range(1, 7):
        neighbour(shift, number)
    until_spring(clock)
    taken_in_on(shift, *[date(2031, 4, 1)] * 6)
    plan = planned(shift)
    assert [(week.day, week.usual, len(week.owners)) for week in plan.weeks] == [
        ("15 Mar", Decimal(0), 3),
        ("22 Mar", Decimal(0), 3),
        ("29 Mar", Decimal("6.0"), 0),
    ]
    picture = plan.picture
    assert picture.kind is Kind.COUNT
    assert picture.labels == ("15 Mar", "22 Mar", "29 Mar")
    drawn = [list(map(int, strip.amounts)) for strip in picture.strips]
    assert drawn == [[0, 0, 6], [3, 3, 0]]
    assert plan.words == (
        "6 owners with 6 machines to invite. The fullest week usually brings 6 machines."
    )


def test_a_week_that_gets_fuller_than_ever_is_named(shift: Shift, clock: Clock) -> None:
    for number in range(1, 4):
        neighbour(shift, number)
    until_spring(clock)
    clock.forward(11)
    taken_in_on(shift, date(2031, 9, 1), date(2031, 10, 1), date(2031, 11, 3))
    assert planned(shift).words == (
        "3 owners with 3 machines to invite. The fullest week usually brings 1 machine. "
        "Fuller than that, as nothing may come late: the week of 29 Mar."
    )


def test_those_whose_day_has_come_are_spread_over_the_next_weeks(
    shift: Shift, clock: Clock
) -> None:
    for number in range(1, 7):
        neighbour(shift, number)
    until_spring(clock)
    clock.forward(30)
    plan = planned(shift)
    assert {one.due_on for one in due_list(shift, BY)} == {date(2032, 4, 19)}
    assert [(week.day, len(week.owners)) for week in plan.weeks][:3] == [
        *(("19 Apr", 2), ("26 Apr", 2), ("3 May", 2))
    ]


def test_nobody_to_invite(shift: Shift) -> None:
    plan = planned(shift, shift.today)
    assert plan.words == "Nobody is to be invited."
    assert [(week.monday, week.owners) for week in plan.weeks] == [(date(2031, 4, 7), ())]

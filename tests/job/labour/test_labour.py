"""Time at the bench: each person's clock, time by hand, and what is put right afterwards."""

from contextlib import suppress
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.audit import audit
from shopdesk.job.changes import ticket_changes
from shopdesk.job.labour.clock import (
    TimeEntry,
    add_time,
    change_time,
    drop_time,
    running_of,
    start_clock,
    stop_clock,
)
from shopdesk.job.labour.spells import stopped_words
from shopdesk.job.labour.views import SpellView, time_by_person, time_sums
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import close_unfetched, hand_over, issue_invoice, tell_ready
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import LabourRate
from shopdesk.job.stages import Stage
from shopdesk.pricing.labour import TenthRule
from tests.job.labour.at_work import finished
from tests.job.workshop import SHOP, Clock, another, at_stage, kept, refused

RATED = replace(SHOP, labour_rates=(LabourRate("Electrical", Decimal("85.00")),))


def minutes(clock: Clock, count: float) -> None:
    """Let minutes go by, less the second that the clock itself takes."""
    clock.moment += timedelta(minutes=count, seconds=-1)


def test_the_clock_measures_from_start_to_stop(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    started = start_clock(shift, ticket.id)
    assert (started.spell.person, started.spell.work, started.spell.running) == (
        *("Sam", "diagnosis"),
        True,
    )
    minutes(clock, 27)
    stopped = stop_clock(shift)
    assert (stopped.spell.seconds, stopped.spell.running, stopped.spell.by_hand) == (
        *(27 * 60, False),
        False,
    )
    assert stopped_words([stopped.spell]) == "Sam’s clock stopped at 27 min."
    assert kept(shift, stopped.ticket).spells == (stopped.spell,)
    assert stopped.ticket.running == ()


@pytest.mark.parametrize(
    ("stage", "work"),
    [(Stage.INTAKE, "diagnosis"), (Stage.APPROVAL, "diagnosis"), (Stage.PARTS, "repair"),
     (Stage.REPAIR, "repair"), (Stage.PICKUP, "repair")],
)  # fmt: skip
def test_what_the_time_is_for_follows_the_stage(shift: Shift, stage: Stage, work: str) -> None:
    ticket = at_stage(shift, stage)
    assert start_clock(shift, ticket.id).spell.work == work


def test_what_the_time_is_for_may_be_said(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    assert start_clock(shift, ticket.id, "repair").spell.work == "repair"
    with refused(shift, "work", "diagnosis, repair"):
        start_clock(shift, ticket.id, "polishing", "Mira")


def test_a_person_is_at_one_bench_at_a_time(shift: Shift, clock: Clock) -> None:
    one, other = another(shift, 1), another(shift, 2)
    start_clock(shift, one.id)
    start_clock(shift, one.id, person="Mira")
    minutes(clock, 10)
    started = start_clock(shift, other.id)
    assert started.stopped == "T1001: Sam’s clock stopped at 10 min."
    assert [spell.person for spell in open_ticket(shift, one.id).running] == ["Mira"]
    running = running_of(shift)
    assert running is not None
    assert (running.ticket_id, running.tag) == (other.id, "T1002")
    assert running_of(shift, "Nobody") is None


def test_a_second_start_here_is_refused_however_the_name_is_written(shift: Shift) -> None:
    ticket = another(shift, 1)
    start_clock(shift, ticket.id)
    with refused(shift, "person", "Sam is on the clock here already"):
        start_clock(shift, ticket.id)
    with refused(shift, "person", "sam is on the clock here already"):
        start_clock(shift, ticket.id, person=" sam ")


def test_a_closed_ticket_takes_no_clock_but_time_by_hand(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    with refused(shift, "stage", "closed"):
        start_clock(shift, ticket.id)
    assert add_time(shift, ticket.id, TimeEntry("20 min")).spells[0].seconds == 1200


def test_who_is_not_on_the_clock_cant_stop_it(shift: Shift) -> None:
    with refused(shift, "person", "Mira is not on the clock"):
        stop_clock(shift, "Mira")


def test_a_clock_that_ran_over_night_is_asked_about(shift: Shift, clock: Clock) -> None:
    ticket = another(shift, 1)
    start_clock(shift, ticket.id)
    minutes(clock, 15 * 60)
    with refused(shift, "minutes", "since Mon 7 Apr 2031, 09:00", "45 min or 1:20"):
        stop_clock(shift)
    with refused(shift, "minutes", "could be minutes or hours"):
        stop_clock(shift, minutes="45")
    spell = stop_clock(shift, minutes="45 min").spell
    assert (spell.seconds, spell.unsure, spell.by_hand) == (2700, False, True)


def test_ten_hours_are_a_long_day_and_no_slip(shift: Shift, clock: Clock) -> None:
    start_clock(shift, another(shift, 1).id)
    minutes(clock, 600)
    assert stop_clock(shift).spell.seconds == 36_000


def test_a_forgotten_clock_that_another_start_stops_counts_nothing_until_its_minutes_are_typed(
    shift: Shift, clock: Clock
) -> None:
    one, other = another(shift, 1), another(shift, 2)
    start_clock(shift, one.id)
    minutes(clock, 14 * 60)
    started = start_clock(shift, other.id)
    assert "counts nothing until its minutes are typed" in started.stopped
    (spell,) = open_ticket(shift, one.id).spells
    assert (spell.unsure, spell.seconds) == (True, 0)
    (spell,) = change_time(shift, spell.id, TimeEntry("1:20", work="repair")).spells
    assert (spell.unsure, spell.seconds, spell.work) == (False, 80 * 60, "repair")


@pytest.mark.parametrize(
    ("said", "seconds"),
    [("27 min", 1620), ("0.5", 1800), ("1:20", 4800), ("1 h 15", 4500), ("1 1/2", 5400),
     ("10", 36_000), ("1,5", 5400)],
)  # fmt: skip
def test_time_is_written_down_as_people_say_it(shift: Shift, said: str, seconds: int) -> None:
    ticket = another(shift, 1)
    (spell,) = add_time(shift, ticket.id, TimeEntry(said)).spells
    assert (spell.seconds, spell.by_hand, spell.person) == (seconds, True, "Sam")


@pytest.mark.parametrize(
    ("said", "words"),
    [("", "Nothing is typed"), ("45", "45 min, or 45 h"), ("25 h", "a day at most"),
     ("0 min", "no time for one spell"), ("1:75", "an hour has 60"), ("soon", "not a quantity"),
     ("-1", "not above zero")],
)  # fmt: skip
def test_time_that_is_none_is_refused_at_its_field(shift: Shift, said: str, words: str) -> None:
    ticket = another(shift, 1)
    with refused(shift, "time", words):
        add_time(shift, ticket.id, TimeEntry(said))


def test_time_is_written_down_for_a_day_and_a_person(shift: Shift, clock: Clock) -> None:
    save_shop(shift, RATED)
    ticket = another(shift, 1)
    clock.forward(2)
    entry = TimeEntry("40 min", "yesterday", "Mira", "repair", "electrical", "rewound the coil")
    (spell,) = add_time(shift, ticket.id, entry).spells
    assert (spell.person, spell.work, spell.rate, spell.note) == (
        *("Mira", "repair"),
        *("Electrical", "rewound the coil"),
    )
    assert spell.started_at.isoformat() == "2031-04-08T18:00:00+00:00"
    assert spell.started_at == spell.stopped_at
    with refused(shift, "on", "still to come"):
        add_time(shift, ticket.id, replace(entry, on="tomorrow"))
    with refused(shift, "rate", "Electrical"):
        add_time(shift, ticket.id, replace(entry, rate="Welding"))


def test_a_shop_with_one_rate_says_where_others_are_set(shift: Shift) -> None:
    ticket = another(shift, 1)
    with refused(shift, "rate", "add the rate in the settings"):
        add_time(shift, ticket.id, TimeEntry("10 min", rate="Electrical"))
    assert add_time(shift, ticket.id, TimeEntry("10 min", rate="bench rate")).spells[0].rate == ""


def test_a_spell_is_changed_in_place_and_the_journal_keeps_how_it_was(
    shift: Shift, clock: Clock
) -> None:
    ticket = another(shift, 1)
    start_clock(shift, ticket.id)
    minutes(clock, 20.4)
    spell = stop_clock(shift).spell
    (same,) = change_time(shift, spell.id, TimeEntry("20 min", work="repair"), "wrong work").spells
    assert same == replace(spell, work="repair")
    (longer,) = change_time(shift, spell.id, TimeEntry("30 min", person="Mira")).spells
    assert (longer.seconds, longer.by_hand, longer.person) == (1800, True, "Mira")
    assert longer.started_at == spell.started_at
    changes = ticket_changes(shift, ticket.id)[-2:]
    assert [change.why for change in changes] == ["wrong work", ""]
    told = {one.what: (one.before, one.after) for one in changes[1].columns}
    assert told["minutes by hand"] == ("", "30")
    assert told["person"] == ("Sam", "Mira")


def test_a_spell_moves_to_another_day(shift: Shift, clock: Clock) -> None:
    ticket = another(shift, 1)
    start_clock(shift, ticket.id)
    minutes(clock, 20)
    spell = stop_clock(shift).spell
    (moved,) = change_time(shift, spell.id, TimeEntry("20 min", on="yesterday")).spells
    assert moved.started_at.date().isoformat() == "2031-04-06"
    assert (moved.seconds, moved.by_hand) == (1200, True)


def test_a_clock_that_runs_may_be_put_right_and_runs_on(shift: Shift, clock: Clock) -> None:
    one = another(shift, 1)
    spell = start_clock(shift, one.id).spell
    (changed,) = change_time(shift, spell.id, TimeEntry("", work="repair", person="Mira")).spells
    assert (changed.running, changed.work, changed.person) == (True, "repair", "Mira")
    start_clock(shift, one.id)
    with refused(shift, "person", "Sam is on another clock already"):
        change_time(shift, spell.id, TimeEntry("", person="Sam"))
    (stopped, _) = change_time(shift, spell.id, TimeEntry("5 min", person="Mira")).spells
    assert (stopped.running, stopped.seconds) == (False, 300)


def test_a_spell_is_dropped_for_a_reason(shift: Shift) -> None:
    ticket = add_time(shift, another(shift, 1).id, TimeEntry("20 min"))
    with refused(shift, "why", "empty"):
        drop_time(shift, ticket.spells[0].id, " ")
    assert drop_time(shift, ticket.spells[0].id, "another ticket's").spells == ()
    last = ticket_changes(shift, ticket.id)[-1]
    assert (last.action, last.row, last.why) == (
        *("removed", "time at the bench “diagnosis”"),
        "another ticket's",
    )
    with refused(shift, "spell", "not on the ticket any more"):
        drop_time(shift, ticket.spells[0].id, "twice")


def test_going_to_the_counter_stops_the_clocks(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    start_clock(shift, ticket.id)
    start_clock(shift, ticket.id, person="Mira")
    minutes(clock, 30)
    moved = finished(shift, ticket)
    assert moved.running == ()
    assert [spell.unsure for spell in moved.spells] == [False, False]
    assert kept(shift, moved).stage is Stage.PICKUP


def test_handing_over_stops_the_clocks_and_a_forgotten_one_counts_nothing(
    shift: Shift, clock: Clock
) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    start_clock(shift, ticket.id)
    clock.forward(1)
    ticket = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, str(ticket.balance), "card")
    closed = hand_over(shift, ticket.id)
    assert closed.running == ()
    assert (closed.spells[0].unsure, closed.spells[0].seconds) == (True, 0)


def test_a_machine_never_fetched_keeps_no_clock_running(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    start_clock(shift, ticket.id)
    tell_ready(shift, ticket.id, "by phone")
    assert close_unfetched(shift, ticket.id, "taken apart for parts", "no address").running == ()


def test_time_adds_up_by_work_and_rate_and_is_rounded_once(shift: Shift) -> None:
    save_shop(shift, RATED)
    ticket = another(shift, 1)
    for time in ("2 min", "2 min", "2 min"):
        ticket = add_time(shift, ticket.id, TimeEntry(time))
    ticket = add_time(shift, ticket.id, TimeEntry("50 min", rate="Electrical", person="Mira"))
    sums = time_sums(ticket.spells, RATED)
    assert [(one.rate, one.seconds, str(one.hours)) for one in sums] == [
        ("", 360, "0.1"),
        ("Electrical", 3000, "0.8"),
    ]
    up = time_sums(ticket.spells, replace(RATED, tenths=TenthRule.UP))
    assert [str(one.hours) for one in up] == ["0.1", "0.9"]
    people = time_by_person(ticket.spells)
    assert [(one.person, one.seconds) for one in people] == [("Mira", 3000), ("Sam", 360)]


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(st.sampled_from(["Sam", "Mira"]), st.integers(0, 2), st.integers(1, 700)),
        max_size=12,
    )
)
def test_nobody_is_ever_at_two_benches_and_no_time_is_made_up(
    shift: Shift, benches: tuple[int, ...], deeds: list[tuple[str, int, int]]
) -> None:
    """``deeds`` are who starts where (or stops, at 2), and how long it is until the next."""
    now = shift.now
    assert isinstance(now, Clock)
    began = now()
    for person, where, wait in deeds:
        with suppress(JobError):
            if where < len(benches):
                start_clock(shift, benches[where], person=person)
            else:
                stop_clock(shift, person)
        minutes(now, wait)
        running = [one.person for one in _spells(shift, benches) if one.running]
        assert len(running) == len(set(running))
    fresh = [one for one in _spells(shift, benches) if one.started_at >= began]
    for person in ("Sam", "Mira"):
        mine = sum(one.seconds for one in fresh if one.person == person)
        assert mine <= (now() - began).total_seconds()
    for person in ("Sam", "Mira"):
        with suppress(JobError):
            stop_clock(shift, person, "1 min")


@pytest.fixture
def benches(shift: Shift) -> tuple[int, ...]:
    """Two tickets; a third place is nowhere."""
    return tuple(another(shift, number).id for number in (1, 2))


def _spells(shift: Shift, tickets: tuple[int, ...]) -> list[SpellView]:
    return [spell for ticket in tickets for spell in open_ticket(shift, ticket).spells]


def test_nothing_of_it_is_past_the_journal(shift: Shift, clock: Clock) -> None:
    ticket = another(shift, 1)
    start_clock(shift, ticket.id)
    minutes(clock, 20)
    spell = stop_clock(shift).spell
    change_time(shift, spell.id, TimeEntry("25 min"))
    drop_time(shift, add_time(shift, ticket.id, TimeEntry("5 min")).spells[-1].id, "twice")
    assert audit(shift).faults == ()

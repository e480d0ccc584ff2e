"""A yes written down later has the day and time at which it was said."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from shopdesk.job.approval import approve, decline, estimate_as_given, quote
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import SAYS, Clock, at_stage, kept, refused


@pytest.fixture
def ticket(shift: Shift, clock: Clock) -> TicketView:
    """A ticket to be approved, on Wed 9 Apr 2031 at 9:00 in the shop's zone."""
    found = at_stage(shift, Stage.APPROVAL)
    clock.forward(2)
    return found


@pytest.mark.parametrize(
    ("said", "hour_utc"),
    [
        ("8:15", (9, 14, 15)),
        ("today 8.15", (9, 14, 15)),
        ("yesterday 16:30", (8, 22, 30)),
        ("yesterday at 4:30 pm", (8, 22, 30)),
        ("Tue 4pm", (8, 22, 0)),
        ("4/8, 12 am", (8, 6, 0)),
        ("2031-04-08 12pm", (8, 18, 0)),
        ("yesterday 16 h", (8, 22, 0)),
    ],
)
def test_it_is_typed_as_people_type_it(
    shift: Shift, ticket: TicketView, said: str, hour_utc: tuple[int, int, int]
) -> None:
    (word,) = kept(shift, approve(shift, ticket.id, replace(SAYS, said=said))).approvals
    day, hour, minute = hour_utc
    assert word.said_at == datetime(2031, 4, day, hour, minute, tzinfo=UTC)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("yesterday", "has no time of day: type it like yesterday 16:30"),
        ("10:00", "is still to come (by this computer it is Wed 9 Apr 2031, 09:00 now)"),
        ("tomorrow 8:00", "still to come"),
        ("25:00", "is no time of day"),
        ("13 pm", "is no time of day"),
        ("8:75", "is no time of day"),
        ("some day 9:00", "is not a date"),
    ],
)
def test_what_it_can_not_be_is_said(
    shift: Shift, ticket: TicketView, said: str, words: str
) -> None:
    with refused(shift, "said", words):
        approve(shift, ticket.id, replace(SAYS, said=said))


def test_it_answers_the_estimate_that_was_given_before_it(
    shift: Shift, ticket: TicketView, clock: Clock
) -> None:
    quote(shift, ticket.id)
    clock.forward(1)
    second = quote(shift, ticket.id)
    assert [one.number for one in second.estimates] == ["1001-1", "1001-2"]
    answered = approve(shift, ticket.id, replace(SAYS, said="yesterday 16:30"))
    assert answered.approvals[-1].estimate_number == "1001-1"


def test_a_word_said_before_the_last_one_is_refused(shift: Shift, ticket: TicketView) -> None:
    decline(shift, ticket.id, SAYS)
    with refused(shift, "said", "A no of Wed 9 Apr 2031, 09:00 is recorded, said after that"):
        approve(shift, ticket.id, replace(SAYS, said="8:00"))


def test_the_way_out_that_was_chosen_is_kept(shift: Shift, ticket: TicketView) -> None:
    said = approve(shift, ticket.id, replace(SAYS, option="Only what failed"))
    assert said.approvals[-1].option == "Only what failed"
    refused_ = decline(shift, ticket.id, replace(SAYS, option="Leave it"))
    assert refused_.approvals[-1].option == "Leave it"


def test_a_yes_to_an_estimate_is_a_yes_to_the_way_whose_lines_it_has(
    shift: Shift, ticket: TicketView
) -> None:
    estimate = quote(shift, ticket.id).estimates[-1]
    ways_out = estimate_as_given(shift, estimate.id).ways_out
    expected = ways_out.itemised if ways_out else ""
    assert approve(shift, ticket.id, SAYS).approvals[-1].option == expected
    assert decline(shift, ticket.id, SAYS).approvals[-1].option == ""

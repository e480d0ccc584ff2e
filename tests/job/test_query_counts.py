"""Opening a ticket, or the list of tickets, asks the database as often for many as for one."""

import logging
from collections.abc import Callable

import pytest

from shopdesk.job.approval import quote
from shopdesk.job.board import open_tickets
from shopdesk.job.causes import overrule
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.find import find_anything
from shopdesk.job.lines import add_line
from shopdesk.job.model_notes import keep_note, model_card
from shopdesk.job.opened import open_ticket
from shopdesk.job.ranking import ranking
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from tests.job.mended import mended
from tests.job.workshop import HOUR, KIT, another, at_stage


@pytest.fixture
def counted(caplog: pytest.LogCaptureFixture) -> Callable[[Callable[[], object]], int]:
    """Return a function that says how many queries something makes."""

    def count(action: Callable[[], object]) -> int:
        with caplog.at_level(logging.DEBUG, logger="peewee"):
            caplog.clear()
            action()
            said = [record for record in caplog.records if record.name == "peewee"]
        return sum("SELECT" in record.getMessage() for record in said)

    return count


Counted = Callable[[Callable[[], object]], int]


def test_opening_a_ticket_asks_as_often_whatever_hangs_on_it(
    shift: Shift, counted: Counted
) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    few = counted(lambda: open_ticket(shift, ticket.id))
    for _ in range(6):
        add_line(shift, ticket.id, KIT)
        add_line(shift, ticket.id, HOUR)
        record_finding(shift, ticket.id, "compression", "142")
        quote(shift, ticket.id)
    assert counted(lambda: open_ticket(shift, ticket.id)) == few
    assert 0 < few <= 20


def test_opening_a_ticket_asks_as_often_whatever_the_number_of_tickets(
    shift: Shift, counted: Counted
) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    few = counted(lambda: open_ticket(shift, ticket.id))
    for number in range(12):
        another(shift, number)
    assert counted(lambda: open_ticket(shift, ticket.id)) == few


def test_the_list_of_open_tickets_asks_as_often_for_many_as_for_two(
    shift: Shift, counted: Counted
) -> None:
    at_stage(shift, Stage.APPROVAL)
    another(shift, 1)
    few = counted(lambda: open_tickets(shift))
    for number in range(2, 14):
        record_finding(shift, another(shift, number).id, "compression", "142")
    assert counted(lambda: open_tickets(shift)) == few
    assert 0 < few <= 12


def test_finding_asks_in_proportion_to_what_it_shows(shift: Shift, counted: Counted) -> None:
    for number in range(12):
        another(shift, number)
    assert counted(lambda: find_anything(shift, "squeeze", most=5)) <= 5 + 5 * 4


def test_ranking_the_causes_asks_as_often_whatever_was_found(
    shift: Shift, counted: Counted
) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    few = counted(lambda: ranking(shift, ticket.id))
    for number in range(4):
        mended(shift, number, "arrester")
    for check, reading in (("compression", "142"), ("arrester", "b"), ("spark", "s")):
        record_finding(shift, ticket.id, check, reading)
    overrule(shift, ticket.id, "air-filter", "it is new")
    assert counted(lambda: ranking(shift, ticket.id)) == few
    assert 0 < few <= 12


def test_a_models_card_asks_as_often_for_many_tickets_as_for_one(
    shift: Shift, counted: Counted
) -> None:
    keep_note(shift, mended(shift, 1).id, "trap", "left-hand thread")
    few = counted(lambda: model_card(shift, "Tarnbeck", "TB-26"))
    for number in range(2, 6):
        keep_note(shift, mended(shift, number).id, "note", f"note {number}")
    assert counted(lambda: model_card(shift, "Tarnbeck", "TB-26")) == few
    assert 0 < few <= 8

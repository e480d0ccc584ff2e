"""The upkeep plan on a machine's card: reasons, what was done, intervals of our own, the meter."""

from shopdesk.desk.machine_card import MachineCard
from shopdesk.desk.machine_upkeep import MachineUpkeep
from shopdesk.job.own_intervals import intervals_of_unit
from shopdesk.job.units import get_unit
from shopdesk.job.upkeep_plan import upkeep_plan
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver


def plan(desk: Driver, ticket: TicketView) -> MachineUpkeep:
    desk.open(ticket)
    desk.press("<Alt-m>")
    assert isinstance(desk.window.in_sight, MachineCard)
    upkeep = desk.window.in_sight.upkeep
    upkeep.list.focus_list()
    return upkeep


def test_each_task_has_its_day_and_its_reason(desk: Driver, ticket: TicketView) -> None:
    upkeep = plan(desk, ticket)
    first = upkeep_plan(desk.shift, ticket.unit.id).rows[0]
    shown = upkeep.list.tree.item(upkeep.list.tree.get_children()[0], "values")
    assert shown[1].startswith(first.title[:20])
    assert first.every in upkeep.about
    assert first.every_from in upkeep.about
    desk.shots("machine-upkeep")


def test_enter_says_that_it_was_done_and_by_whom(desk: Driver, ticket: TicketView) -> None:
    plan(desk, ticket)
    first = upkeep_plan(desk.shift, ticket.unit.id).rows[0]
    desk.dialogs.answers += [0, "today"]
    desk.press("<Return>")
    assert desk.notice == "It counts as done."
    rows = {row.task_key: row for row in upkeep_plan(desk.shift, ticket.unit.id).rows}
    assert rows[first.task_key].done_words == "the owner says"


def test_a_day_that_cant_be_read_is_said_and_nothing_is_kept(
    desk: Driver, ticket: TicketView
) -> None:
    plan(desk, ticket)
    desk.dialogs.answers += [0, "some day"]
    desk.press("<Alt-d>")
    assert "is not a date" in desk.notice
    assert all(row.said_id is None for row in upkeep_plan(desk.shift, ticket.unit.id).rows)


def test_what_was_said_by_mistake_is_taken_back(desk: Driver, ticket: TicketView) -> None:
    upkeep = plan(desk, ticket)
    desk.press("<Alt-k>")
    assert desk.notice.startswith("Nobody said that this was done")
    desk.dialogs.answers += [0, "today"]
    desk.press("<Alt-d>")
    rows = upkeep_plan(desk.shift, ticket.unit.id).rows
    upkeep.list.select(next(place for place, row in enumerate(rows) if row.said_id))
    desk.dialogs.answers += ["wrong machine"]
    desk.press("<Alt-k>")
    assert desk.notice == "Taken back."
    assert all(row.said_id is None for row in upkeep_plan(desk.shift, ticket.unit.id).rows)


def test_an_interval_of_our_own_and_back(desk: Driver, ticket: TicketView) -> None:
    upkeep = plan(desk, ticket)
    task = upkeep_plan(desk.shift, ticket.unit.id).rows[0].task_key
    desk.dialogs.answers += [0, "7 h", "sawdust"]
    desk.press("<Alt-e>")
    (own,) = intervals_of_unit(desk.shift, ticket.unit.id)
    assert (own.task_key, own.every, own.of_unit) == (task, "7 h", True)
    rows = upkeep_plan(desk.shift, ticket.unit.id).rows
    upkeep.list.select(next(place for place, row in enumerate(rows) if row.task_key == task))
    desk.dialogs.answers += [2]
    desk.press("<Alt-e>")
    assert intervals_of_unit(desk.shift, ticket.unit.id) == ()


def test_an_interval_of_the_model(desk: Driver, ticket: TicketView) -> None:
    plan(desk, ticket)
    desk.dialogs.answers += [1, "often", ""]
    desk.press("<Alt-e>")
    assert "is no interval" in desk.notice
    desk.dialogs.answers += [1, "9 h", "the maker's manual"]
    desk.press("<Alt-e>")
    (own,) = intervals_of_unit(desk.shift, ticket.unit.id)
    assert not own.of_unit


def test_the_meter_is_read_and_a_new_one_is_asked_about(desk: Driver, ticket: TicketView) -> None:
    plan(desk, ticket)
    desk.dialogs.answers += ["41.5"]
    desk.press("<Alt-u>")
    assert desk.notice == "The reading is kept."
    desk.dialogs.answers += ["2", False]
    desk.press("<Alt-u>")
    assert get_unit(desk.shift, ticket.unit.id).meter_hours is not None
    desk.dialogs.answers += ["2", True]
    desk.press("<Alt-u>")
    assert desk.notice == "The reading of the new meter is kept."
    assert str(get_unit(desk.shift, ticket.unit.id).meter_hours) in ("2", "2E+0")
    desk.dialogs.answers += ["lots"]
    desk.press("<Alt-u>")
    assert "is no meter reading" in desk.notice

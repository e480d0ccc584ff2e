"""A turn at the desk: all or nothing, numbers without gap, and who did it."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from shopdesk.errors import JobError
from shopdesk.job.history import ticket_journal
from shopdesk.job.shift import Shift, clock, save_shop
from shopdesk.records.tables import Customer, JournalEntry
from tests.job.workshop import SHOP, Clock, another, everything, taken_in


def number(shift: Shift, series: str) -> int:
    with shift.changing() as change:
        return change.next_number(series)


def lost_number(shift: Shift) -> None:
    with shift.changing() as change:
        change.next_number("invoice")
        raise JobError("The pen slipped.")


def test_each_series_counts_by_itself_from_its_first(shift: Shift) -> None:
    given = [number(shift, "invoice"), number(shift, "credit note"), number(shift, "invoice")]
    assert given == [5001, 1, 5002]


def test_a_number_of_a_change_that_failed_is_given_again(shift: Shift) -> None:
    before = everything(shift)
    with pytest.raises(JobError, match="slipped"):
        lost_number(shift)
    assert everything(shift) == before
    assert number(shift, "invoice") == 5001


def lost_customer(shift: Shift, error: BaseException) -> None:
    with shift.changing() as change:
        change.add(Customer(name="Mara", folded_name="mara", created_at=change.at))
        raise error


@pytest.mark.parametrize("error", [JobError("No."), ValueError("no"), KeyboardInterrupt()])
def test_a_change_that_breaks_off_leaves_nothing(shift: Shift, error: BaseException) -> None:
    before = everything(shift)
    with pytest.raises(type(error)):
        lost_customer(shift, error)
    assert everything(shift) == before


def test_every_change_names_who_was_at_the_desk(shift: Shift) -> None:
    other = Shift(shift.records, "Kit", shift.now)
    taken_in(shift)
    ticket = another(other, 2)
    assert {entry.who for entry in ticket_journal(shift, ticket.id)} == {"Kit"}


def test_the_shops_own_changes_are_journalled(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, name="Fernhollow Engines"))
    with shift.records.reading():
        entry = JournalEntry.select().order_by(JournalEntry.id.desc()).get()
    assert (entry.table, entry.action) == ("setting", "changed")
    assert "Fernhollow Engines" in entry.after
    assert "Fernhollow Small Engines" in entry.before


def test_the_clock_of_the_house_is_aware(shift: Shift) -> None:
    ask: Callable[[], object] = Shift(shift.records).now
    assert ask is clock
    assert clock().tzinfo is not None
    assert Clock()().tzinfo is not None

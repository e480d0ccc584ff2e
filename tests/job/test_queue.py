from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.lines import LineEntry, add_line, turn_down
from shopdesk.job.queue import Queue, after_hours, queue_before, ready_on
from shopdesk.job.shift import Shift
from shopdesk.job.standing import find_ticket
from shopdesk.job.views import TicketView
from tests.job.workshop import INTAKE, another

MONDAY = date(2031, 4, 7)
SIX_A_DAY = Decimal(6)


def promised(shift: Shift, number: int, day: str) -> TicketView:
    return another(shift, number, replace(INTAKE, promised_on=day))


def before(shift: Shift, ticket: TicketView) -> Queue:
    with shift.records.reading():
        return queue_before(find_ticket(ticket.id))


def test_what_was_promised_sooner_comes_first(shift: Shift) -> None:
    late = promised(shift, 1, "20 Apr 2031")
    soon = promised(shift, 2, "10 Apr 2031")
    assert before(shift, soon) == Queue(Decimal(0), 0)
    assert before(shift, late).machines == 1
    assert before(shift, soon).words == "no machine before it"


def test_the_same_day_goes_by_the_ticket_number(shift: Shift) -> None:
    first, second = (promised(shift, n, "10 Apr 2031") for n in (1, 2))
    assert before(shift, first).machines == 0
    assert before(shift, second).machines == 1


def test_hours_are_those_of_the_labour_that_is_left(shift: Shift) -> None:
    first = promised(shift, 1, "8 Apr 2031")
    last = promised(shift, 2, "9 Apr 2031")
    assert before(shift, last) == Queue(Decimal("1.0"), 1, 1)  # not priced yet: taken as an hour
    hour = LineEntry("labour", "Mend it", "2.5", reason="failed")
    dropped = add_line(shift, first.id, hour).lines[-1]
    add_line(shift, first.id, replace(hour, quantity="0.5"))
    turn_down(shift, dropped.id)
    assert before(shift, last) == Queue(Decimal("0.5"), 1)
    assert before(shift, last).words == "1 machine before it, about 0.5 h"


@pytest.mark.parametrize(
    ("start", "hours", "day"),
    [
        (date(2031, 4, 7), "0", date(2031, 4, 7)),
        (date(2031, 4, 7), "6", date(2031, 4, 7)),
        (date(2031, 4, 7), "6.1", date(2031, 4, 8)),
        (date(2031, 4, 11), "12", date(2031, 4, 14)),
        (date(2031, 4, 12), "1", date(2031, 4, 14)),
        (date(2031, 4, 7), "60", date(2031, 4, 18)),
        (date(2031, 4, 7), "99999999", date(2041, 3, 22)),  # no day is told beyond ten years
    ],
)
def test_work_is_done_on_working_days_only(start: date, hours: str, day: date) -> None:
    assert after_hours(start, SIX_A_DAY, Decimal(hours)) == day


def test_a_machine_is_ready_once_queue_and_parts_let_it(shift: Shift) -> None:
    hour, none = Decimal(1), Queue(Decimal(0), 0)
    assert ready_on(MONDAY, SIX_A_DAY, none, hour, 0) == MONDAY
    assert ready_on(MONDAY, SIX_A_DAY, none, hour, 3) == date(2031, 4, 10)
    busy = Queue(Decimal(30), 9)
    assert ready_on(MONDAY, SIX_A_DAY, busy, hour, 3) == date(2031, 4, 11)
    assert ready_on(MONDAY, SIX_A_DAY, busy, hour, 10) == date(2031, 4, 17)

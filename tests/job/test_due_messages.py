"""Messages about upkeep: made once, kept, and what the owners said put into the records."""

import os
import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from shopdesk.job.after import make_reminder
from shopdesk.job.customers import CustomerEntry, change_customer, get_customer
from shopdesk.job.due_messages import (
    message_content,
    say_ended,
    say_upkeep_sent,
    upkeep_messages,
    write_again,
    write_to,
)
from shopdesk.job.intake import take_in
from shopdesk.job.messages import (
    MessageView,
    State,
    drop_message,
    say_answered,
    say_sent,
    say_undelivered,
)
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.upkeep_done import DoneEntry, say_done
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Message, Unit
from tests.job.due_shop import at_home, due_soon, household, neighbour, until_spring
from tests.job.workshop import INTAKE, OWNER, SHOP, Clock, each, refused


def in_a_month(shift: Shift) -> date:
    return shift.today + timedelta(days=30)


def written(shift: Shift, ticket: TicketView, way: str = "") -> MessageView:
    return write_to(shift, ticket.owner.id, in_a_month(shift), way)


def reminder_states(shift: Shift, ticket: TicketView) -> list[str]:
    return [one.state for one in open_ticket(shift, ticket.id).reminders]


def test_one_message_says_all_of_a_household(shift: Shift, clock: Clock) -> None:
    ticket = household(shift)
    until_spring(clock)
    (owner,) = due_soon(shift)
    made = written(shift, ticket)
    assert (made.way, made.state, made.made_by) == ("e-mail", State.MADE, "Sam")
    said = message_content(shift, made.id)
    assert [one.machine.title for one in said.machines] == [one.title for one in owner.machines]
    assert [one.unit_id for one in said.machines] == [one.unit_id for one in owner.machines]
    assert said.owner.name == "Mara Quill"
    assert said.due == owner.due_on
    assert said.titles.startswith("chain saw, Osmarrow OS 40; string trimmer, Tarnbeck TB-26 and ")
    assert all(one.cautions and one.rows for one in said.machines)
    assert due_soon(shift) == ()


def test_nobody_is_told_twice(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    made = written(shift, ticket)
    for _ in range(2):
        with refused(shift, "customer", "Nothing is due for this owner"):
            written(shift, ticket)
        say_sent(shift, made.id)


def test_what_falls_due_later_is_told_alone(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    clock.forward(200)
    first = message_content(shift, written(shift, ticket).id)
    clock.forward(150)
    second = message_content(shift, written(shift, ticket).id)
    assert set(first.rounds).isdisjoint(second.rounds)


def test_one_that_was_dropped_is_made_anew(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    made = written(shift, ticket)
    drop_message(shift, made.id, "wrong words on it")
    again = written(shift, ticket, "letter")
    assert message_content(shift, again.id).rounds == message_content(shift, made.id).rounds
    with refused(shift, "message", "was dropped: make a new one"):
        say_upkeep_sent(shift, [again.id, made.id])
    for job in each(
        lambda: say_answered(shift, made.id, "yes"),
        lambda: say_undelivered(shift, made.id),
        lambda: say_ended(shift, made.id, "sold it"),
    ):
        with refused(shift, "message", "was dropped"):
            job()


def test_one_that_came_back_goes_another_way(shift: Shift, clock: Clock) -> None:
    ticket = neighbour(shift, 1, preferred_way="postcard")
    until_spring(clock)
    made = written(shift, ticket)
    assert made.way == "postcard"
    say_undelivered(shift, made.id, "unknown at this address")
    (owner,) = due_soon(shift)
    assert owner.ways == ("e-mail", "phone", "text")
    with refused(shift, "way", "can't be reached by letter: choose e-mail or phone or text"):
        written(shift, ticket, "letter")
    mail = written(shift, ticket)
    assert mail.way == "e-mail"
    say_undelivered(shift, mail.id)
    entry = CustomerEntry("Owner 1", ("555-01019",), "n1@example.com", "9 New Lane\nFernhollow")
    change_customer(shift, ticket.owner.id, replace(entry, preferred_way="letter"))
    assert written(shift, ticket).way == "letter"


def test_consent_and_what_is_known_are_respected(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    with refused(shift, "way", "can't be “smoke signal”"):
        written(shift, ticket, "smoke signal")
    change_customer(shift, ticket.owner.id, replace(OWNER, address=""))
    with refused(shift, "way", "Mara Quill can't be reached by letter"):
        written(shift, ticket, "letter")
    change_customer(shift, ticket.owner.id, replace(OWNER, may_remind=False))
    with refused(shift, "customer", "Mara Quill wants no reminders: no message is made"):
        written(shift, ticket)
    change_customer(shift, ticket.owner.id, replace(OWNER, moved_away=True))
    with refused(shift, "customer", "Nothing is due"):
        written(shift, ticket)


def test_what_a_message_said_stays_as_it_was(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    made = written(shift, ticket)
    before = message_content(shift, made.id)
    save_shop(shift, replace(SHOP, name="Another Name"))
    change_customer(shift, ticket.owner.id, replace(OWNER, name="Mara Quill-Holt"))
    clock.forward(90)
    assert message_content(shift, made.id) == before
    with refused(shift, "message", "not in the records"):
        message_content(shift, 99)


def test_the_reminder_from_pickup_joins_its_message(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    make_reminder(shift, ticket.id, "2032-04-01")
    until_spring(clock)
    made = written(shift, ticket)
    assert reminder_states(shift, ticket) == ["open"]
    say_upkeep_sent(shift, [made.id])
    assert reminder_states(shift, ticket) == ["sent"]
    say_undelivered(shift, made.id)
    assert reminder_states(shift, ticket) == ["open"]
    again = written(shift, ticket, "letter")
    say_answered(shift, again.id, "does it on his own")
    assert reminder_states(shift, ticket) == ["sent"]
    say_ended(shift, again.id, "wants no more")
    assert reminder_states(shift, ticket) == ["stopped"]


def test_a_reminder_for_later_is_left_open(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    make_reminder(shift, ticket.id, "2032-10-31")
    until_spring(clock)
    say_upkeep_sent(shift, [written(shift, ticket).id])
    assert reminder_states(shift, ticket) == ["open"]


def test_they_moved_away(shift: Shift, clock: Clock) -> None:
    ticket = household(shift)
    until_spring(clock)
    made = written(shift, ticket)
    ended = say_ended(shift, made.id, "moved away")
    assert (ended.state, ended.note) == (State.ANSWERED, "moved away")
    assert ended.sent_at is not None
    assert get_customer(shift, ticket.owner.id).moved_away
    clock.forward(400)
    assert due_soon(shift) == ()


def test_they_want_no_more(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    say_ended(shift, written(shift, ticket).id, "WANTS no more")
    assert not get_customer(shift, ticket.owner.id).may_remind
    clock.forward(400)
    assert [one.why_not for one in due_soon(shift)] == ["wants no reminders"]


def test_one_of_three_is_sold(shift: Shift, clock: Clock) -> None:
    ticket = household(shift)
    until_spring(clock)
    made = written(shift, ticket)
    with refused(shift, "unit", "is not in this message"):
        say_ended(shift, made.id, "sold it", [99])
    with refused(shift, "end", "choose one of moved away, sold it, wants no more"):
        say_ended(shift, made.id, "no idea")
    say_ended(shift, made.id, "sold it", [ticket.unit.id])
    with shift.records.reading():
        gone = [unit.id for unit in Unit.select() if unit.gone_on]
        assert gone == [ticket.unit.id]
        assert Unit.get_by_id(ticket.unit.id).gone_how == "sold, as its owner says"
    clock.forward(400)
    (owner,) = due_soon(shift)
    assert ticket.unit.id not in [one.unit_id for one in owner.machines]
    assert len(owner.machines) == 2


def test_all_of_them_are_sold_unless_some_are_named(shift: Shift, clock: Clock) -> None:
    ticket = household(shift)
    until_spring(clock)
    say_ended(shift, written(shift, ticket).id, "sold it")
    clock.forward(400)
    assert due_soon(shift) == ()


def test_what_became_of_them_is_listed(shift: Shift, clock: Clock) -> None:
    tickets = [neighbour(shift, number) for number in range(1, 5)]
    until_spring(clock)
    made = [written(shift, ticket) for ticket in tickets]
    say_upkeep_sent(shift, [made[0].id, made[1].id])
    say_answered(shift, made[1].id, "comes by", "2032-04-02")
    say_answered(shift, made[2].id, "does it alone")
    waiting = upkeep_messages(shift)
    assert [(one.owner, one.message.state) for one in waiting] == [
        ("Owner 4", State.MADE),
        ("Owner 2", State.BOOKED),
        ("Owner 1", State.SENT),
    ]
    assert waiting[1].message.booked_on == date(2032, 4, 2)
    assert waiting[0].titles == "String trimmer, Tarnbeck TB-26"
    assert waiting[0].phones == ("555-01049",)
    answered = upkeep_messages(shift, [State.ANSWERED])
    assert [one.message.note for one in answered] == ["does it alone"]


def test_sending_is_all_or_nothing(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    made = written(shift, ticket)
    with refused(shift, "message", "not in the records"):
        say_upkeep_sent(shift, [made.id, 99])


def test_a_second_one_goes_by_hand_after_weeks_and_only_once(shift: Shift, clock: Clock) -> None:
    ticket = household(shift)
    until_spring(clock)
    made = written(shift, ticket)
    with refused(shift, "message", "Only what went out"):
        write_again(shift, made.id)
    say_sent(shift, made.id)
    clock.forward(20)
    with refused(shift, "message", "less than 28 days ago: write again from Sat 17 Apr 2032 on"):
        write_again(shift, made.id)
    clock.forward(9)
    say_done(shift, ticket.unit.id, DoneEntry("chain-sharpen", "2032-04-15"))
    assert due_soon(shift, 0) == ()
    second = write_again(shift, made.id, "phone")
    content = message_content(shift, second.id)
    first = message_content(shift, made.id)
    assert content.again
    assert second.way == "phone"
    assert set(first.rounds) - set(content.rounds) == {f"{ticket.unit.id} chain-sharpen never"}
    assert set(content.rounds) < set(first.rounds)
    say_sent(shift, second.id)
    clock.forward(40)
    for message in (made, second):
        with refused(shift, "message", "a second time already: call them"):
            write_again(shift, message.id)


def test_a_second_one_needs_something_left_to_do(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    made = written(shift, ticket)
    say_sent(shift, made.id)
    clock.forward(30)
    change_customer(shift, ticket.owner.id, replace(OWNER, may_remind=False))
    with refused(shift, "customer", "wants no reminders"):
        write_again(shift, made.id)
    change_customer(shift, ticket.owner.id, OWNER)
    take_in(shift, ticket.owner.id, ticket.unit.id, INTAKE)
    with refused(shift, "message", "Nothing of it is due any more"):
        write_again(shift, made.id)


DESK = """
import sys
from datetime import date
from pathlib import Path
from shopdesk.errors import JobError
from shopdesk.job.due_list import due_list
from shopdesk.job.due_messages import write_to
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
from tests.job.due_shop import SPRING
from tests.job.workshop import Clock

clock = Clock()
clock.forward((SPRING - clock.moment.date()).days)
shift = Shift(open_records(Path(sys.argv[1]), clock(), wait=30), sys.argv[2], clock)
by = date(2032, 4, 20)
owners = due_list(shift, by)
print(len(owners), flush=True)
sys.stdin.readline()
for owner in owners:
    try:
        write_to(shift, owner.customer_id, by)
    except JobError as error:
        assert "Nothing is due" in error.sentence
shift.records.close()
"""


def test_two_desks_with_one_list_write_to_nobody_twice(shift: Shift) -> None:
    for number in range(1, 9):
        neighbour(shift, number)
    project = Path(__file__).parents[2]
    desks = [
        subprocess.Popen(
            [sys.executable, "-c", DESK, str(shift.records.file), who],
            cwd=project,
            env={**os.environ, "PYTHONPATH": str(project)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for who in ("Sam", "Kit")
    ]
    for desk in desks:
        assert desk.stdout
        assert desk.stdout.readline() == "8\n"
    for desk in desks:
        assert desk.stdin
        desk.stdin.write("go\n")
        desk.stdin.flush()
    for desk in desks:
        _, complaint = desk.communicate(timeout=60)
        assert (desk.returncode, complaint) == (0, "")
    with shift.records.reading():
        written_to = [row.customer_id for row in Message.select()]
    assert len(written_to) == len(set(written_to)) == 8

"""Tells how the machine is mended and proved, goes home, is paid for, and is remembered."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from shopdesk.dates import show_date
from shopdesk.demo.agreeing import line_entry
from shopdesk.demo.apart import put_rest_back, take_apart
from shopdesk.demo.bringing import record
from shopdesk.demo.clock import Wait
from shopdesk.demo.learning import say_what_it_was, write_card
from shopdesk.demo.told import Told
from shopdesk.job.after import make_reminder, set_reminder_state
from shopdesk.job.lines import change_line
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import (
    agree_balance,
    close_unfetched,
    credit_invoice,
    hand_over,
    issue_invoice,
    tell_ready,
)
from shopdesk.job.repair import do_line
from shopdesk.job.stages import Stage
from shopdesk.job.standing import PROOF, SETTING
from shopdesk.job.views import LineView, ReminderView, TicketView
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import LineKind

PAID_BY = ("card", "card", "card", "cash", "cash", "cheque")


def begin_repair(told: Told) -> Iterator[Wait]:
    """The machine comes to the bench, is taken apart, and the first line is ticked off."""
    if told.now.declined:
        return
    yield Wait(days=1)
    told.ticket = go_on(told.cast.bench, told.id, Stage.REPAIR)
    yield from take_apart(told)
    yield from _tick(told, _work_left(told)[:1])


def mend(told: Told) -> Iterator[Wait]:
    """The rest is done and back together, set, proved and remembered; it goes to pickup."""
    if not told.now.declined:
        yield from _tick(told, _work_left(told))
        yield from put_rest_back(told)
        routine = told.cast.scenario.routine_for(told.unit)
        yield from record(told, told.story.settings or routine.settings, SETTING)
        yield from record(told, (*told.story.again, *routine.proof), PROOF)
        write_card(told)
    say_what_it_was(told)
    yield Wait(minutes=5)
    told.ticket = go_on(told.cast.bench, told.id, Stage.PICKUP)


def _tick(told: Told, lines: list[LineView]) -> Iterator[Wait]:
    for line in lines:
        yield Wait(minutes=told.luck.randint(4, 18))
        told.ticket = do_line(told.cast.bench, line.id)
        told.say(f"done: {line.description}")


def _work_left(told: Told) -> list[LineView]:
    work = (LineKind.PART, LineKind.LABOUR)
    return [
        line for line in told.now.lines if line.kind in work and not (line.done or line.declined)
    ]


def tell_owner(told: Told) -> Iterator[Wait]:
    """The owner hears that it is ready."""
    yield Wait(minutes=20)
    how = f"by phone {told.now.owner.phones[0].number}"
    told.ticket = tell_ready(told.cast.counter, told.id, how)
    told.say(f"{told.now.owner.name} told {how} that it is ready")


def bill(told: Told) -> Iterator[Wait]:
    """The owner comes for it: the invoice; one that was wrong is credited and issued anew."""
    if told.visit.never_fetched:
        yield Wait(days=120)
        told.ticket = close_unfetched(told.cast.counter, told.id, told.visit.never_fetched)
        return
    yield Wait(days=told.luck.randint(1, 5))
    told.ticket = issue_invoice(told.cast.counter, told.id)
    if told.visit.credit:
        yield from _put_right(told)
    issued = told.now.standing_invoice
    assert issued is not None
    total, left = show_money(issued.total), show_money(told.now.balance)
    told.say(f"invoice {issued.number}: {total}, {left} to pay")


def _put_right(told: Told) -> Iterator[Wait]:
    yield Wait(minutes=6)
    counter = told.cast.counter
    told.ticket = credit_invoice(counter, told.id, told.visit.credit)
    position = next(at for at, line in enumerate(told.now.lines) if line.kind is LineKind.LABOUR)
    wrong = told.now.lines[position]
    entry = line_entry(told, told.story.lines[position])
    told.ticket = change_line(
        counter, wrong.id, replace(entry, quantity=str(wrong.quantity - Decimal("0.4")))
    )
    yield Wait(minutes=2)
    told.ticket = issue_invoice(counter, told.id)


def go_home(told: Told) -> Iterator[Wait]:
    """It is paid for, the next upkeep is noted, and the machine goes home."""
    if told.in_stage(Stage.CLOSED):
        return
    counter, visit = told.cast.counter, told.visit
    yield Wait(minutes=4)
    if visit.agreed:
        told.ticket = agree_balance(counter, told.id, visit.agreed)
    elif told.now.balance > 0:
        told.ticket = _pay(told)
    yield Wait(minutes=2)
    if told.now.owner.may_remind and not told.now.declined:
        _note_upkeep(told)
    told.ticket = hand_over(counter, told.id)
    told.say(f"{told.now.tag} {told.now.outcome}; {show_money(told.now.balance)} owed")


def _note_upkeep(told: Told) -> None:
    told.ticket = make_reminder(told.cast.counter, told.id)
    noted = told.now.reminders[-1]
    told.say(f"next upkeep {show_date(noted.due_on)}: {'; '.join(noted.titles)}")


def _pay(told: Told) -> TicketView:
    method = told.luck.choice(PAID_BY)
    ticket = take_payment(told.cast.counter, told.id, str(told.now.balance), method)
    told.say(f"{show_money(ticket.payments[-1].amount)} paid: {method}")
    return ticket


def _pay_the_rest(told: Told) -> Iterator[Wait]:
    counter = told.cast.counter
    told.ticket = send_back(counter, told.id, Stage.PICKUP, "came to pay what was owed")
    told.ticket = _pay(told)
    yield Wait(minutes=2)
    told.ticket = agree_balance(counter, told.id, "")
    told.ticket = hand_over(counter, told.id)


def remember(told: Told) -> Iterator[Wait]:
    """What was left owed is paid later, and the letter about the upkeep goes out before its day."""
    if told.visit.agreed:
        yield Wait(days=12)
        yield from _pay_the_rest(told)
    counter = told.cast.counter
    closed_on = counter.today
    for reminder in told.now.reminders:
        ahead = reminder.due_on - timedelta(days=10) - closed_on
        yield Wait(days=max(3, ahead.days))
        still_open = any(one.id == reminder.id and one.state == "open" for one in _reminders(told))
        if still_open and counter.today < told.cast.no_letters_since:
            set_reminder_state(counter, reminder.id, "sent")
            told.cast.sent_reminders[told.unit.key] = reminder.id


def _reminders(told: Told) -> tuple[ReminderView, ...]:
    return open_ticket(told.cast.counter, told.id).reminders

"""Tells how the owner hears that it is ready, the bill, the money, and who never comes for it."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from shopdesk.demo.agreeing import line_entry
from shopdesk.demo.clock import Wait
from shopdesk.demo.reminding import note_upkeep
from shopdesk.demo.told import Told
from shopdesk.job.bad_debts import write_off
from shopdesk.job.invoices.chain import last_seal
from shopdesk.job.invoices.crediting import PartCredit, credit_part
from shopdesk.job.lines import change_line
from shopdesk.job.messages import LETTER, PHONE, say_sent
from shopdesk.job.payments import Tender, give_back, take_payment, take_payments
from shopdesk.job.pickup import (
    agree_balance,
    close_unfetched,
    credit_invoice,
    hand_over,
    issue_invoice,
    tell_ready,
)
from shopdesk.job.stages import Stage
from shopdesk.job.unfetched import BETWEEN, charge_storage, make_letter
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import LineKind

PAID_BY = ("card", "card", "card", "cash", "cash", "cheque")


def tell_owner(told: Told) -> Iterator[Wait]:
    """The owner hears that it is ready."""
    yield Wait(minutes=20)
    how = f"by phone {told.now.owner.phones[0].number}"
    told.ticket = tell_ready(told.cast.counter, told.id, how)
    told.say(f"{told.now.owner.name} told {how} that it is ready")


def write_letters(told: Told) -> Iterator[Wait]:
    """Nobody comes for it: the letters go out, one after the other, and storage is asked for."""
    counter = told.cast.counter
    way = LETTER if told.now.owner.address else PHONE
    for _ in range(told.visit.letters):
        yield Wait(days=BETWEEN.days + 1)
        letter = make_letter(counter, told.id, way=way)
        yield Wait(minutes=40)
        say_sent(counter, letter.id)
    if told.visit.letters > 1 and not told.visit.never_fetched:
        yield Wait(days=6)
        told.ticket = charge_storage(counter, told.id)


def bill(told: Told) -> Iterator[Wait]:
    """The owner comes for it: the invoice; one that was wrong is credited and issued anew."""
    if told.visit.never_fetched:
        yield Wait(days=60)
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
    if told.is_heard:
        with told.cast.counter.records.reading():
            told.say(f"from here on it never changes; the chain of invoices ends in {last_seal()}")


def _put_right(told: Told) -> Iterator[Wait]:
    yield Wait(minutes=6)
    counter = told.cast.counter
    told.ticket = credit_invoice(counter, told.id, told.visit.credit)
    place = next(at for at, one in enumerate(told.story.lines) if one.kind == LineKind.LABOUR)
    wrong = next(line for line in told.now.lines if line.id == told.line_ids[place])
    entry = line_entry(told, told.story.lines[place])
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
    if told.now.balance > 0 and (visit.pays or not visit.agreed):
        told.ticket = _pay(told)
    if visit.agreed:
        told.ticket = agree_balance(counter, told.id, visit.agreed)
    yield Wait(minutes=2)
    note_upkeep(told)
    told.ticket = hand_over(counter, told.id)
    told.say(f"{told.now.tag} {told.now.outcome}; {show_money(told.now.balance)} owed")


def _pay(told: Told) -> TicketView:
    pays = told.visit.pays or (told.luck.choice(PAID_BY),)
    left = told.now.balance
    tenders = []
    for one in pays:
        method, _, amount = one.partition(" ")
        tenders.append(Tender(amount or str(left), method))
        left -= Decimal(tenders[-1].amount)
    before = len(told.now.payments)
    ticket = take_payments(told.cast.counter, told.id, tenders)
    for payment in ticket.payments[before:]:
        told.say(f"{show_money(payment.amount)} paid: {payment.method}")
    return ticket


def settle(told: Told) -> Iterator[Wait]:
    """What was left owed is paid later, or given up; what was charged too much goes back."""
    visit, counter = told.visit, told.cast.counter
    if visit.given_back is not None:
        yield Wait(days=6)
        why, part = visit.given_back.why, visit.given_back
        entry = PartCredit(why, quantities=((part.row, part.quantity),))
        told.ticket = credit_part(counter, told.id, entry)
        owed_back = str(-told.now.balance)
        told.ticket = give_back(counter, told.id, owed_back, "card", "what came back")
    if visit.agreed and visit.settles_in:
        yield Wait(days=visit.settles_in)
        if visit.written_off:
            told.ticket = write_off(counter, told.id, visit.written_off)
        else:
            told.ticket = take_payment(counter, told.id, str(told.now.balance), "card")

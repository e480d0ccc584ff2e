"""Tells how the repair is priced, what the owner says to it, and how parts come in."""

from collections.abc import Iterator
from datetime import timedelta

from shopdesk.dates import show_date
from shopdesk.demo.clock import Wait
from shopdesk.demo.scenario import Charge
from shopdesk.demo.told import Told
from shopdesk.job.approval import SayEntry, approve, decline, quote
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.parts import set_supply
from shopdesk.job.payments import take_payment
from shopdesk.job.stages import Stage
from shopdesk.job.standing import ON_HAND, ON_ORDER, TO_ORDER
from shopdesk.job.views import LineView
from shopdesk.pricing.money import show_money

NO_CALL = ("in person", "by text", "by e-mail")


def price(told: Told) -> Iterator[Wait]:
    """Parts and labour are put on the ticket; it goes to the owner unless their limit covers it."""
    for charge in told.story.lines:
        yield Wait(minutes=told.luck.randint(1, 4))
        told.ticket = add_line(told.cast.bench, told.id, line_entry(told, charge))
        line = told.now.lines[-1]
        told.say(f"{line.description}, {show_money(line.net)}: {_why(told, line)}")
    if told.now.missing_before(Stage.REPAIR):
        yield Wait(minutes=2)
        told.ticket = go_on(told.cast.bench, told.id, Stage.APPROVAL)


def line_entry(told: Told, charge: Charge) -> LineEntry:
    """Return the charge as typed, pointing to the finding that bears it out."""
    return LineEntry(
        charge.kind,
        charge.part or charge.labour or charge.fee,
        charge.hours or "1",
        charge.price,
        charge.reason,
        charge.reason_note,
        charge.number,
        cost=charge.cost,
        finding_id=told.finding_ids[charge.finding] if charge.finding else None,
        renews=charge.renews,
        supply=charge.supply,
    )


def _why(told: Told, line: LineView) -> str:
    because = [line.reason_words, line.reason_note]
    because += [
        f"{one.title}: {one.shown}" for one in told.now.findings if one.id == line.finding_id
    ]
    return "; ".join(filter(None, because))


def ask(told: Told) -> Iterator[Wait]:
    """The owner is given a written estimate."""
    if not told.in_stage(Stage.APPROVAL):
        return
    yield Wait(minutes=5)
    told.ticket = quote(told.cast.counter, told.id)
    given = told.now.estimates[-1]
    told.say(f"estimate {given.number}: {show_money(given.total)} with tax")


def answer(told: Told) -> Iterator[Wait]:
    """The owner says yes, yes to some of it, or no."""
    if not told.in_stage(Stage.APPROVAL):
        return
    yield Wait(days=1)
    counter, story = told.cast.counter, told.story
    say = _say(told)
    told.ticket = (approve if story.answer == "yes" else decline)(counter, told.id, say)
    word = told.now.approvals[-1]
    what = f"{'yes' if word.yes else 'no'} to {show_money(word.amount)}"
    told.say(f"{word.who} says {what} {word.how} {word.phone}: “{word.note}”")
    told.say(f"charged may be at most {show_money(told.now.may_charge)}")
    if told.visit.deposit and word.yes:
        yield Wait(minutes=3)
        told.ticket = take_payment(counter, told.id, told.visit.deposit, "card", "deposit")
        told.say(f"deposit of {show_money(told.now.paid)} taken by card")


def _say(told: Told) -> SayEntry:
    called = told.visit.deposit != "" or told.luck.random() < 0.6
    charges = zip(told.story.lines, told.now.lines, strict=True)
    return SayEntry(
        told.owner.name,
        "by phone" if called else told.luck.choice(NO_CALL),
        phone=told.now.owner.phones[0].number if called else "",
        note=told.story.answer_note,
        declined_line_ids=tuple(line.id for charge, line in charges if charge.unwanted),
    )


def wait_for_parts(told: Told) -> Iterator[Wait]:
    """What is not on the shelf has to be ordered."""
    if _waited_for(told) and told.in_stage(Stage.APPROVAL) and not told.now.declined:
        yield Wait(minutes=4)
        told.ticket = go_on(told.cast.counter, told.id, Stage.PARTS)


def order(told: Told) -> Iterator[Wait]:
    """The supplier names a day."""
    if not told.in_stage(Stage.PARTS):
        return
    for line in _waited_for(told):
        yield Wait(minutes=3)
        comes = told.cast.counter.today + timedelta(days=told.visit.supplier_days)
        told.ticket = set_supply(told.cast.counter, line.id, ON_ORDER, comes.isoformat())
        told.say(f"ordered: {line.description} {line.part_number}, to come {show_date(comes)}")


def receive(told: Told) -> Iterator[Wait]:
    """The parts are here."""
    if not told.in_stage(Stage.PARTS):
        return
    yield Wait(days=2)
    for line in _waited_for(told):
        yield Wait(minutes=2)
        told.ticket = set_supply(told.cast.counter, line.id, ON_HAND)
        told.say(f"received: {line.description}")


def _waited_for(told: Told) -> list[LineView]:
    return [
        line for line in told.now.lines if line.supply in (TO_ORDER, ON_ORDER) and not line.declined
    ]

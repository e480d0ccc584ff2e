"""Tells how the repair is priced, and what the owner says to it."""

from collections.abc import Iterator

from shopdesk.demo.clock import Wait
from shopdesk.demo.explaining import say_ways
from shopdesk.demo.orders import waited_for
from shopdesk.demo.stories import Charge
from shopdesk.demo.told import Told
from shopdesk.job.approval import SayEntry, approve, decline, quote
from shopdesk.job.labour.flat_times import flat_time_line
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.payments import take_payment
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView
from shopdesk.pricing.money import show_money

NO_CALL = ("in person", "by text", "by e-mail")


def price(told: Told) -> Iterator[Wait]:
    """Parts and labour are put on the ticket; it goes to the owner unless their limit covers it."""
    for charge in told.story.lines:
        yield Wait(minutes=told.luck.randint(1, 4))
        _put_on(told, charge)
    if told.visit.off_the_bill:
        entry = LineEntry("discount", "Discount", unit_price=told.visit.off_the_bill)
        told.ticket = add_line(told.cast.counter, told.id, entry)
    if told.now.missing_before(Stage.REPAIR):
        yield Wait(minutes=2)
        told.ticket = go_on(told.cast.bench, told.id, Stage.APPROVAL)


def _put_on(told: Told, charge: Charge) -> None:
    known = {line.id for line in told.now.lines}
    if charge.flat:
        flat_id, finding = told.cast.flat_ids[charge.flat], _finding_id(told, charge)
        told.ticket = flat_time_line(told.cast.bench, told.id, flat_id, charge.reason, finding)
    else:
        told.ticket = add_line(told.cast.bench, told.id, line_entry(told, charge))
    line = next(line for line in told.now.lines if line.id not in known and not line.reckoned)
    told.line_ids.append(line.id)
    told.say(f"{line.description}, {show_money(line.net)}: {_why(told, line)}")


def _finding_id(told: Told, charge: Charge) -> int | None:
    return told.finding_ids[charge.finding] if charge.finding else None


def line_entry(told: Told, charge: Charge) -> LineEntry:
    """Return the charge as typed, pointing to the finding that bears it out."""
    return LineEntry(
        charge.kind,
        charge.part or charge.labour or charge.fee or charge.sublet,
        charge.hours or "1",
        charge.price,
        charge.reason,
        charge.reason_note,
        charge.number,
        cost=charge.cost,
        finding_id=_finding_id(told, charge),
        renews=charge.renews,
        supply=charge.supply,
        part_id=told.cast.room.part_ids.get(charge.number) if charge.part else None,
        rate=charge.rate,
        off=charge.off,
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
    say_ways(told)
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
    charges = zip(told.story.lines, told.line_ids, strict=False)
    return SayEntry(
        told.owner.name,
        "by phone" if called else told.luck.choice(NO_CALL),
        phone=told.now.owner.phones[0].number if called else "",
        note=told.story.answer_note,
        declined_line_ids=tuple(line_id for charge, line_id in charges if charge.unwanted),
    )


def wait_for_parts(told: Told) -> Iterator[Wait]:
    """What is not on the shelf has to be ordered."""
    if waited_for(told) and told.in_stage(Stage.APPROVAL) and not told.now.declined:
        yield Wait(minutes=4)
        told.ticket = go_on(told.cast.counter, told.id, Stage.PARTS)

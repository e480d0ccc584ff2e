"""Machines that stand ready and are not fetched: how long, what storage is owed, which letters.

Nothing is sold or scrapped here. What the law asks before that differs from place to place: check
your local law.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

import msgspec

from shopdesk.dates import local_day, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.lines import LineEntry, drop_row, put_line
from shopdesk.job.messages import (
    EMAIL,
    LETTER,
    PHONE,
    About,
    MessageView,
    State,
    message_view,
)
from shopdesk.job.opened import tag_of, ticket_view
from shopdesk.job.paper_content import Addressee, CollectContent
from shopdesk.job.paperwork import addressee, letterhead, machine
from shopdesk.job.reckoned import reckon
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import STORAGE, find_ticket, rows_of
from shopdesk.job.still_to_pay import still_to_pay
from shopdesk.job.views import TicketView, machine_title
from shopdesk.pricing.money import show_money
from shopdesk.pricing.storage import Storage, storage
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Line, Message, Ticket

STEPS = ("first", "second", "last")
"""The letters, in their order."""
SERIES_WAYS = (LETTER, EMAIL, PHONE)
"""How the owner gets to know what a letter of the series says."""
BETWEEN = timedelta(days=14)
"""From telling the owner to the first letter, and from each to the next.

Common practice, no published source: check your local law.
"""


@dataclass(frozen=True, slots=True)
class Unfetched:
    """A machine that stands ready: since when its owner knows, what is owed, and the letters."""

    ticket_id: int
    tag: str
    owner: str
    phones: tuple[str, ...]
    machine: str
    told_on: date | None
    """``None`` where the owner was not told yet."""
    days: int
    """Since they were told."""
    owed: Decimal
    """For the work, with its tax and less what was paid; storage apart."""
    storage: Decimal
    """By the terms as of today, as prices are written, whether or not it stands on the ticket."""
    storage_tax: Decimal
    """What comes on top of it; 0 where no tax is added."""
    storage_settled: Decimal
    """What was paid of it already, with its tax."""
    storage_words: str
    storage_on_ticket: bool
    letters: tuple[MessageView, ...]
    next_step: int | None
    """Place of the next letter in ``STEPS``, from 1; ``None`` after the last."""
    next_on: date | None
    """The day from which the next letter is in order."""
    ways: tuple[str, ...]
    """The ways that the owner can be told, the letter first."""

    @property
    def storage_left(self) -> Decimal:
        """What is still to pay for storage, with its tax."""
        return self.storage + self.storage_tax - self.storage_settled

    @property
    def next_words(self) -> str:
        """What comes next, in a sentence."""
        if self.told_on is None:
            return "Tell the owner that it is ready, and note it."
        if self.next_step is None:
            return "The last letter went out: check your local law before anything else."
        assert self.next_on is not None
        return f"The {STEPS[self.next_step - 1]} letter, from {show_date(self.next_on)} on."


def unfetched(shift: Shift) -> tuple[Unfetched, ...]:
    """Return the machines in Pickup, those that have waited longest first, the untold ones last."""
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        tickets = Ticket.select(Ticket.id).where(Ticket.stage == Stage.PICKUP).order_by(Ticket.id)
        found = [_unfetched(find_ticket(row.id), shop, today) for row in tickets]
    return tuple(sorted(found, key=lambda one: (one.told_on is None, -one.days, one.ticket_id)))


def charge_storage(shift: Shift, ticket_id: int) -> TicketView:
    """Put the storage owed by now on the ticket as a fee, in place of one that stands there.

    It was agreed to with the claim tag, so it needs no yes of its own. Raises ``JobError`` where
    none is owed, or an invoice stands.
    """
    with shift.changing() as change:
        ticket = _in_pickup(ticket_id)
        owed = _storage(ticket, change.shop, change.today)
        if owed is None or not owed.charge:
            words = owed.words(change.shop.currency) if owed else "the owner was not told yet"
            raise JobError(f"No storage is owed on this ticket: {words}.", "storage")
        for line in _storage_lines(ticket):
            drop_row(change, line, "storage worked out anew")
        entry = LineEntry(
            "fee",
            f"Storage, {owed.words(change.shop.currency)}",
            unit_price=str(owed.charge),
            reason="terms",
        )
        line = put_line(change, ticket, entry)
        line.reckoned = STORAGE
        change.save(line)
        reckon(change, ticket)
        return ticket_view(ticket, change.shop, change.today)


def make_letter(shift: Shift, ticket_id: int, early: str = "", way: str = LETTER) -> MessageView:
    """Make the next letter of the series; what it says is kept.

    ``early`` is why it goes out before its day; ``way`` is how the owner gets to know, of
    ``SERIES_WAYS``. Raises ``JobError`` before its day without a why, after the last one, before
    the owner was told, and where they can't be reached that way.
    """
    why_early = typed.line(early, "early", "Why it goes out early")
    chosen = typed.choice(way, "way", SERIES_WAYS, "How they hear of it", needed=True)
    with shift.changing() as change:
        ticket = _in_pickup(ticket_id)
        found = _unfetched(ticket, change.shop, change.today)
        if found.told_on is None:
            raise JobError(
                "The owner was never told that it is ready: tell them and note it first.", "told"
            )
        if found.next_step is None or found.next_on is None:
            raise JobError("The last letter was written already: check your local law.", "step")
        if change.today < found.next_on and not why_early:
            raise JobError(
                f"The {STEPS[found.next_step - 1]} letter is in order from "
                f"{show_date(found.next_on)} on: wait, or say why it goes out early.",
                "early",
            )
        _refuse_unreached(found, chosen)
        content = _content(ticket, change, found.next_step)
        row = Message(
            customer=ticket.customer_id,
            ticket=ticket,
            about=About.NOT_FETCHED,
            step=found.next_step,
            way=chosen,
            state=State.MADE,
            content=msgspec.json.encode(content).decode(),
            note=why_early,
            made_by=change.who,
            made_at=change.at,
        )
        change.add(row)
        return message_view(row)


def _refuse_unreached(found: Unfetched, way: str) -> None:
    missing = {LETTER: "address", EMAIL: "e-mail address", PHONE: "phone number"}[way]
    if way in found.ways:
        return
    instead = "write it on the owner's card"
    if way == LETTER:
        instead += ", or tell them by phone and note it"
    raise JobError(f"No {missing} is written down for {found.owner}: {instead}.", "way")


def letter_content(shift: Shift, message_id: int) -> CollectContent:
    """Return what a letter said when it was made; raises ``JobError`` if there is none."""
    with shift.records.reading():
        row = Message.get_or_none(Message.id == message_id)
    if row is None or row.about != About.NOT_FETCHED:
        raise JobError("That letter is not in the records any more.", "message")
    return msgspec.json.decode(row.content, type=CollectContent)


def letters_of(ticket: Ticket) -> tuple[Message, ...]:
    """Return a ticket's letters that were not dropped, inside a transaction."""
    rows = rows_by(Message, "ticket_id", ticket.id)
    return tuple(
        row for row in rows if row.about == About.NOT_FETCHED and row.state != State.DROPPED
    )


def missing_before_disposal(ticket: Ticket) -> str:
    """Return what is missing before a machine may be sold or scrapped, or nothing.

    Inside a transaction. That is the whole series of letters, each sent.
    """
    sent = {row.step for row in letters_of(ticket) if row.sent_at is not None}
    for step, name in enumerate(STEPS, 1):
        if step not in sent:
            return f"the {name} letter was not sent"
    return ""


def _unfetched(ticket: Ticket, shop: Shop, today: date) -> Unfetched:
    rows = rows_of(ticket)
    told = local_day(ticket.told_ready_at, shop.zone) if ticket.told_ready_at else None
    letters = letters_of(ticket)
    step, on = _next(letters, told, shop)
    owed = _storage(ticket, shop, today)
    to_pay = still_to_pay(rows, shop, owed)
    owner = addressee(ticket.customer)
    return Unfetched(
        ticket_id=ticket.id,
        tag=tag_of(ticket.number),
        owner=ticket.customer.name,
        phones=owner.phones,
        machine=machine_title(ticket.unit.kind, ticket.unit.make, ticket.unit.model),
        told_on=told,
        days=(today - told).days if told else 0,
        owed=to_pay.work,
        storage=to_pay.storage,
        storage_tax=to_pay.storage_tax,
        storage_settled=to_pay.storage_settled,
        storage_words=owed.words(shop.currency) if owed else "",
        storage_on_ticket=bool(_storage_lines(ticket)),
        letters=tuple(message_view(row) for row in letters),
        next_step=step,
        next_on=on,
        ways=_ways_to(owner),
    )


def _ways_to(owner: Addressee) -> tuple[str, ...]:
    there = {LETTER: owner.address, EMAIL: owner.email, PHONE: owner.phones}
    return tuple(way for way in SERIES_WAYS if there[way])


def _next(
    letters: Sequence[Message], told: date | None, shop: Shop
) -> tuple[int | None, date | None]:
    done = max((row.step for row in letters), default=0)
    if done >= len(STEPS) or told is None:
        return (None if done >= len(STEPS) else done + 1), None
    last = max((local_day(row.made_at, shop.zone) for row in letters), default=told)
    return done + 1, last + BETWEEN


def _storage(ticket: Ticket, shop: Shop, today: date) -> Storage | None:
    if ticket.told_ready_at is None:
        return None
    told = local_day(ticket.told_ready_at, shop.zone)
    return storage(told, today, shop.storage_per_day, shop.storage_after_days)


def _storage_lines(ticket: Ticket) -> list[Line]:
    return [line for line in rows_by(Line, "ticket_id", ticket.id) if line.reckoned == STORAGE]


def _in_pickup(ticket_id: int) -> Ticket:
    ticket = find_ticket(ticket_id)
    if ticket.stage != Stage.PICKUP:
        raise JobError(f"This ticket is in {ticket.stage}: only a ready machine waits.", "stage")
    return ticket


def _content(ticket: Ticket, change: Change, step: int) -> CollectContent:
    shop = change.shop
    found = _unfetched(ticket, shop, change.today)
    assert found.told_on is not None
    return CollectContent(
        shop=letterhead(shop),
        owner=addressee(ticket.customer),
        machine=machine(ticket.unit),
        ticket=found.tag,
        on=change.today,
        step=step,
        ready_since=found.told_on,
        owed=found.owed,
        storage=found.storage,
        storage_words=found.storage_words,
        storage_per_day=shop.storage_per_day,
        storage_from=found.told_on + timedelta(days=shop.storage_after_days + 1),
        fetch_by=change.today + BETWEEN,
        storage_tax=found.storage_tax,
        storage_settled=found.storage_settled,
    )


def storage_money(one: Unfetched, symbol: str) -> str:
    """Return the storage with its working: ``$25.92 with tax (12 days × $2.00, …, and $1.92 tax)``.

    What was paid of it already is said after it.
    """
    if not one.storage:
        return one.storage_words
    amount = show_money(one.storage + one.storage_tax, symbol)
    tax = f", and {show_money(one.storage_tax, symbol)} tax" if one.storage_tax else ""
    said = f"{amount}{' with tax' if tax else ''} ({one.storage_words}{tax})"
    if not one.storage_settled:
        return said
    return f"{said}, of which {show_money(one.storage_settled, symbol)} is paid"

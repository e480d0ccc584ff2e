"""Ways out that the mechanic adds to those that are worked out."""

import json
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.options.jobs import Item
from shopdesk.job.options.ways import Bench, Repair
from shopdesk.job.reasons import Reason
from shopdesk.job.reference import cause_book
from shopdesk.job.shift import Change, Shift
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import find_ticket
from shopdesk.job.units import machine_of
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind, line_net
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import OwnOption, Unit

EVERYTHING = "everything"
"""In place of causes: it runs whatever the cause."""
_LONGEST_WAIT = 365


@dataclass(frozen=True, slots=True)
class OwnOptionEntry:
    """A way out as typed: ``price`` before tax for all of it, ``hours`` of it at the bench.

    ``cures`` are causes by key or as they are called, with commas between, or ``everything``.
    ``lead_days`` is the wait for what it takes, ``life_hours`` empty for the guide's.
    """

    title: str
    price: str
    cures: str
    words: str = ""
    hours: str = ""
    lead_days: str = ""
    life_hours: str = ""


def add_option(shift: Shift, ticket_id: int, entry: OwnOptionEntry) -> TicketView:
    """Add a way out to a ticket. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        if ticket.stage == Stage.CLOSED:
            raise JobError("This ticket is closed: reopen it first.", "stage")
        row = OwnOption(ticket=ticket)
        _fill(change, row, entry, ticket.unit)
        change.add(row)
        return ticket_view(ticket, change.shop, change.today)


def change_option(shift: Shift, option_id: int, entry: OwnOptionEntry) -> TicketView:
    """Change a way out of the mechanic's. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        row = _find(option_id)
        ticket = find_ticket(row.ticket_id)
        _fill(change, row, entry, ticket.unit)
        change.save(row)
        return ticket_view(ticket, change.shop, change.today)


def drop_option(shift: Shift, option_id: int, why: str = "") -> TicketView:
    """Take a way out of the mechanic's off the ticket; the journal keeps it."""
    with shift.changing() as change:
        row = _find(option_id)
        ticket = find_ticket(row.ticket_id)
        change.remove(row, typed.line(why, "why", "The reason"))
        return ticket_view(ticket, change.shop, change.today)


def option_entry(shift: Shift, option_id: int) -> OwnOptionEntry:
    """Return a way out of the mechanic's as it can be typed again."""
    with shift.records.reading():
        row = _find(option_id)
        titles = _titles(find_ticket(row.ticket_id).unit)
        cures = [titles.get(key, key) for key in json.loads(row.cures)]
        return OwnOptionEntry(
            title=row.title,
            price=f"{row.price}",
            cures=", ".join(cures),
            words=row.words,
            hours=_shown(row.hours),
            lead_days=f"{row.lead_days}" if row.lead_days else "",
            life_hours=_shown(row.life_hours),
        )


def own_repairs(bench: Bench, shop: Shop) -> tuple[Repair, ...]:
    """Return the mechanic's ways out of a ticket, inside a transaction."""
    rows = rows_by(OwnOption, "ticket_id", bench.rows.ticket.id)
    return tuple(_repair(bench, row, shop) for row in rows)


def _repair(bench: Bench, row: OwnOption, shop: Shop) -> Repair:
    keys = json.loads(row.cures)
    known = [cause.key for cause in bench.chances.evidence.causes]
    cures = frozenset(known if EVERYTHING in keys else keys)
    return Repair(
        key=f"own {row.id}",
        title=row.title,
        items=tuple(_items(row, shop)),
        cures=cures,
        part_ids=frozenset(),
        words=row.words,
        own_id=row.id,
        life_hours=row.life_hours,
    )


def _items(row: OwnOption, shop: Shop) -> list[Item]:
    """Return the lines: bench time at the bench rate, and the rest of the price as a part.

    Where the time alone comes to more than the price, the difference comes off its line.
    """
    time = line_net(row.hours, shop.bench_rate)
    labour = Item(
        LineKind.LABOUR,
        row.title,
        row.hours,
        shop.bench_rate,
        Reason.FAILED,
        off=time - row.price if time > row.price else None,
    )
    part = Item(
        LineKind.PART,
        row.title,
        Decimal(1),
        row.price - time,
        Reason.FAILED,
        condition="new",
        lead_days=row.lead_days,
    )
    return [*([part] if row.price > time else []), *([labour] if row.hours else [])]


def _fill(change: Change, row: OwnOption, entry: OwnOptionEntry, unit: Unit) -> None:
    row.title = typed.line(entry.title, "title", "What it is called", needed=True)
    row.words = typed.line(entry.words, "words", "What it means for the owner")
    row.price = typed.money(entry.price, "price")
    typed.ask_which(entry.hours, "hours")
    row.hours = typed.bench_hours(entry.hours, "hours") if entry.hours.strip() else Decimal(0)
    row.cures = json.dumps(_cures(entry.cures, unit))
    row.lead_days = _days(entry.lead_days)
    row.life_hours = typed.optional_quantity(entry.life_hours, "life_hours")


def _cures(said: str, unit: Unit) -> list[str]:
    titles = _titles(unit)
    named = [one.strip() for one in typed.line(said, "cures", "What it cures").split(",")]
    keys = {key: key for key in titles} | {title: key for key, title in titles.items()}
    found = [
        keys[typed.choice(one, "cures", keys, "A cause that it cures")] for one in named if one
    ]
    if not found:
        raise JobError(
            f"Say what it cures: causes with commas between, or “{EVERYTHING}”.", "cures"
        )
    return list(dict.fromkeys(found))


def _titles(unit: Unit) -> dict[str, str]:
    """Return by key what a way may cure, in words."""
    causes = cause_book().causes_for(machine_of(unit))
    titles = {cause.key: cause.title for cause in causes if cause.key != SOMETHING_ELSE}
    return {EVERYTHING: EVERYTHING, **titles}


def _days(said: str) -> int:
    days = typed.line(said, "lead_days", "The days to wait")
    if not days:
        return 0
    if not days.isdecimal() or not days.isascii() or int(days) > _LONGEST_WAIT:
        raise JobError(
            f"“{days[:20]}” is no number of days: type 0 to {_LONGEST_WAIT}.", "lead_days"
        )
    return int(days)


def _shown(number: Decimal | None) -> str:
    return f"{number.normalize():f}" if number else ""


def _find(option_id: int) -> OwnOption:
    row = row_of(OwnOption, option_id)
    if row is None:
        raise JobError("That way out is not on the ticket any more: open it again.", "option")
    return row

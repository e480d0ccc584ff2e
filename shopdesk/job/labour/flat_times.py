"""The shop's flat times: jobs with a set time, charged at it whatever the clock says."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.machines import Engine, Kind, Machine
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.labour.rates import hourly, rate_typed
from shopdesk.job.lines import LineEntry, put_line, refuse_unless_open
from shopdesk.job.opened import ticket_view
from shopdesk.job.ranking import ranking_of
from shopdesk.job.reasons import Reason
from shopdesk.job.reckoned import reckon
from shopdesk.job.reference import cause_book, cause_title
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.standing import find_ticket
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import round_money, show_money, show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import FlatTime, Ticket
from shopdesk.text import letters_and_digits


@dataclass(frozen=True, slots=True)
class FlatTimeEntry:
    """A flat time as typed: ``hours`` as ``0.8``, ``45 min`` or ``1:20``.

    Without ``kind`` it is for every kind of machine; ``cause`` is the key of what it puts right.
    """

    name: str
    hours: str
    kind: str = ""
    cause: str = ""
    rate: str = ""


@dataclass(frozen=True, slots=True)
class FlatTimeView:
    """A flat time; ``price`` is before tax, ``None`` where its rate is no more."""

    id: int
    name: str
    kind: str
    cause: str
    cause_title: str
    hours: Decimal
    rate: str
    price: Decimal | None


@dataclass(frozen=True, slots=True)
class FlatChoice:
    """A flat time on offer for a ticket, and what speaks for it, or empty."""

    flat: FlatTimeView
    why: str


def flat_times(shift: Shift) -> tuple[FlatTimeView, ...]:
    """Return all flat times by kind of machine, those for every kind first, then by name."""
    with shift.records.reading():
        return _all(load_shop())


def add_flat_time(shift: Shift, entry: FlatTimeEntry) -> FlatTimeView:
    """Add a flat time; raises ``JobError`` at the field."""
    with shift.changing() as change:
        row = FlatTime()
        _fill(change, row, entry)
        change.add(row)
        return _view(row, change.shop)


def change_flat_time(shift: Shift, flat_id: int, entry: FlatTimeEntry) -> FlatTimeView:
    """Change a flat time in place; lines that were made from it stay as they are."""
    with shift.changing() as change:
        row = _find(flat_id)
        _fill(change, row, entry)
        change.save(row)
        return _view(row, change.shop)


def drop_flat_time(shift: Shift, flat_id: int, why: str = "") -> None:
    """Drop a flat time; the journal keeps it, and so do the lines made from it."""
    with shift.changing() as change:
        change.remove(_find(flat_id), typed.line(why, "why", "The reason"))


def as_entry(flat: FlatTimeView) -> FlatTimeEntry:
    """Return a flat time as it would be typed."""
    return FlatTimeEntry(flat.name, show_quantity(flat.hours), flat.kind, flat.cause, flat.rate)


def causes_to_mend(kind: str = "") -> tuple[tuple[str, str], ...]:
    """Return the causes that a kind of machine can have, or all: (key, words)."""
    book = cause_book().by_key
    return tuple((key, cause.title) for key, cause in book.items() if _can_have(kind, key))


def flat_times_for(shift: Shift, ticket_id: int) -> tuple[FlatChoice, ...]:
    """Return the flat times for a ticket's machine, those that mend its likely causes first."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        fitting = [flat for flat in _all(shop) if flat.kind in ("", ticket.unit.kind)]
        chances = _chances(ticket, shop) if any(flat.cause for flat in fitting) else {}
        choices = [FlatChoice(flat, _why(flat, ticket, chances)) for flat in fitting]
        return tuple(sorted(choices, key=lambda one: _order(one.flat, ticket, chances)))


def flat_time_line(
    shift: Shift, ticket_id: int, flat_id: int, reason: str = "", finding_id: int | None = None
) -> TicketView:
    """Put a flat time on the ticket as a labour line at its set hours.

    Without a reason, one that mends a cause has ``failed``; else the owner asked for it.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_unless_open(ticket)
        row = _find(flat_id)
        entry = LineEntry(
            LineKind.LABOUR,
            row.name,
            show_quantity(row.hours),
            rate=row.rate,
            reason=reason or (Reason.FAILED if row.cause else Reason.ASKED),
            finding_id=finding_id,
        )
        put_line(change, ticket, entry)
        reckon(change, ticket)
        return ticket_view(ticket, change.shop, change.today)


def flat_hours(kind: str, cause: str) -> Decimal | None:
    """Return the set hours for mending a cause, inside a transaction, or ``None``.

    One for the kind of machine goes before one for every kind, and the longest before others.
    """
    rows = [row for row in rows_by(FlatTime, "cause", cause) if row.kind in ("", kind)]
    best = max(rows, key=lambda row: (row.kind == kind, row.hours), default=None) if cause else None
    return None if best is None else best.hours


def choice_words(choice: FlatChoice, shop: Shop) -> str:
    """Return a flat time on one line: ``Rebuild the carburettor: 0.8 h, $48.00, mends …``."""
    flat = choice.flat
    price = show_money(flat.price, shop.currency) if flat.price is not None else ""
    rate = f"at the rate {flat.rate}" if flat.rate else ""
    told = ", ".join(filter(None, (f"{show_quantity(flat.hours)} h", price, rate, choice.why)))
    return f"{flat.name}: {told}"


def _all(shop: Shop) -> tuple[FlatTimeView, ...]:
    rows = FlatTime.select().order_by(FlatTime.kind, FlatTime.name, FlatTime.id)
    return tuple(_view(row, shop) for row in rows)


def _view(row: FlatTime, shop: Shop) -> FlatTimeView:
    return FlatTimeView(
        id=row.id,
        name=row.name,
        kind=row.kind,
        cause=row.cause,
        cause_title=cause_title(row.cause, "") if row.cause else "",
        hours=row.hours,
        rate=row.rate,
        price=_price(row, shop),
    )


def _price(row: FlatTime, shop: Shop) -> Decimal | None:
    try:
        return round_money(row.hours * hourly(shop, row.rate))
    except JobError:
        return None


def _find(flat_id: int) -> FlatTime:
    row = row_of(FlatTime, flat_id)
    if row is None:
        raise JobError("That flat time is not there any more: open the list again.", "flat")
    return row


def _fill(change: Change, row: FlatTime, entry: FlatTimeEntry) -> None:
    row.name = typed.line(entry.name, "name", "The name", needed=True)
    row.hours = typed.bench_hours(entry.hours, "hours")
    row.kind = _kind(entry.kind)
    row.cause = _cause(entry.cause, row.kind)
    row.rate = rate_typed(entry.rate, "rate", change.shop)
    _refuse_double(row)


def _kind(typed_kind: str) -> str:
    kind = typed.line(typed_kind, "kind", "The kind of machine")
    known = (str(one) for one in Kind if letters_and_digits(one) == letters_and_digits(kind))
    return next(known, kind)


def _cause(typed_cause: str, kind: str) -> str:
    cause = typed.line(typed_cause, "cause", "What it puts right")
    if cause and not _can_have(kind, cause):
        raise JobError(
            f"“{cause[:40]}” is no cause that a {kind or 'machine'} can have: choose one of the "
            "list, or leave it empty.",
            "cause",
        )
    return cause


def _can_have(kind: str, cause: str) -> bool:
    known = cause_book().by_key.get(cause)
    if known is None:
        return False
    return not kind or any(known.fit.suits(Machine(kind, engine)) for engine in Engine)


def _refuse_double(row: FlatTime) -> None:
    for other in rows_by(FlatTime, "kind", row.kind):
        same = letters_and_digits(other.name) == letters_and_digits(row.name)
        if same and other.id != row.id:
            for_kind = f" for a {row.kind}" if row.kind else ""
            raise JobError(
                f"There is a flat time “{other.name}”{for_kind} already: change that one.", "name"
            )


def _chances(ticket: Ticket, shop: Shop) -> Mapping[str, float]:
    """Return the probability of each cause of a ticket's trouble, that was not ruled out."""
    causes = ranking_of(ticket, shop).causes
    return {cause.key: cause.probability for cause in causes if not cause.overruled}


def _why(flat: FlatTimeView, ticket: Ticket, chances: Mapping[str, float]) -> str:
    if not flat.cause:
        return ""
    if flat.cause == ticket.cause:
        return f"mends what it turned out to be ({flat.cause_title})"
    chance = round(100 * chances.get(flat.cause, 0.0))
    return f"mends {flat.cause_title}, {chance} in 100" if chance else f"mends {flat.cause_title}"


def _order(
    flat: FlatTimeView, ticket: Ticket, chances: Mapping[str, float]
) -> tuple[bool, float, bool, str]:
    mends = bool(ticket.cause) and flat.cause == ticket.cause
    return not mends, -chances.get(flat.cause, 0.0), not flat.kind, flat.name.casefold()

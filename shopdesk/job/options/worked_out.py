"""The ways out of a ticket's trouble side by side: what each costs, when, and what it is worth.

Worked out anew each time from the ticket, the catalogue, the odds and the queue; nothing is kept.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from shopdesk.job.options.guide import guide
from shopdesk.job.options.jobs import Jobs
from shopdesk.job.options.judged import ANOTHER, TITLES, Judge
from shopdesk.job.options.kit import kit_way
from shopdesk.job.options.lines import alike, replaceable
from shopdesk.job.options.odds import chances_of
from shopdesk.job.options.own import own_repairs
from shopdesk.job.options.parts import FittingParts
from shopdesk.job.options.price_new import price_new_of
from shopdesk.job.options.renewal import renewal
from shopdesk.job.options.rules import option_rules
from shopdesk.job.options.views import OptionsView, OptionView
from shopdesk.job.options.ways import Bench, LeftOut, Repair, by_the_book, what_failed
from shopdesk.job.options.wear import wear_of
from shopdesk.job.options.words import no_suggestion, rule_words, suggestion_words
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.standing import TicketRows, find_ticket, rows_of
from shopdesk.pricing.suggestion import Kind, Way, suggested
from shopdesk.records.tables import Ticket

_NO_PRICE = "What a new one costs is not known: type it on the Options page."


def options_for(shift: Shift, ticket_id: int) -> OptionsView:
    """Return the ways out of a ticket; raises ``JobError`` if there is no such ticket."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        return options_of(ticket, shop, shift.today_in(shop))


def options_of(
    ticket: Ticket, shop: Shop, today: date, rows: TicketRows | None = None
) -> OptionsView:
    """Do what ``options_for`` does, inside a transaction; ``rows`` are the ticket's, if known."""
    bench = _bench(rows or rows_of(ticket), shop, today)
    mending = _mending(bench, shop)
    judge, new = Judge(bench, shop, today), price_new_of(ticket.unit, shop)
    options = judge.repairs([way for way in mending.ways if isinstance(way, Repair)])
    left_out = [(way.title, way.why) for way in mending.ways if isinstance(way, LeftOut)]
    if new.price is None:
        left_out.append((TITLES[ANOTHER], _NO_PRICE))
    else:
        options.append(judge.another(new.price))
    options.append(judge.leave())
    key, sentence = _suggestion(options, shop)
    rests_on = guide(bench.chances, judge.life, judge.queue, shop)
    return OptionsView(
        options=tuple(replace(one, suggested=one.key == key) for one in options),
        left_out=tuple(left_out),
        suggestion=sentence,
        guide=(*rests_on, *filter(None, [new.words])),
        price_new=new.price,
        price_new_words=new.words,
        by_hand=mending.by_hand,
    )


@dataclass(frozen=True, slots=True)
class _Mending:
    """The repairs, and the lines on the ticket that none of them put there."""

    ways: tuple[Repair | LeftOut, ...]
    by_hand: tuple[str, ...]


def _bench(rows: TicketRows, shop: Shop, today: date) -> Bench:
    unit, chances = rows.ticket.unit, chances_of(rows.ticket)
    jobs = Jobs(FittingParts(unit, shop), shop, unit.kind)
    return Bench(rows, jobs, chances, wear_of(rows, jobs, chances, shop, today))


def _mending(bench: Bench, shop: Shop) -> _Mending:
    """Return what failed, the kit, the renewal, and the mechanic's own ways.

    The mechanic's lines say what failed, unless the book's ways put them on the ticket.
    """
    own, book = own_repairs(bench, shop), by_the_book(bench)
    by_book = () if isinstance(book, LeftOut) else _beside(bench, book, with_lines=False)
    known = [way for way in (*by_book, *own) if isinstance(way, Repair)]
    lines = replaceable(bench.rows)
    came = any(alike(lines, way.items) for way in known)
    by_hand = () if came else tuple(line.description for line in lines)
    failed = what_failed(bench, known)
    if isinstance(failed, LeftOut):
        return _Mending((failed, *own), by_hand)
    return _Mending((*_beside(bench, failed, with_lines=not came), *own), by_hand)


def _beside(bench: Bench, failed: Repair, *, with_lines: bool) -> tuple[Repair | LeftOut, ...]:
    return failed, kit_way(bench, failed), renewal(bench, failed, with_lines=with_lines)


def _suggestion(options: Sequence[OptionView], shop: Shop) -> tuple[str | None, str]:
    fair = option_rules().fair_chance
    key = suggested([_way(one) for one in options], fair)
    chosen = next((one for one in options if one.key == key), None)
    if chosen is None:
        return None, no_suggestion(fair, repairs=any(one.mends for one in options))
    return key, suggestion_words(chosen.title, rule_words(chosen.per_hour, shop.currency), fair)


def _way(option: OptionView) -> Way:
    kind = Kind.REPAIR if option.mends else Kind(option.key)
    cost = option.expected + option.later
    return Way(option.key, kind, option.chance, option.price_now, cost, option.per_hour)

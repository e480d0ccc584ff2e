"""The ways out of a ticket's trouble side by side: what each costs, when, and what it is worth.

Worked out anew each time from the ticket, the catalogue, the odds and the queue; nothing is kept.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.fix_order import tried_before_search
from shopdesk.job.option_guide import guide
from shopdesk.job.option_jobs import Item, Jobs
from shopdesk.job.option_kit import kit_way
from shopdesk.job.option_life import Life, life_of
from shopdesk.job.option_lines import alike, hours_kept, kept_lines, replaceable
from shopdesk.job.option_odds import Chances, chances_of
from shopdesk.job.option_parts import FittingParts
from shopdesk.job.option_renewal import left_undone, renewal
from shopdesk.job.option_rules import option_rules
from shopdesk.job.option_views import OptionsView, OptionView
from shopdesk.job.option_ways import FAILED, Bench, LeftOut, Repair, by_the_book, what_failed
from shopdesk.job.option_wear import wear_of
from shopdesk.job.option_words import (
    OwnersWords,
    in_a_hundred,
    no_suggestion,
    suggestion_words,
)
from shopdesk.job.own_options import own_repairs
from shopdesk.job.price_new import price_new_of
from shopdesk.job.queue import Queue, queue_before, ready_on
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.standing import (
    TicketRows,
    diagnosis_fee_with_tax,
    fee_is_owed,
    find_ticket,
    rows_of,
)
from shopdesk.job.what_if import PlainLine, price_lines
from shopdesk.pricing.options import GoingOn, Suspect, per_hour, prospects
from shopdesk.pricing.suggestion import Kind, Way, suggested
from shopdesk.pricing.totals import ZERO, LineKind
from shopdesk.records.tables import Ticket

ANOTHER, LEAVE = "another", "leave"
TITLES = {ANOTHER: "Another machine", LEAVE: "Leave it"}


def options_for(shift: Shift, ticket_id: int) -> OptionsView:
    """Return the ways out of a ticket; raises ``JobError`` if there is no such ticket."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        return options_of(ticket, shop, shift.today_in(shop))


def options_of(
    ticket: Ticket, shop: Shop, today: date, rows: TicketRows | None = None
) -> OptionsView:
    """Do what ``options_for`` does, inside a transaction."""
    return _Options(rows or rows_of(ticket), shop, today).view()


@dataclass(frozen=True, slots=True)
class _Beyond:
    """What is reckoned once for all ways that mend: the queue, and the price of each next fix."""

    suspects: tuple[Suspect, ...]
    search: Decimal
    queue: Queue
    life: Life


class _Options:
    """Works out the ways out of one ticket, inside a transaction."""

    def __init__(self, rows: TicketRows, shop: Shop, today: date) -> None:
        self._rows, self._shop, self._today = rows, shop, today
        self._unit = rows.ticket.unit
        chances = chances_of(rows.ticket)
        jobs = Jobs(FittingParts(self._unit, shop), shop, self._unit.kind)
        self._bench = Bench(rows, jobs, chances, wear_of(rows, jobs, chances, shop, today))
        self._kept = kept_lines(rows)
        self._words = OwnersWords(shop.currency)
        self._by_hand: tuple[str, ...] = ()
        self._fee = diagnosis_fee_with_tax(shop, rows.ticket) if fee_is_owed(rows) else ZERO
        self._new = price_new_of(self._unit, shop)
        self._beyond = _Beyond(
            tuple(self._suspects(chances)),
            self._price(self._search(chances)),
            queue_before(rows.ticket),
            life_of(self._unit, shop, today),
        )

    def view(self) -> OptionsView:
        """Return all of it."""
        ways = self._repairs()
        repairs = [way for way in ways if isinstance(way, Repair)]
        left_out = [(way.title, way.why) for way in ways if isinstance(way, LeftOut)]
        options = self._mending(repairs)
        if self._new.price is None:
            why = "What a new one costs is not known: type it on the Options page."
            left_out.append((TITLES[ANOTHER], why))
        else:
            options.append(self._another(self._new.price))
        options.append(self._leave())
        key, sentence = self._suggestion(options)
        return OptionsView(
            options=tuple(replace(one, suggested=one.key == key) for one in options),
            left_out=tuple(left_out),
            suggestion=sentence,
            guide=guide(self._bench.chances, self._beyond.life, self._beyond.queue, self._shop)
            + ((self._new.words,) if self._new.price is not None else ()),
            price_new=self._new.price,
            price_new_words=self._new.words,
            by_hand=self._by_hand,
        )

    def _repairs(self) -> tuple[Repair | LeftOut, ...]:
        """Return what failed, kit, renewal and the mechanic's own ways."""
        bench, own = self._bench, own_repairs(self._bench, self._shop)
        book = by_the_book(bench)
        by_book = () if isinstance(book, LeftOut) else self._beside(book, with_lines=False)
        known = [way for way in (*by_book, *own) if isinstance(way, Repair)]
        failed = what_failed(bench, known)
        if isinstance(failed, LeftOut):
            return failed, *own
        lines = replaceable(self._rows)
        came = any(alike(lines, way.items) for way in known)
        self._by_hand = () if came else tuple(line.description for line in lines)
        return *self._beside(failed, with_lines=not came), *own

    def _beside(self, failed: Repair, *, with_lines: bool) -> tuple[Repair | LeftOut, ...]:
        bench = self._bench
        return failed, kit_way(bench, failed), renewal(bench, failed, with_lines=with_lines)

    def _mending(self, repairs: Sequence[Repair]) -> list[OptionView]:
        found: list[OptionView] = []
        for way in repairs:
            first = found[0] if found and found[0].key == FAILED else None
            found.append(self._mended(way, first))
        return found

    def _mended(self, way: Repair, failed: OptionView | None) -> OptionView:
        """Return a repair priced and judged; ``failed`` is the view of only what failed."""
        price_now = self._price(way.items, self._kept)
        going_on = self._going_on(way.cures)
        suspects, rules = self._beyond.suspects, option_rules()
        comes = prospects(price_now, way.cures, suspects, going_on, rules.worst_from)
        undone = left_undone(self._bench, way)
        later = sum((self._price(one.items) for one in undone), ZERO)
        names = [one.title for one in undone]
        life = way.life_hours or self._beyond.life.left
        leads = [item.lead_days for item in way.items if item.kind is LineKind.PART]
        known = [lead for lead in leads if lead is not None]
        hours = way.hours + hours_kept(self._rows)
        return OptionView(
            key=way.key,
            title=way.title,
            words=self._said(way, price_now, comes.expected, comes.chance, failed)
            + self._words.undone(names, later),
            price_now=price_now,
            expected=comes.expected,
            worst=comes.worst,
            chance=comes.chance,
            chance_words=in_a_hundred(comes.chance),
            hours=hours,
            ready_on=ready_on(
                self._today, self._shop, self._beyond.queue, hours, max(known, default=0)
            ),
            ready_words=_parts_words(leads),
            life_hours=life,
            per_hour=per_hour(comes.expected + later, life),
            later=later,
            items=way.items,
            typical=any(item.typical for item in way.items),
            stands=alike(replaceable(self._rows), way.items),
            own_id=way.own_id,
        )

    def _said(
        self,
        way: Repair,
        now: Decimal,
        expected: Decimal,
        chance: Decimal,
        failed: OptionView | None,
    ) -> str:
        if way.key == FAILED:
            causes = [cause for cause in self._bench.chances.known if cause.key in way.cures]
            named = self._bench.chances.named in way.cures
            after = "." if expected == now else self._words.goes_on(expected)
            return self._words.failed(causes, named, chance, after)
        if way.own_id is not None or failed is None:
            return self._words.own(way, chance)
        saves = failed.expected - expected
        return self._words.more(way, now - failed.price_now, chance, saves)

    def _another(self, price: Decimal) -> OptionView:
        disposal = self._price([_fee(self._shop.disposal_fee)]) if self._shop.disposal_fee else ZERO
        whole, life = price + disposal + self._fee, self._beyond.life.new
        words = self._words.another(price, self._fee, disposal)
        return replace(
            self._plain(ANOTHER, words, whole),
            chance=Decimal(1),
            chance_words="a new one",
            life_hours=life,
            per_hour=per_hour(whole, life),
        )

    def _leave(self) -> OptionView:
        return self._plain(LEAVE, self._words.leave(self._fee), self._fee)

    def _plain(self, key: str, words: str, price: Decimal) -> OptionView:
        return OptionView(
            key=key,
            title=TITLES[key],
            words=words,
            price_now=price,
            expected=price,
            worst=price,
            chance=Decimal(0),
            chance_words="none",
            hours=Decimal(0),
            ready_on=None,
            ready_words="",
            life_hours=None,
            per_hour=None,
            later=ZERO,
            items=(),
            typical=False,
            stands=False,
        )

    def _suggestion(self, options: Sequence[OptionView]) -> tuple[str | None, str]:
        fair = option_rules().fair_chance
        key = suggested([_way(one) for one in options], fair)
        chosen = next((one for one in options if one.key == key), None)
        if chosen is None:
            return None, no_suggestion(fair, repairs=any(one.mends for one in options))
        return key, suggestion_words(chosen.title, self._least(chosen), fair)

    def _least(self, chosen: OptionView) -> str:
        if chosen.per_hour is None:
            return "it comes to the least on average until it runs,"
        return f"{self._words.money(chosen.per_hour)} for each hour of life, the least"

    def _suspects(self, chances: Chances) -> list[Suspect]:
        """Return every cause with its chance and what its own fix would cost."""
        return [
            Suspect(cause.key, chances.by_key[cause.key], self._price(self._fix(cause.key)))
            for cause in chances.evidence.causes
        ]

    def _fix(self, key: str) -> Sequence[Item]:
        cause = self._bench.chances.cause(key)
        if key == SOMETHING_ELSE:
            return [Item(LineKind.PART, cause.title, Decimal(1), cause.parts, "")]
        return self._bench.jobs.for_cause(cause)

    def _search(self, chances: Chances) -> Sequence[Item]:
        minutes = chances.cause(SOMETHING_ELSE).minutes
        return [Item(LineKind.LABOUR, "", minutes / 60, self._shop.bench_rate, "")]

    def _going_on(self, cures: frozenset[str]) -> GoingOn:
        """Return the bench's best way on once a first fix has not cured."""
        rest = [one for one in self._beyond.suspects if one.key not in cures]
        left = float(sum((one.probability for one in rest), Decimal(0)))
        known = [one for one in rest if one.key != SOMETHING_ELSE]
        if not left:
            return GoingOn((), self._beyond.search)
        tries = tried_before_search(
            [float(one.probability) / left for one in known],
            [float(one.price) for one in known],
            float(self._beyond.search),
        )
        return GoingOn(tuple(known[place].key for place in tries), self._beyond.search)

    def _price(self, items: Sequence[Item], kept: Sequence[PlainLine] = ()) -> Decimal:
        """Return what lines come to with tax and with what follows from them."""
        lines = [*kept, *(item.plain() for item in items)]
        return price_lines(self._rows, self._shop, lines).total


def _way(option: OptionView) -> Way:
    kind = Kind.REPAIR if option.mends else Kind(option.key)
    cost = option.expected + option.later
    return Way(option.key, kind, option.chance, option.price_now, cost, option.per_hour)


def _fee(amount: Decimal) -> Item:
    return Item(LineKind.FEE, "", Decimal(1), amount, "")


def _parts_words(leads: Sequence[int | None]) -> str:
    """Say what the parts mean for the day."""
    if not leads:
        return "no parts needed"
    if None in leads:
        return "not every part is offered yet"
    days = max(lead for lead in leads if lead is not None)
    if not days:
        return "parts are here"
    return "parts in 1 day" if days == 1 else f"parts in {days} days"

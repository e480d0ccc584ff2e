"""A way out judged: its price, when it is ready, what life it leaves, what it means in words."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopdesk.job.options.life import Life, life_of
from shopdesk.job.options.lines import alike, hours_kept, replaceable
from shopdesk.job.options.prices import OptionPrices
from shopdesk.job.options.renewal import left_undone
from shopdesk.job.options.views import OptionView
from shopdesk.job.options.ways import FAILED, Bench, Repair
from shopdesk.job.options.words import OwnersWords, in_a_hundred
from shopdesk.job.queue import Queue, queue_before, ready_on
from shopdesk.job.shop import Shop
from shopdesk.pricing.options import per_hour
from shopdesk.pricing.totals import ZERO, LineKind

ANOTHER, LEAVE = "another", "leave"
TITLES = {ANOTHER: "Another machine", LEAVE: "Leave it"}


class Judge:
    """Judges the ways out of one ticket, inside a transaction."""

    def __init__(self, bench: Bench, shop: Shop, today: date) -> None:
        self._bench, self._shop, self._today = bench, shop, today
        self._prices = OptionPrices(bench, shop)
        self._words = OwnersWords(shop.currency)
        self.life: Life = life_of(bench.rows.ticket.unit, shop, today)
        self.queue: Queue = queue_before(bench.rows.ticket)

    def repairs(self, ways: Sequence[Repair]) -> list[OptionView]:
        """Return repairs judged; those beside only what failed are told by the difference."""
        found: list[OptionView] = []
        for way in ways:
            failed = found[0] if found and found[0].key == FAILED else None
            found.append(self._repair(way, failed))
        return found

    def another(self, price: Decimal) -> OptionView:
        """Return another machine at a price, with the fee and what this one's disposal costs."""
        fee, disposal = self._prices.fee, self._prices.disposal
        whole = price + fee + disposal
        return replace(
            self._no_repair(ANOTHER, self._words.another(price, fee, disposal), whole),
            chance=Decimal(1),
            chance_words="a new one",
            life_hours=self.life.new,
            per_hour=per_hour(whole, self.life.new),
        )

    def leave(self) -> OptionView:
        """Return leaving it as it is: the fee is owed."""
        fee = self._prices.fee
        return self._no_repair(LEAVE, self._words.leave(fee), fee)

    def _repair(self, way: Repair, failed: OptionView | None) -> OptionView:
        price_now = self._prices.now(way)
        comes = self._prices.until_it_runs(way, price_now)
        undone = left_undone(self._bench, way)
        later = sum((self._prices.alone(one.items) for one in undone), ZERO)
        life = way.life_hours or self.life.left
        leads = [item.lead_days for item in way.items if item.kind is LineKind.PART]
        hours = way.hours + hours_kept(self._bench.rows)
        bare = OptionView(
            key=way.key,
            title=way.title,
            words="",
            price_now=price_now,
            expected=comes.expected,
            worst=comes.worst,
            chance=comes.chance,
            chance_words=in_a_hundred(comes.chance),
            hours=hours,
            ready_on=self._ready(hours, leads),
            ready_words=_parts_words(leads),
            life_hours=life,
            per_hour=per_hour(comes.expected + later, life),
            later=later,
            items=way.items,
            typical=any(item.typical for item in way.items),
            stands=alike(replaceable(self._bench.rows), way.items),
            own_id=way.own_id,
        )
        left = self._words.undone([one.title for one in undone], later)
        return replace(bare, words=self._said(way, bare, failed) + left)

    def _said(self, way: Repair, option: OptionView, failed: OptionView | None) -> str:
        if way.key == FAILED:
            chances = self._bench.chances
            causes = [cause for cause in chances.known if cause.key in way.cures]
            certain = option.expected == option.price_now
            after = "." if certain else self._words.goes_on(option.expected)
            return self._words.failed(causes, chances.named in way.cures, option.chance, after)
        if way.own_id is not None or failed is None:
            return self._words.own(way, option.chance)
        difference, saves = option.price_now - failed.price_now, failed.expected - option.expected
        return self._words.more(way, difference, option.chance, saves)

    def _ready(self, hours: Decimal, leads: Sequence[int | None]) -> date:
        longest = max((lead for lead in leads if lead is not None), default=0)
        return ready_on(self._today, self._shop.bench_hours_per_day, self.queue, hours, longest)

    def _no_repair(self, key: str, words: str, price: Decimal) -> OptionView:
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

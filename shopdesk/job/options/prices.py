"""What ways out cost the owner: now, on average until it runs, and at worst."""

from collections.abc import Sequence
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.fix_order import tried_before_search
from shopdesk.job.options.jobs import Item
from shopdesk.job.options.lines import kept_lines
from shopdesk.job.options.rules import option_rules
from shopdesk.job.options.ways import Bench, Repair
from shopdesk.job.shop import Shop
from shopdesk.job.standing import diagnosis_fee_with_tax, fee_is_owed
from shopdesk.job.what_if import price_lines
from shopdesk.pricing.options import GoingOn, Prospects, Suspect, prospects
from shopdesk.pricing.totals import ZERO, LineKind


class OptionPrices:
    """Prices the ways out of one ticket, with tax and all that follows; inside a transaction.

    Further fixes are priced each by itself, so that their tax may be a cent off that of one bill.
    """

    def __init__(self, bench: Bench, shop: Shop) -> None:
        self._bench = bench
        self._shop = shop
        self._kept = kept_lines(bench.rows)
        self._search = self.alone(self._searching())
        self._suspects = tuple(
            Suspect(cause.key, bench.chances.by_key[cause.key], self.alone(self._fix(cause.key)))
            for cause in bench.chances.evidence.causes
        )

    def now(self, way: Repair) -> Decimal:
        """Return what the ticket comes to once the lines of a way are on it."""
        kept, items = self._kept, (item.plain() for item in way.items)
        return price_lines(self._bench.rows, self._shop, [*kept, *items]).total

    def alone(self, items: Sequence[Item]) -> Decimal:
        """Return what lines come to by themselves."""
        lines = [item.plain() for item in items]
        return price_lines(self._bench.rows, self._shop, lines).total

    def until_it_runs(self, way: Repair, price_now: Decimal) -> Prospects:
        """Return the chance that a way cures, and what is paid until it runs."""
        then, least = self._going_on(way.cures), option_rules().worst_from
        return prospects(price_now, way.cures, self._suspects, then, least)

    @property
    def fee(self) -> Decimal:
        """The diagnosis fee that a no costs."""
        rows = self._bench.rows
        return diagnosis_fee_with_tax(self._shop, rows.ticket) if fee_is_owed(rows) else ZERO

    @property
    def disposal(self) -> Decimal:
        """What getting rid of the machine costs."""
        fee = self._shop.disposal_fee
        return self.alone([Item(LineKind.FEE, "", Decimal(1), fee, "")]) if fee else ZERO

    def _fix(self, key: str) -> Sequence[Item]:
        """Return the lines of a cause's own fix; of "something else" only its parts are known."""
        cause = self._bench.chances.cause(key)
        if key == SOMETHING_ELSE:
            return [Item(LineKind.PART, cause.title, Decimal(1), cause.parts, "")]
        return self._bench.jobs.for_cause(cause)

    def _searching(self) -> Sequence[Item]:
        minutes = self._bench.chances.cause(SOMETHING_ELSE).minutes
        return [Item(LineKind.LABOUR, "", minutes / 60, self._shop.bench_rate, "")]

    def _going_on(self, cures: frozenset[str]) -> GoingOn:
        """Return the bench's best way on once a first fix has not cured."""
        rest = [one for one in self._suspects if one.key not in cures]
        left = float(sum((one.probability for one in rest), Decimal(0)))
        if not left:
            return GoingOn((), self._search)
        known = [one for one in rest if one.key != SOMETHING_ELSE]
        tries = tried_before_search(
            [float(one.probability) / left for one in known],
            [float(one.price) for one in known],
            float(self._search),
        )
        return GoingOn(tuple(known[place].key for place in tries), self._search)

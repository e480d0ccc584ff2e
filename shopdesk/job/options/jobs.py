"""What putting something right takes: parts and labour as lines that are thought of, not kept."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.cause_book import Cause
from shopdesk.job.labour.flat_times import flat_hours
from shopdesk.job.line_entry import LineEntry
from shopdesk.job.options.parts import FittingParts, Needed
from shopdesk.job.options.rules import option_rules
from shopdesk.job.reasons import Reason
from shopdesk.job.shop import Shop
from shopdesk.job.standing import ON_HAND, TO_ORDER
from shopdesk.job.what_if import PlainLine
from shopdesk.pricing.labour import TENTH, tenths
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind

TYPICAL = "typical price, not in our catalogue: check it before it is quoted"

NO_PRICE = "no price in our catalogue yet: set it before it is quoted"


@dataclass(frozen=True, slots=True)
class Item:
    """A line that is thought of. ``lead_days`` until its part is here, None where not known."""

    kind: LineKind
    description: str
    quantity: Decimal
    unit_price: Decimal
    reason: str
    note: str = ""
    finding_id: int | None = None
    part_id: int | None = None
    part_number: str = ""
    condition: str = ""
    renews: str = ""
    lead_days: int | None = 0
    typical: bool = False
    """Whether the catalogue has no price for it, so that a typical one, or none, stands there."""
    off: Decimal | None = None

    def plain(self) -> PlainLine:
        """Return it as the sums need it."""
        return PlainLine(self.kind, self.quantity, self.unit_price, self.off, self.reason)

    def entry(self) -> LineEntry:
        """Return it as it would be typed."""
        return LineEntry(
            kind=self.kind,
            description=self.description,
            quantity=show_quantity(self.quantity),
            unit_price=f"{self.unit_price}",
            reason=self.reason,
            reason_note=self.note,
            part_number=self.part_number,
            condition=self.condition,
            finding_id=self.finding_id,
            renews=self.renews,
            supply=self._supply(),
            part_id=self.part_id,
            off="" if self.off is None else f"{self.off}",
        )

    def _supply(self) -> str:
        """Return where a part is that the catalogue does not know; the stock says it of others."""
        if self.kind is not LineKind.PART or self.part_id is not None:
            return ""
        return ON_HAND if self.lead_days == 0 else TO_ORDER


@dataclass(frozen=True, slots=True)
class Fitting:
    """The bench time of one thing: ``minutes`` on its own, ``system`` is what is opened for it."""

    title: str
    minutes: Decimal
    system: str


class Jobs:
    """Makes the lines of one machine's jobs, inside a transaction."""

    def __init__(self, parts: FittingParts, shop: Shop, kind: str) -> None:
        self.parts = parts
        self._shop = shop
        self._kind = kind

    def for_cause(
        self, cause: Cause, reason: Reason = Reason.FAILED, finding_id: int | None = None
    ) -> tuple[Item, ...]:
        """Return the lines of putting a cause right, with parts at the shop's prices.

        Where the catalogue has none the book's typical price stands for them.
        """
        needed = self.parts.for_cause(cause.key)
        parts = [self.part(one, reason, finding_id) for one in needed] or _typical(cause, reason)
        labour = self.labour(cause.fix, self._minutes(cause), reason, finding_id)
        return (*parts, labour)

    def fitting(self, title: str, part_ids: Iterable[int], causes: Sequence[Cause]) -> Fitting:
        """Return the bench time of fitting parts, by the longest of the causes that they cure."""
        keys = self.parts.causes_of(part_ids)
        cured = [cause for cause in causes if cause.key in keys]
        if not cured:
            return Fitting(title, option_rules().wear_minutes, title)
        longest = max(cured, key=self._minutes)
        return Fitting(title, self._minutes(longest), longest.system or longest.key)

    def part(
        self, needed: Needed, reason: Reason, finding_id: int | None = None, note: str = ""
    ) -> Item:
        """Return a part of the catalogue as a line at the price in force."""
        part, quantity = needed
        price = self.parts.price_of(part)
        return Item(
            kind=LineKind.PART,
            description=part.name,
            quantity=quantity,
            unit_price=Decimal("0.00") if price is None else price,
            reason=reason,
            note=NO_PRICE if price is None else note,
            finding_id=finding_id,
            part_id=part.id,
            part_number=part.number,
            condition=part.condition,
            renews=min(self.parts.tasks_of([part.id]), default=""),
            lead_days=self.parts.lead_of(part, quantity),
            typical=price is None,
        )

    def labour(
        self, words: str, minutes: Decimal, reason: Reason, finding_id: int | None = None
    ) -> Item:
        """Return bench time as a line at the bench rate, in tenths of an hour."""
        hours = max(tenths(minutes, self._shop.tenths), TENTH)
        rate = self._shop.bench_rate
        return Item(LineKind.LABOUR, words, hours, rate, reason, finding_id=finding_id)

    def _minutes(self, cause: Cause) -> Decimal:
        """Return the bench time of a cause: the shop's set time before the book's."""
        hours = flat_hours(self._kind, cause.key)
        return cause.minutes if hours is None else hours * 60


def minutes_together(fittings: Sequence[Fitting], opened: Iterable[str] = ()) -> Decimal:
    """Return the minutes of things done in one go.

    Those on what is `opened` for another take a share of their time; of each further system the
    longest takes all of it.
    """
    open_now, whole = set(opened), Decimal(0)
    for one in sorted(fittings, key=lambda each: -each.minutes):
        share = option_rules().further_job if one.system in open_now else Decimal(1)
        whole += one.minutes * share
        open_now.add(one.system)
    return whole


def hours_of(items: Iterable[Item]) -> Decimal:
    """Return the bench hours of lines."""
    return sum((item.quantity for item in items if item.kind is LineKind.LABOUR), Decimal(0))


def part_ids_of(items: Iterable[Item]) -> frozenset[int]:
    """Return the parts of the catalogue among lines."""
    return frozenset(item.part_id for item in items if item.part_id is not None)


def _typical(cause: Cause, reason: Reason) -> list[Item]:
    """Return the parts of a cause that the catalogue does not know, at the book's typical price."""
    if not cause.parts:
        return []
    return [
        Item(
            LineKind.PART,
            f"Parts for: {cause.fix[:1].lower()}{cause.fix[1:]}",
            Decimal(1),
            cause.parts.quantize(Decimal("0.01")),
            reason,
            note=TYPICAL,
            lead_days=None,
            typical=True,
        )
    ]

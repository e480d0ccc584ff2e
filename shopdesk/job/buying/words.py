"""The words of a basket: who sends what for how much, when all is here, what a kit saves."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.dates import show_date
from shopdesk.job.buying.market import Shopping
from shopdesk.job.buying.views import CHEAPEST, BasketView, PurchaseView
from shopdesk.pricing.basket import Basket, Pick, Postage, SupplierOrder
from shopdesk.pricing.basket_lack import BasketError, Lack, Why
from shopdesk.pricing.money import show_money, show_quantity


@dataclass(frozen=True, slots=True)
class Teller:
    """Says what stands in a basket, on a day, in the shop's currency."""

    shopping: Shopping
    today: date
    currency: str

    def basket(self, aim: str, title: str, basket: Basket) -> BasketView:
        """Return a basket as it is shown."""
        ready_on = self.today + timedelta(days=basket.ready_days)
        purchases = tuple(map(self._purchase, basket.orders))
        return BasketView(
            aim=aim,
            title=title,
            total=basket.total,
            ready_on=ready_on,
            ready=f"all here {self._day(basket.ready_days)}",
            purchases=purchases,
            notes=tuple(self._notes(basket, kits_lose=aim == CHEAPEST)),
            question=self._question(basket),
            basket=basket,
        )

    def unasked(self, aim: str, title: str, words: str) -> BasketView:
        """Return what is missing before a basket can be sought for an aim."""
        return BasketView(aim, title, None, None, "", (), (), "", trouble=words)

    def none(self, aim: str, title: str, error: BasketError) -> BasketView:
        """Return why there is no basket for an aim."""
        words = " ".join(dict.fromkeys(map(self._lack, error.lacks)))
        return self.unasked(aim, title, words)

    def _purchase(self, order: SupplierOrder) -> PurchaseView:
        words = (
            f"{order.supplier.name}: {_parts(order.picks)}, {self._sum(order)}, "
            f"here {self._day(order.ready_days)}"
        )
        items = tuple(map(self._item, order.picks))
        return PurchaseView(order.supplier.name, words, items, order.total)

    def _sum(self, order: SupplierOrder) -> str:
        goods, free_from = self._money(order.goods), order.supplier.free_postage_from
        match order.why:
            case Postage.NONE:
                return f"{goods}, no postage"
            case Postage.SAVED:
                return f"{goods}, postage free (from {self._money(free_from or Decimal(0))})"
            case Postage.PAID:
                from_ = f" (free from {self._money(free_from)})" if free_from is not None else ""
                return f"{goods} + {self._money(order.postage)} postage{from_}"

    def _item(self, pick: Pick) -> str:
        source = self.shopping.sources[pick.offer.key]
        pack = "" if source.pack == 1 else f", packs of {show_quantity(source.pack)}"
        kit = " (kit)" if pick.offer.is_kit else ""
        number = source.supplier_number or source.number
        return f"{pick.packs} × {source.name}{kit}, {number}{pack}, {self._money(pick.cost)}"

    def _notes(self, basket: Basket, *, kits_lose: bool) -> Iterable[str]:
        here: dict[str, Decimal] = defaultdict(Decimal)
        for share in basket.from_stock:
            if share.need not in self.shopping.low:
                here[share.part] += share.quantity
        if here:
            yield f"From the bin: {self._listed(here)}."
        if basket.kits:
            yield self._kit_words(basket)
        elif kits_lose and any(one.is_kit for one in self.shopping.market.offers):
            yield "No kit on offer would be cheaper."
        over: dict[str, Decimal] = defaultdict(Decimal)
        for left in basket.leftovers:
            over[left.part] += left.quantity
        if over:
            yield f"Left over, goes into stock: {self._listed(over)}."

    def _kit_words(self, basket: Basket) -> str:
        kits = sum(pick.packs for pick in basket.kits)
        name, it = ("The kit is", "it") if kits == 1 else (f"The {kits} kits are", "them")
        if basket.saved_by_kits is None:
            return f"Not all of it can be had without {it}."
        if not basket.saved_by_kits:
            return f"{name} no dearer than the single parts."
        saved = self._money(basket.saved_by_kits)
        return f"{name} {saved} cheaper than the single parts, postage counted."

    def _question(self, basket: Basket) -> str:
        sums = [f"{one.supplier.name} {self._money(one.total)}" for one in basket.orders]
        if not sums:
            return "Take all of it from the bin?"
        whole = f"; {self._money(basket.total)} in all" if len(sums) > 1 else ""
        return f"Order from {', '.join(sums)}{whole}, {self._here(basket)}?"

    def _here(self, basket: Basket) -> str:
        return f"all here {self._day(basket.ready_days)}"

    def _listed(self, pieces: dict[str, Decimal]) -> str:
        named = ((self.shopping.names.get(part, part), many) for part, many in pieces.items())
        return ", ".join(f"{show_quantity(many)} × {name}" for name, many in named)

    def _lack(self, lack: Lack) -> str:
        if lack.why is Why.LATE and lack.soonest_days is not None:
            return f"“{lack.title}” is here {self._day(lack.soonest_days)} at the soonest."
        return lack.sentence

    def _day(self, days: int) -> str:
        return "today" if not days else show_date(self.today + timedelta(days=days), self.today)

    def _money(self, amount: Decimal) -> str:
        return show_money(amount, self.currency)


def _parts(picks: tuple[Pick, ...]) -> str:
    """Return how many different parts, and kits, those are: ``3 parts``, ``a kit and 1 part``."""
    kits = sum(pick.packs for pick in picks if pick.offer.is_kit)
    parts = sum(not pick.offer.is_kit for pick in picks)
    words = []
    if kits:
        words.append("a kit" if kits == 1 else f"{kits} kits")
    if parts:
        words.append("1 part" if parts == 1 else f"{parts} parts")
    return " and ".join(words)

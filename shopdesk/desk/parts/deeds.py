"""What can be done with a part: count it, order it, take some out, open a kit, retire it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shopdesk.job.parts.catalogue import drop_part, keep_part
from shopdesk.job.parts.counting import WAYS_OUT, Counted, count_part, take_out
from shopdesk.job.parts.kits import open_kit
from shopdesk.job.parts.views import PartRow, PartView
from shopdesk.pricing.money import show_money, show_quantity

if TYPE_CHECKING:
    from shopdesk.desk.parts.card import PartCard
    from shopdesk.desk.sheet import Sheet


class PartDeeds:
    """The further actions of a part's card; none of them for a part that is not saved yet."""

    def __init__(self, card: PartCard) -> None:
        self._card = card
        self._buttons = [
            card.action(words, key, run)
            for words, key, run in (
                ("Count …", "Alt+C", self._count),
                ("Order …", "Alt+O", self._order),
                ("Take out …", "Alt+T", self._take_out),
                ("Open kits …", "Alt+K", self._open_kit),
                ("Retire it", "Alt+V", self._keep_or_not),
                ("Drop …", "Alt+X", self._drop),
            )
        ]
        self._kit, self._kept = self._buttons[3], self._buttons[4]

    def show(self, part: PartView | None) -> None:
        """Offer what can be done with a part."""
        for button in self._buttons:
            button.state(["disabled" if part is None else "!disabled"])
        if part is not None:
            self._kit.state(["!disabled" if part.is_kit else "disabled"])
            self._kept.configure(text=f"{'Retire it' if part.active else 'Bring it back'}  Alt+V")

    def _count(self) -> None:
        counted = count(self._card, self._card.part.row)
        if counted is not None:
            self._card.show_anew()
            self._card.front.refresh_board()

    def _order(self) -> None:
        from shopdesk.desk.parts.order_card import OrderCard
        from shopdesk.job.parts.ordering import order_part

        card, part, dialogs = self._card, self._card.part, self._card.front.dialogs
        if not part.offers:
            card.front.notices.trouble("Nobody is noted who sells it: note an offer first (Alt+S).")
            return
        place = dialogs.choose(
            "Order it", f"{part.number} {part.name}: from whom?", [one.words for one in part.offers]
        )
        if place is None:
            return
        offer = part.offers[place]
        question = f"How many packs of {show_quantity(offer.pack)} from {offer.supplier}?"
        packs = dialogs.ask_text("Order it", question, "1")
        if packs is None:
            return
        shift = card.front.shift
        order = card.attempt(lambda: order_part(shift, part.id, offer.supplier_id, packs))
        if order is not None:
            card.front.open_card(OrderCard, order.id)

    def _take_out(self) -> None:
        card, part, dialogs = self._card, self._card.part, self._card.front.dialogs
        place = dialogs.choose("Take out", f"What becomes of the {part.name}?", WAYS_OUT)
        if place is None:
            return
        why = WAYS_OUT[place]
        asked = dialogs.ask_text("Take out", f"How many are {why}?", "1")
        if asked is not None:
            shift, said = card.front.shift, f"Taken out of the bin: {why}."
            card.deed(lambda: take_out(shift, part.id, asked, why), said=said)

    def _open_kit(self) -> None:
        card, part = self._card, self._card.part
        asked = card.front.dialogs.ask_text(
            "Open a kit",
            f"How many of the {part.name} are opened? Its parts go into the bins.",
            "1",
        )
        if asked is not None:
            said = "The kit is opened; its parts lie in their bins."
            card.deed(lambda: open_kit(card.front.shift, part.id, asked), said=said)

    def _keep_or_not(self) -> None:
        card, part = self._card, self._card.part
        said = (
            "It is retired: offered no more; what is left of it and its past stay."
            if part.active
            else "It is one of our parts again."
        )
        card.deed(lambda: keep_part(card.front.shift, part.id, not part.active), said=said)

    def _drop(self) -> None:
        card, part = self._card, self._card.part
        why = card.front.dialogs.ask_text(
            "Drop a part", f"Why was {part.number} {part.name} written down by mistake?"
        )
        if why is not None and card.did(lambda: drop_part(card.front.shift, part.id, why)):
            card.leave()
            card.front.notices.say("The part is off the catalogue; the journal keeps it.")


def count(sheet: Sheet, part: PartRow) -> Counted | None:
    """Ask how many of a part lie in its bin, and set it so; ``None`` if that was not done."""
    bin_words = f"bin {part.bin}" if part.bin else "its bin"
    booked = show_quantity(part.quantity)
    counted = sheet.front.dialogs.ask_text(
        "Count",
        f"How many of {part.number} {part.name} lie in {bin_words}? Written down: {booked}.",
    )
    if counted is None:
        return None
    shift = sheet.front.shift
    done = sheet.attempt(lambda: count_part(shift, part.id, counted), said="Counted.")
    if done is not None and done.lost:
        sheet.front.notices.trouble(" ".join(done.lost))
    return done


def level_words(part: PartRow | PartView) -> str:
    """Return how many there are: in the bin, of them for tickets, free, on order."""
    lies = f"In the bin {show_quantity(part.quantity)}"
    promised = (
        f", of them {show_quantity(part.reserved)} for tickets: {show_quantity(part.free)} free."
        if part.reserved
        else "."
    )
    coming = f"  On order {show_quantity(part.on_order)}." if part.on_order else ""
    gone = "" if part.active else "  Retired: it is offered no more."
    return f"{lies}{promised}{coming}{gone}"


def price_words(part: PartRow | PartView, currency: str) -> str:
    """Return what a part costs the owner and us, and how we know."""
    price = (
        f"{part.price_words[:1].upper()}{part.price_words[1:]}."
        if part.price is None
        else f"Price {show_money(part.price, currency)}: {part.price_words}."
    )
    cost = (
        f"What it costs us is {part.cost_words}."
        if part.cost is None
        else f"It costs us {show_money(part.cost, currency)}: {part.cost_words}."
    )
    return f"{price}  {cost}"

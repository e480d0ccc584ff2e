"""What suppliers ask for a part: the list, and the form for one offer."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import ClassVar

from shopdesk.dates import show_date
from shopdesk.desk.entries import Entries
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.line_held import hold
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.parts.offers import OfferEntry, add_offer, change_offer, drop_offer, offer_entry
from shopdesk.job.parts.suppliers import suppliers
from shopdesk.job.parts.views import OfferView, PartView
from shopdesk.pricing.money import show_money, show_quantity


class PartOffers(Entries):
    """Who sells it, under which number, in what packs, for how much and in how many days."""

    name, held = "offer", "offer"
    new: ClassVar[Mapping[str, Value]] = {"pack": "1"}
    add_words = "Note the offer"
    keys_words = "In the list: Enter changes one, Delete drops it."

    def build(self) -> None:
        """Put list and form."""
        self._offers: dict[int, OfferView] = {}
        self.list = RowList(
            self,
            [
                Column("Supplier", 190, grows=True),
                Column("Their number", 130, grows=True),
                Column("Pack of", 64, right=True),
                Column("Pack costs", 84, right=True),
                Column("Each", 76, right=True),
                Column("Days", 56, right=True),
                Column("Asked", 110),
            ],
            lines=3,
            empty="Nobody is noted who sells it: name a supplier and what a pack costs.",
        )
        self.list.pack(fill="x")
        self.list.on_open(lambda key: self._change(self._offers[key]))
        self.list.bind_key("<Delete>", lambda key: self._drop(self._offers[key]))
        self.form = form = Form(self, columns=12)
        self._supplier = form.choice("supplier_id", "Supplier  Alt+S", [], span=4)
        form.line("supplier_number", "Their number", span=2)
        form.line("pack", "Pack of", span=2)
        form.line("cost", "Pack costs us", span=2)
        form.line("lead_days", "Days", "if not their usual", span=2)
        hold(form, "offer")
        form.pack(fill="x", pady=(4, 0))
        self.card.front.keys.add(self, "Alt+S", "Note what a supplier asks for it", self.begin)

    def show(self, part: PartView) -> None:
        """Show a part's offers."""
        shift = self.card.front.shift
        shop, today = shift.shop, shift.today
        self._offers = {offer.id: offer for offer in part.offers}
        self.list.show(
            [
                (
                    offer.id,
                    (
                        offer.supplier,
                        offer.supplier_number,
                        show_quantity(offer.pack),
                        show_money(offer.cost, shop.currency),
                        show_money(offer.each, shop.currency),
                        str(offer.days),
                        show_date(offer.asked_on, today),
                    ),
                )
                for offer in part.offers
            ]
        )
        self._supplier.offer([(str(one.id), one.name) for one in suppliers(shift)])
        self.empty()

    def keep(self) -> bool:
        """Note the offer that is typed, or keep the change of one."""
        return self.card.did(self._write, self.form, said="The offer is noted.") and self.done()

    def _write(self) -> PartView:
        shift, entry = self.card.front.shift, self.form.into(OfferEntry)
        if self.changing is not None:
            known = self._offers.get(self.changing)
            return change_offer(shift, self.changing, entry, known.version if known else None)
        assert self.card.known is not None
        return add_offer(shift, self.card.known, self._supplier_id(), entry)

    def _supplier_id(self) -> int:
        typed = self.form.text_of("supplier_id").strip()
        if typed.isdecimal():
            return int(typed)
        raise JobError(_no_supplier(typed, suppliers(self.card.front.shift)), "supplier_id")

    def _change(self, offer: OfferView) -> None:
        self.change(
            {
                **asdict(offer_entry(offer)),
                "offer": str(offer.id),
                "supplier_id": str(offer.supplier_id),
            }
        )
        self.form["cost"].focus_input()

    def _drop(self, offer: OfferView) -> None:
        question = f"Why does {offer.supplier} not sell it any more?"
        why = self.card.front.dialogs.ask_text("Drop an offer", question)
        shift = self.card.front.shift
        if why is not None:
            said = "The offer is off; the journal keeps it."
            self.card.deed(lambda: drop_offer(shift, offer.id, why), said=said)


def _no_supplier(typed: str, known: Sequence[object]) -> str:
    if not known:
        return "No supplier is written down yet: write one down first (Ctrl+1, then Alt+U)."
    if not typed:
        return "Say who asks that: choose a supplier."
    return f"“{typed[:40]}” is no supplier of ours: choose one of the list."

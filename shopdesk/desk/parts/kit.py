"""What a kit holds: the list of its parts, and the form for one of them."""

from collections.abc import Mapping
from typing import ClassVar

from shopdesk.desk.entries import Entries
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.line_held import hold
from shopdesk.desk.parts.suggest import HELD, PartPick
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.views import KitPartView, PartView
from shopdesk.pricing.money import show_quantity


class PartKit(Entries):
    """Parts by their numbers, and how many of each; a part that holds any is a kit."""

    name = "kit"
    new: ClassVar[Mapping[str, Value]] = {"quantity": "1"}
    add_words = "It holds this"
    keys_words = "Enter opens it, Delete takes it out."

    def build(self) -> None:
        """Put list and form."""
        self._holds: dict[int, KitPartView] = {}
        self.list = RowList(
            self,
            [
                Column("Part number", 110),
                Column("Name", 180, grows=True),
                Column("How many", 88, right=True),
            ],
            lines=3,
            empty="It is a single part. Add parts to make it a kit.",
        )
        self.list.pack(fill="x")
        self.list.on_open(lambda key: self._open(key))
        self.list.bind_key("<Delete>", self._drop)
        self.form = form = Form(self, columns=12)
        part = form.line("part", "Part  Alt+I", "number or name", span=8)
        form.line("quantity", "How many", span=4)
        hold(form, HELD)
        form.pack(fill="x", pady=(4, 0))
        self.pick = PartPick(form, part, self.card.front.shift)
        self.card.front.keys.add(self, "Alt+I", "Put a part into the kit", self.begin)

    def show(self, part: PartView) -> None:
        """Show what a part holds."""
        self._holds = {one.part_id: one for one in part.holds}
        self.list.show(
            [
                (one.part_id, (one.number, one.name, show_quantity(one.quantity)))
                for one in part.holds
            ]
        )
        self.empty()

    def keep(self) -> bool:
        """Put the typed part into the kit; one that is in it already gets the typed number."""
        if self.pick.suggestions.take_chosen():
            return False
        return self.card.did(self._with_typed, self.form, said="The kit holds it.") and self.done()

    def _with_typed(self) -> PartView:
        part_id = self.pick.part_id()
        return self._set({**self._entries(), part_id: self.form.text_of("quantity")})

    def _entries(self) -> dict[int, str]:
        return {key: show_quantity(one.quantity) for key, one in self._holds.items()}

    def _set(self, entries: dict[int, str]) -> PartView:
        assert self.card.known is not None
        contents = [KitEntry(part_id, quantity) for part_id, quantity in entries.items()]
        try:
            return set_kit(self.card.front.shift, self.card.known, contents)
        except JobError as error:
            field = error.field if error.field == "quantity" else "part"
            raise JobError(error.sentence, field) from error

    def _drop(self, part_id: int) -> None:
        entries = self._entries()
        del entries[part_id]
        self.card.deed(lambda: self._set(entries), said="The kit holds it no more.")

    def _open(self, part_id: int) -> None:
        from shopdesk.desk.parts.card import PartCard

        self.card.front.open_card(PartCard, part_id)

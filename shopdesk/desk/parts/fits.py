"""What a part is for: the machines it fits, the causes it cures, the upkeep it does."""

from collections.abc import Mapping
from typing import ClassVar

from shopdesk.desk.entries import Entries
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.parts.fits import (
    FitEntry,
    add_fit,
    cause_choices,
    drop_fit,
    kind_choices,
    task_choices,
)
from shopdesk.job.parts.views import PartView
from shopdesk.pricing.money import show_quantity

_NONE = ("", "")


class PartFits(Entries):
    """One machine, cause or task to a row; the cause book and the upkeep plan give the choices."""

    name = "fit"
    new: ClassVar[Mapping[str, Value]] = {"quantity": "1"}
    add_words = "It is for this"
    keys_words = "In the list: Delete takes it off."

    def build(self) -> None:
        """Put list and form."""
        self.list = RowList(
            self,
            [Column("For", 280, grows=True), Column("Takes", 60, right=True)],
            lines=3,
            empty="Nothing is said: say which machine, and what it cures.",
        )
        self.list.pack(fill="x")
        self.list.bind_key("<Delete>", self._drop)
        self.form = form = Form(self, columns=12)
        form.choice("kind", "Kind  Alt+F", ["", *kind_choices()], span=4)
        form.line("make", "Make", span=4)
        form.line("model", "Model", span=4)
        form.choice("cause", "Cures", [_NONE, *cause_choices()], span=5)
        form.choice("task", "Upkeep", [_NONE, *task_choices()], span=4)
        form.line("quantity", "Takes", span=3)
        form.pack(fill="x", pady=(4, 0))
        self.card.front.keys.add(self, "Alt+F", "Say what it is for", self.begin)

    def show(self, part: PartView) -> None:
        """Show what a part is for."""
        self.list.show([(fit.id, (fit.words, show_quantity(fit.quantity))) for fit in part.fits])
        self.empty()

    def keep(self) -> bool:
        """Note what is typed."""
        known = self.card.known
        assert known is not None
        shift, entry = self.card.front.shift, self.form.into(FitEntry)
        said = "It is noted what it is for."
        return (
            self.card.did(lambda: add_fit(shift, known, entry), self.form, said=said)
            and self.done()
        )

    def _drop(self, fit_id: int) -> None:
        shift = self.card.front.shift
        self.card.deed(lambda: drop_fit(shift, fit_id), said="It is not for that any more.")

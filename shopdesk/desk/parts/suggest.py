"""Finding a part of the catalogue while its number or its name is typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from shopdesk.desk.fields import LineField
from shopdesk.desk.forms import Form
from shopdesk.desk.suggest import Offer, Suggestions, take_or_leave
from shopdesk.errors import JobError
from shopdesk.job.parts.catalogue import part_numbered
from shopdesk.job.parts.find import find_parts
from shopdesk.job.parts.views import PartRow
from shopdesk.job.shift import Shift
from shopdesk.pricing.money import show_money, show_quantity

HELD = "part_id"
"""The held field of a form that says which part of the catalogue it is about."""
_FEWEST_SIGNS, _MOST = 2, 10


def known_parts(shift: Shift, words: str) -> Sequence[Offer[PartRow]]:
    """Return the parts that a few signs of a number or letters of a name may mean."""
    if len(words.strip()) < _FEWEST_SIGNS:
        return ()
    currency = shift.shop.currency
    return [Offer(part_words(row, currency), row) for row in find_parts(shift, words, most=_MOST)]


def part_words(row: PartRow, currency: str) -> str:
    """Return a part as one of several: ``SP-7   –   Spark plug   –   $6.50   –   3 free``."""
    price = "" if row.price is None else show_money(row.price, currency)
    condition = "" if row.condition == "new" else row.condition
    number = " ".join(filter(None, (row.number, condition)))
    return "   –   ".join(filter(None, (number, row.name, price, free_words(row))))


def free_words(row: PartRow) -> str:
    """Return how many may be had at once: ``3 free``, ``none free, 5 on order``."""
    free = f"{show_quantity(row.free)} free" if row.free > 0 else "none free"
    return f"{free}, {show_quantity(row.on_order)} on order" if row.on_order > 0 else free


class PartPick:
    """Lets a field of a form take parts; what was taken is held in the form's ``part_id``.

    ``taken`` is told which part it was.
    """

    def __init__(
        self,
        form: Form,
        field: LineField,
        shift: Shift,
        taken: Callable[[PartRow], object] = lambda row: None,
    ) -> None:
        self._form = form
        self._field = field
        self._shift = shift
        self._taken = taken
        self.suggestions: Suggestions[PartRow] = Suggestions(
            field.entry, partial(known_parts, shift), self.take, wide=True
        )
        field.watch(lambda: form.restore({HELD: ""}))
        field.on_enter = partial(take_or_leave, self.suggestions, field)

    def take(self, row: PartRow) -> None:
        """Take a part."""
        self._form.restore({HELD: str(row.id), self._field.name: f"{row.number}  {row.name}"})
        self._taken(row)
        self._field.leave()

    def part_id(self) -> int:
        """Return the part that was taken, or that the typed words can only mean.

        Raises ``JobError`` at the field where they mean none, or several.
        """
        held = self._form.text_of(HELD)
        return int(held) if held else self._meant(self._form.text_of(self._field.name).strip())

    def _meant(self, typed: str) -> int:
        known = part_numbered(self._shift, typed) if typed else None
        if known is not None:
            return known.id
        found = find_parts(self._shift, typed, most=2) if typed else ()
        if len(found) == 1:
            return found[0].id
        raise JobError(_unknown(typed, bool(found)), self._field.name)


def _unknown(typed: str, several: bool) -> str:
    if not typed:
        return "Say which part: type some of its number or name, and choose it from the list."
    if several:
        return f"“{typed[:40]}” may be several parts: choose one from the list that drops down."
    return (
        f"No part of the catalogue is called “{typed[:40]}”: try fewer letters, "
        "or write it down first (Ctrl+1, then Alt+N)."
    )

"""What two cards say differently, field by field, and which of the two is to stand."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.row_words import value_words
from shopdesk.job.shop import Shop
from shopdesk.records.tables import Customer, Row, Unit


class Side(StrEnum):
    """Which of two cards is meant: the one that stays, the other, or what stands on both."""

    STAYS = "this one"
    GOES = "the other"
    BOTH = "both"


Choices = Mapping[str, Side]
"""By a field's name, whose word stands; fields that are not named go as they are offered."""


@dataclass(frozen=True, slots=True)
class TwoWords:
    """A field on which two cards differ: what each says, and which is offered."""

    name: str
    words: str
    stays: str
    goes: str
    offered: Side
    sides: tuple[Side, ...]
    """What may be chosen."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A field of the cards: its columns, and which of two words is offered first."""

    name: str
    words: str
    columns: tuple[str, ...]
    offer: Callable[[Any, Any], Side]
    joined: bool = False

    def differs(self, stays: Row, goes: Row) -> bool:
        """Whether the two cards say different things here."""
        return any(getattr(stays, one) != getattr(goes, one) for one in self.shown)

    @property
    def shown(self) -> tuple[str, ...]:
        """The columns that people see; the others follow from them."""
        hidden = ("folded_name", "folded_serial", "model_key")
        return tuple(column for column in self.columns if column not in hidden)

    def offered(self, stays: Row, goes: Row) -> Side:
        """Return whose word is offered: never an empty one over one that says something."""
        mine, theirs = (self._said(row) for row in (stays, goes))
        if _is_empty(mine) or _is_empty(theirs):
            return Side.GOES if _is_empty(mine) else Side.STAYS
        return self.offer(mine[0], theirs[0])

    @property
    def sides(self) -> tuple[Side, ...]:
        """What may be chosen."""
        return tuple(Side) if self.joined else (Side.STAYS, Side.GOES)

    def put(self, stays: Row, goes: Row, side: Side) -> None:
        """Write the chosen word onto the card that stays."""
        if side not in self.sides:
            raise JobError(f"{self.words} can't be both: choose one of the two.", self.name)
        for column in self.columns if side is Side.GOES else ():
            setattr(stays, column, getattr(goes, column))
        if side is Side.BOTH:
            (column,) = self.columns
            both = "\n".join(filter(None, (getattr(stays, column), getattr(goes, column))))
            setattr(stays, column, typed.text(both, self.name, self.words))

    def words_of(self, row: Row, shop: Shop) -> str:
        """Return what a card says here, in words."""
        table = row._meta.table_name
        values = (value_words(table, column, _kept(row, column), shop) for column in self.shown)
        return self.between.join(filter(None, values))

    @property
    def between(self) -> str:
        """What stands between the words of several columns."""
        return " to " if self.name == "season" else " "

    def _said(self, row: Row) -> list[Any]:
        return [getattr(row, column) for column in self.shown]


def _is_empty(said: Sequence[Any]) -> bool:
    return all(one is None or one == "" for one in said)


def _first(_stays: Any, _goes: Any) -> Side:
    return Side.STAYS


def _both(_stays: Any, _goes: Any) -> Side:
    return Side.BOTH


def _the_no(stays: Any, _goes: Any) -> Side:
    return Side.GOES if stays else Side.STAYS


def _the_yes(stays: Any, _goes: Any) -> Side:
    return Side.STAYS if stays else Side.GOES


def _earlier(stays: Any, goes: Any) -> Side:
    return Side.GOES if goes < stays else Side.STAYS


OWNER_RULES = (
    Rule("name", "Name", ("name", "folded_name"), _first),
    Rule("address", "Address", ("address",), _first),
    Rule("email", "E-mail", ("email",), _first),
    Rule("notes", "Note", ("notes",), _both, joined=True),
    Rule("tax_exempt_number", "Tax-exempt certificate", ("tax_exempt_number",), _first),
    Rule("preferred_way", "Write to them by", ("preferred_way",), _first),
    Rule("may_remind", "May be reminded", ("may_remind",), _the_no),
    Rule("moved_away", "Moved away", ("moved_away",), _first),
)
"""Their phones are no matter of choice: all are kept."""
MACHINE_RULES = (
    Rule("kind", "Kind of machine", ("kind",), _first),
    Rule("engine", "Engine", ("engine",), _first),
    Rule("model", "Make and model", ("make", "model", "model_key"), _first),
    Rule("serial", "Serial number", ("serial", "folded_serial"), _first),
    Rule("notes", "Note", ("notes",), _both, joined=True),
    Rule("bought_on", "Bought on", ("bought_on",), _earlier),
    Rule("hours_per_week", "Hours a week", ("hours_per_week",), _first),
    Rule("season", "Used in months", ("first_month", "last_month"), _first),
    Rule("severe_use", "Hard use", ("severe_use",), _the_yes),
    Rule("price_new", "Price of a new one", ("price_new",), _first),
    Rule("gone", "No more", ("gone_on", "gone_how"), _first),
)
"""Whose it is, is chosen beside these; its meter is what was read last."""
RULES: Mapping[type[Row], Sequence[Rule]] = {Customer: OWNER_RULES, Unit: MACHINE_RULES}


def differing(stays: Row, goes: Row, shop: Shop) -> tuple[TwoWords, ...]:
    """Return the fields on which two cards differ, in the order of the cards."""
    return tuple(
        TwoWords(
            rule.name,
            rule.words,
            rule.words_of(stays, shop),
            rule.words_of(goes, shop),
            rule.offered(stays, goes),
            rule.sides,
        )
        for rule in RULES[type(stays)]
        if rule.differs(stays, goes)
    )


def put_together(stays: Row, goes: Row, choices: Choices) -> None:
    """Write the chosen words onto the card that stays; raises ``JobError`` at a field."""
    for rule in RULES[type(stays)]:
        if rule.differs(stays, goes):
            rule.put(stays, goes, choices.get(rule.name) or rule.offered(stays, goes))


def _kept(row: Row, column: str) -> Any:
    return row._meta.columns[column].db_value(row.__data__.get(column))

"""The ways out as they are shown: plain values, worked out anew each time they are asked for."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.job.options.jobs import Item


@dataclass(frozen=True, slots=True)
class OptionView:
    """One way out. Money is with tax, as the owner pays it; chances are from 0 to 1."""

    key: str
    title: str
    words: str
    """A sentence or two for the owner."""
    price_now: Decimal
    expected: Decimal
    """What is paid on average until it runs."""
    worst: Decimal
    chance: Decimal
    """That it runs after the first fix."""
    chance_words: str
    """``92 in 100``."""
    hours: Decimal
    """At the bench."""
    ready_on: date | None
    """None where nothing is mended here."""
    ready_words: str
    """What the day rests on."""
    life_hours: Decimal | None
    """Hours of life that are left then, as a guide; None where there is none."""
    per_hour: Decimal | None
    """What an hour of them costs, with what is due soon and left undone."""
    later: Decimal
    """What is worn or due by now and left undone would cost later."""
    items: tuple[Item, ...]
    """The lines it puts on the ticket."""
    typical: bool
    """Whether typical prices stand for parts that the catalogue has not."""
    stands: bool
    """Whether its lines are those on the ticket."""
    suggested: bool = False
    own_id: int | None = None

    @property
    def mends(self) -> bool:
        """Whether it is a repair."""
        return self.ready_on is not None


@dataclass(frozen=True, slots=True)
class OptionsView:
    """All ways out of one ticket, side by side."""

    options: tuple[OptionView, ...]
    left_out: tuple[tuple[str, str], ...]
    """The title of each way that makes no sense here, and why."""
    suggestion: str
    """Which way we would take and why, in a sentence; it overrides nobody."""
    guide: tuple[str, ...]
    """What the figures rest on."""
    price_new: Decimal | None
    """What another machine costs, if it is known."""
    price_new_words: str
    """Where that comes from."""
    by_hand: tuple[str, ...]
    """Lines on the ticket that no way put there: the mechanic typed them, and another way would
    take their place."""

    def option(self, key: str) -> OptionView | None:
        """Return the way of that key, if it is among them."""
        return next((one for one in self.options if one.key == key), None)

"""Where the marks of a report's picture stand: the same on the screen and on paper.

Lengths are in the unit that ``Measure`` gives; ``y`` grows downwards. Nothing is told by colour:
each bar has its name and its amount in words, one below zero is hollow.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from shopdesk.job.reports.report import Bars, Kind, Picture, Strip, Strips

Anchor = Literal["start", "middle", "end"]
_NAME_SHARE = 0.34
"""How much of the width the names may take."""


@dataclass(frozen=True, slots=True)
class Measure:
    """The letters at hand: how high a line is, and how wide some words are (heavy ones if so)."""

    line: float
    width: Callable[[str, bool], float]


@dataclass(frozen=True, slots=True)
class Box:
    """A bar; ``hollow`` is one below zero."""

    x: float
    y: float
    width: float
    height: float
    hollow: bool


@dataclass(frozen=True, slots=True)
class Words:
    """Words at ``x``, their middle at the height ``y``."""

    x: float
    y: float
    text: str
    anchor: Anchor = "start"
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """The line that stands for zero."""

    x: float
    y: float
    to_x: float
    to_y: float


Mark = Box | Words | Rule


@dataclass(frozen=True, slots=True)
class Chart:
    """A picture laid out: its marks, and how high it is."""

    height: float
    marks: tuple[Mark, ...]


def laid_out(picture: Picture, width: float, measure: Measure) -> Chart:
    """Lay a picture out in a width, its title above it."""
    title = Words(0, measure.line / 2, picture.title, strong=True)
    top = 1.8 * measure.line
    layout: _Lying | _Standing
    if isinstance(picture, Bars):
        layout = _Lying(picture, width, measure)
    else:
        layout = _Standing(picture, width, measure)
    marks, bottom = layout.draw(top)
    return Chart(bottom, (title, *marks))


class _Lying:
    """Bars from a line that stands for zero, name at the left, words at the end."""

    def __init__(self, picture: Bars, width: float, measure: Measure) -> None:
        self.bars, self.measure = picture.bars, measure
        gap = measure.line / 2
        self.names = _names(width, measure, [bar.label for bar in picture.bars])
        words = max((measure.width(bar.words, False) for bar in picture.bars), default=0)
        amounts = [float(bar.amount) for bar in picture.bars]
        least, most = min([0.0, *amounts]), max([0.0, *amounts])
        left = self.names + gap
        below = words + gap if least < 0 else 0
        room = max(width - left - below - words - gap, measure.line)
        self.scale = room / (most - least) if most > least else 0.0
        self.zero = left + below - least * self.scale

    def draw(self, top: float) -> tuple[list[Mark], float]:
        """Return the marks and where they end."""
        line, marks = self.measure.line, list[Mark]()
        for place, bar in enumerate(self.bars):
            y = top + place * 1.7 * line
            marks.append(Words(0, y + line / 2, self._fitted(bar.label)))
            length = float(bar.amount) * self.scale
            if length:
                marks.append(_box(self.zero, y, length, line, hollow=length < 0))
            beside = self.zero + length + (line / 2 if length >= 0 else -line / 2)
            anchor: Anchor = "start" if length >= 0 else "end"
            marks.append(Words(beside, y + line / 2, bar.words, anchor))
        bottom = top + len(self.bars) * 1.7 * line
        marks.append(Rule(self.zero, top - line / 4, self.zero, bottom - line / 2))
        return marks, bottom

    def _fitted(self, label: str) -> str:
        return _shortened(label, self.names, self.measure)


class _Standing:
    """Strips of upright bars over the same labels, all on one scale, names at the left."""

    def __init__(self, picture: Strips, width: float, measure: Measure) -> None:
        self.picture, self.measure, self.width = picture, measure, width
        self.left = _names(width, measure, [strip.name for strip in picture.strips])
        self.left += measure.line
        self.slot = (width - self.left) / max(len(picture.labels), 1)
        spans = [sum(_span(strip)) for strip in picture.strips]
        self.scale = 3.2 * measure.line * len(spans) / sum(spans) if any(spans) else 0.0

    def draw(self, top: float) -> tuple[list[Mark], float]:
        """Return the marks and where they end."""
        line, marks, y = self.measure.line, list[Mark](), top
        for strip in self.picture.strips:
            above, below = (part * self.scale for part in _span(strip))
            zero = y + 1.3 * line + above
            marks.extend(self._strip(strip, zero))
            y = zero + below + (1.6 if below else 0.5) * line
        marks.extend(self._labels(y + line / 2))
        return marks, y + 1.5 * line

    def _strip(self, strip: Strip, zero: float) -> Iterator[Mark]:
        line = self.measure.line
        name = _shortened(strip.name, self.left - line, self.measure)
        yield Words(0, zero - line / 2, name)
        yield Rule(self.left, zero, self.width, zero)
        numbers = [_number(amount, self.picture.kind) for amount in strip.amounts]
        widest = max((self.measure.width(number, False) for number in numbers), default=0)
        biggest = max(strip.amounts, key=abs, default=None)
        for place, (amount, number) in enumerate(zip(strip.amounts, numbers, strict=True)):
            length = float(amount) * self.scale
            middle = self.left + (place + 0.5) * self.slot
            if length:
                thick = min(self.slot * 0.7, 3 * line)
                yield _box(middle - thick / 2, zero, thick, -length, hollow=length < 0)
            if amount and (widest + 3 < self.slot or amount == biggest):
                y = zero - length - 0.7 * line if length >= 0 else zero - length + 0.7 * line
                yield self._kept_inside(middle, y, number)

    def _kept_inside(self, x: float, y: float, text: str) -> Words:
        half = self.measure.width(text, False) / 2
        return Words(min(max(x, self.left + half), self.width - half), y, text, "middle")

    def _labels(self, y: float) -> Iterator[Words]:
        widths = [self.measure.width(label, False) for label in self.picture.labels]
        widest = max(widths, default=0) + self.measure.line / 2
        step = max(1, -(-int(widest) // max(int(self.slot), 1)))
        for place in range(0, len(self.picture.labels), step):
            middle = self.left + (place + 0.5) * self.slot
            yield self._kept_inside(middle, y, self.picture.labels[place])


def _names(width: float, measure: Measure, names: Sequence[str]) -> float:
    widest = max((measure.width(name, False) for name in names), default=0)
    return min(widest, width * _NAME_SHARE)


def _span(strip: Strip) -> tuple[float, float]:
    """Return how far a strip's amounts go above zero, and how far below."""
    amounts = [float(amount) for amount in strip.amounts]
    return max([0.0, *amounts]), -min([0.0, *amounts])


def _box(x: float, y: float, width: float, height: float, *, hollow: bool) -> Box:
    """Return a bar whose width or height may point back."""
    return Box(min(x, x + width), min(y, y + height), abs(width), abs(height), hollow)


def _number(amount: Decimal, kind: Kind) -> str:
    """Return an amount in few digits: what is exact stands in the table beside."""
    step = Decimal("0.1") if kind is Kind.HOURS else Decimal(1)
    return f"{amount.quantize(step, ROUND_HALF_UP):,}"


def _shortened(text: str, room: float, measure: Measure) -> str:
    if measure.width(text, False) <= room + 0.5:
        return text
    while text and measure.width(f"{text}…", False) > room:
        text = text[:-1].rstrip()
    return f"{text}…"

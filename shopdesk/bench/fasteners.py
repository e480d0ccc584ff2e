"""The screws, nuts and clips that came off: how many, which, and where they are kept.

One kind is typed on a line, as it is said: how many, which, ``in`` or ``on`` where they are kept::

    2 M5 x 20 T27 in cup 3
    4 x 1/4-20 x 3/4" slotted hex 8 mm in bag 2
    3 #10 x 1 cross recess on the magnet tray, into plastic
    1 circlip in cup 1
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

MOST = 500
"""More than this is a slip of the finger."""
LONGEST = 120


class FastenerError(ValueError):
    """What was typed about fasteners can't be understood; the message says what to type."""


@dataclass(frozen=True, slots=True)
class Fasteners:
    """One kind of fastener of a step.

    `thread` ("M5", "1/4-20", "#10", "4.2") and `length` ("20", '3/4"') are empty where no size was
    given; `head` is the rest that was said of it ("T27", "circlip"); `kept` is where it lies
    ("in cup 3", "on the magnet tray").
    """

    count: int
    thread: str = ""
    length: str = ""
    head: str = ""
    kept: str = ""
    into_plastic: bool = False

    @property
    def words(self) -> str:
        """How many and which: "2 × M5 x 20 T27"."""
        size = " x ".join(filter(None, (self.thread, self.length)))
        return f"{self.count} × {' '.join(filter(None, (size, self.head)))}"

    @property
    def coming_off(self) -> str:
        """The line as it can be typed again: "2 × M5 x 20 T27 in cup 3"."""
        plastic = ", into plastic" if self.into_plastic else ""
        return " ".join(filter(None, (self.words, self.kept))) + plastic

    @property
    def going_back(self) -> str:
        """What to reach for: "2 × M5 x 20 T27 from cup 3"."""
        place = self.kept.partition(" ")[2]
        return f"{self.words} from {place}" if place else self.words


def parse_all_fasteners(typed: str) -> tuple[Fasteners, ...]:
    """Read one kind of fastener from each line that is not empty. Raises FastenerError."""
    return tuple(parse_fasteners(line) for line in typed.splitlines() if line.strip())


def parse_fasteners(typed: str) -> Fasteners:
    """Read one line such as "2 M5 x 20 T27 in cup 3". Raises FastenerError."""
    line = _tidy(typed)
    if len(line) > LONGEST:
        raise FastenerError(
            f"“{line[:30]}…” is too long for one kind of fastener: keep it to {LONGEST} characters."
        )
    counted = _COUNT.fullmatch(line)
    if counted is None:
        raise FastenerError(
            f"“{line}” does not begin with how many: type for example 2 M5 x 20 T27 in cup 3."
        )
    which, plastic = _without(_INTO_PLASTIC, counted["which"])
    thread, length, rest = _size(which)
    head, kept = _place(rest)
    if not thread and not re.search(r"[^\W\dx]", head):
        raise FastenerError(f"“{line}” does not say which fasteners: type for example 4 M4 x 16.")
    return Fasteners(_count(counted["count"]), thread, length, head, kept, plastic)


def count_back(typed: str, off: Sequence[Fasteners]) -> tuple[int, ...]:
    """Read how many were put back of each kind that came `off`, in their order.

    With several kinds: one number for each ("2, 1"), or the one number that is all of them.
    Raises FastenerError.
    """
    numbers = tuple(int(number) for number in re.findall(r"\d+", typed))
    total = sum(each.count for each in off)
    if not off and not any(numbers):
        return ()
    if not off:
        raise FastenerError("No fastener came off here: leave the count empty, or add it there.")
    if not numbers or re.search(r"[^\d\s,;+&]|and\b", typed.replace("and", ",")):
        kinds = ", ".join(each.words for each in off)
        raise FastenerError(f"Count the fasteners put back: {total} came off ({kinds}).")
    if max(numbers) > MOST:
        raise FastenerError(f"{max(numbers)} fasteners can't be right: count them again.")
    if len(numbers) == len(off):
        return numbers
    if numbers == (total,):
        return tuple(each.count for each in off)
    example = ", ".join(str(each.count) for each in off)
    raise FastenerError(f"Say how many of each kind were put back, in order: {example}.")


_SIGNS = str.maketrans(
    {"×": "x", "″": '"', "”": '"', "“": '"', "′": "'", "–": "-", "—": "-", "‑": "-", "№": "#"}
)
_COUNT = re.compile(
    r"(?P<count>\d{1,9})(?![-./,\d])\s*(?:x(?=[\s\d])|off\b|pcs\b)?\s*(?P<which>.+)"
)
_INTO_PLASTIC = re.compile(r"[\s,;(]*\binto plastic\b[)\s]*", re.IGNORECASE)
_NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d*[.,]?\d+)"
_LENGTH = rf"(?:\s*x\s*(?P<length>{_NUMBER})\s*(?P<unit>mm\b|inch\b|\"|'')?)"
_SIZES = tuple(
    re.compile(pattern + r"(?![\d/])", re.IGNORECASE)
    for pattern in (
        rf"\bM\s?(?P<thread>\d+(?:[.,]\d+)?(?:\s*x\s*[0-3][.,]\d+)?){_LENGTH}?",
        rf"(?:#|\bno\.?)\s?(?P<gauge>\d+(?:-\d+)?)(?:\s*UN[CF]?\b)?{_LENGTH}?",
        rf"(?P<inch>\b\d+(?:/\d+)?-\d+)(?:\s*UN[CF]?\b)?{_LENGTH}?",
        rf"(?<![\w.])(?P<plain>{_NUMBER}){_LENGTH}",
    )
)
_PLACE = re.compile(
    r"(?P<head>.*?)(?:^|[\s,;]+)(?:(?P<where>in|on)\s+|(?<=,)\s*(?=(?:cup|bag|tray|box|tin|jar)\b))"
    r"(?P<kept>.+)",
    re.IGNORECASE,
)


def _tidy(typed: str) -> str:
    return " ".join(typed.translate(_SIGNS).split()).strip(" ,;")


def _without(pattern: re.Pattern[str], text: str) -> tuple[str, bool]:
    """Return `text` without what the pattern finds, and whether it found anything."""
    rest, found = pattern.subn(" ", text)
    return rest.strip(), bool(found)


def _count(digits: str) -> int:
    count = int(digits)
    if not 1 <= count <= MOST:
        raise FastenerError(f"{count} fasteners can't be right: type a number from 1 to {MOST}.")
    return count


def _size(which: str) -> tuple[str, str, str]:
    """Return thread, length and what is left when a size is named, else only what is left."""
    for pattern in _SIZES:
        match = pattern.search(which)
        if match:
            rest = f"{which[: match.start()]} {which[match.end() :]}"
            return _thread(match), _length(match), rest
    return "", "", which


def _thread(match: re.Match[str]) -> str:
    named = match.groupdict()
    if named.get("thread"):
        return "M" + re.sub(r"\s*x\s*", " x ", named["thread"].replace(",", "."), flags=re.I)
    if named.get("gauge"):
        return f"#{named['gauge']}"
    return (named.get("inch") or named["plain"]).replace(",", ".")


def _length(match: re.Match[str]) -> str:
    length, unit = match["length"], (match["unit"] or "").lower()
    if not length:
        return ""
    inches = unit in ('"', "''", "inch") or (unit != "mm" and _is_inch(match))
    return f'{length}"' if inches else length.replace(",", ".")


def _is_inch(match: re.Match[str]) -> bool:
    """Say whether the thread, or a fraction in the length, is of the inch world."""
    named = match.groupdict()
    written = (named.get("plain") or "") + match["length"]
    return bool(named.get("gauge") or named.get("inch")) or "/" in written


def _place(rest: str) -> tuple[str, str]:
    """Return the head and where it is kept."""
    match = _PLACE.fullmatch(rest.strip())
    if match is None:
        return _loose(rest), ""
    return _loose(match["head"]), f"{(match['where'] or 'in').lower()} {_loose(match['kept'])}"


def _loose(text: str) -> str:
    return " ".join(re.sub(r"\s*[,;]+\s*", " ", text).split())

"""How this desk likes its window: light or dark, how large the letters, where it stands.

Kept for each computer, beside the records and not in them: another desk on the same records has its
own. A file that can't be read counts as none.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from shopdesk.files import write_whole

TEXT_SIZES = (90, 100, 110, 125, 150)
"""How large letters, rows and drawings may be, in per cent."""

_GEOMETRY = re.compile(r"(\d+)x(\d+)([+-]-?\d+)([+-]-?\d+)")
_LEAST = 320
"""The least of the window, each way, in pixels; what is smaller was not meant."""
_MOST_LISTS = 500


@dataclass(frozen=True, slots=True)
class Comfort:
    """What this desk chose. ``window`` is ``1280x800+40+20``; ``widths`` by list, unscaled."""

    dark: bool = False
    text: int = 100
    window: str = ""
    filled: bool = False
    """Whether the window took the whole screen."""
    widths: Mapping[str, tuple[int, ...]] = field(default_factory=dict)

    def stepped(self, by: int) -> "Comfort":
        """Return the same with the next larger (+1) or smaller (-1) text; the ends stay."""
        place = TEXT_SIZES.index(self.text) + by
        return replace(self, text=TEXT_SIZES[min(max(place, 0), len(TEXT_SIZES) - 1)])


@dataclass(frozen=True, slots=True)
class Screen:
    """What can be seen, over all monitors together, in pixels."""

    left: int
    top: int
    width: int
    height: int


def load_comfort(file: Path) -> Comfort:
    """Return what is kept in ``file``; what is missing or makes no sense is as at first."""
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Comfort()
    if not isinstance(kept, dict):
        return Comfort()
    text, window = kept.get("text"), kept.get("window")
    return Comfort(
        dark=kept.get("dark") is True,
        text=text if text in TEXT_SIZES else 100,
        window=window if isinstance(window, str) and _GEOMETRY.fullmatch(window) else "",
        filled=kept.get("filled") is True,
        widths=_widths(kept.get("widths")),
    )


def save_comfort(file: Path, comfort: Comfort) -> None:
    """Keep it, whole or not at all. Raises ``OSError`` when the file can't be written."""
    content = {
        "dark": comfort.dark,
        "text": comfort.text,
        "window": comfort.window,
        "filled": comfort.filled,
        "widths": {name: list(widths) for name, widths in comfort.widths.items()},
    }
    write_whole(file, json.dumps(content, indent=1, ensure_ascii=False).encode())


def on_screen(window: str, screen: Screen) -> str:
    """Return where the window goes so that all of it is seen: a monitor may be gone by now."""
    found = _GEOMETRY.fullmatch(window)
    if found is None:
        return ""
    width, height = (
        min(int(found[at]), most) for at, most in ((1, screen.width), (2, screen.height))
    )
    if min(width, height) < _LEAST:
        return ""
    left = _within(_place(found[3]), screen.left, screen.left + screen.width - width)
    top = _within(_place(found[4]), screen.top, screen.top + screen.height - height)
    return f"{width}x{height}+{left}+{top}"


def _place(words: str) -> int:
    """Return a place as Tk writes it: ``+40``, ``+-8`` left of the first monitor."""
    return int(words[1:])


def _within(place: int, first: int, last: int) -> int:
    return max(first, min(place, last))


def _widths(kept: Any) -> dict[str, tuple[int, ...]]:
    if not isinstance(kept, dict):
        return {}
    return {
        name: tuple(widths)
        for name, widths in list(kept.items())[:_MOST_LISTS]
        if isinstance(widths, list) and all(type(one) is int and one > 0 for one in widths)
    }

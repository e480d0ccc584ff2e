"""Whatever was typed, made printable: no character vanishes unseen, and none restyles a paper."""

import unicodedata
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph

from shopdesk.papers.fonts import load_fonts

_SPACES = {"\t": " ", "\N{LINE SEPARATOR}": "\n", "\N{PARAGRAPH SEPARATOR}": "\n"}
_UNSEEN = {"Cc", "Cf", "Cs"}
_VARIATIONS = range(0xFE00, 0xFE10)
_LETTER = 0.5
_CELL_LINES = 12


class Typesetter:
    """Turns typed text into what our letters print, and remembers what they lack."""

    def __init__(self) -> None:
        """Start with nothing missing."""
        self._covered = load_fonts()
        self._missing: dict[str, None] = {}

    @property
    def missing(self) -> tuple[str, ...]:
        """The characters met so far that no face can print, in the order they were met."""
        return tuple(self._missing)

    def lines(self, typed: str) -> str:
        """Return `typed` composed (NFC), line breaks kept, without control characters.

        A character that no face has becomes its code, as in ``[U+1F642]``.
        """
        if typed.isascii() and typed.isprintable():
            return typed
        text = unicodedata.normalize("NFC", typed.replace("\r\n", "\n").replace("\r", "\n"))
        return "".join(map(self._printable, text))

    def line(self, typed: str) -> str:
        """Return `typed` as one line."""
        return " ".join(self.lines(typed).split())

    def paragraph(self, typed: str, style: ParagraphStyle, label: str | None = None) -> Paragraph:
        """Return `typed` as a paragraph, `label` hanging at its left."""
        return Paragraph(as_markup(self.lines(typed)), style, bulletText=label)

    def cell(self, typed: str, style: ParagraphStyle, width: float) -> list[Paragraph]:
        """Return `typed` for a table's column, in paragraphs low enough for any page."""
        per_line = max(1, int(width / (style.fontSize * _LETTER)))
        parts = pieces(self.lines(typed), per_line, per_line * _CELL_LINES)
        return [Paragraph(as_markup(part), style) for part in parts]

    def _printable(self, char: str) -> str:
        char = _SPACES.get(char, char)
        if char == "\n":
            return char
        if unicodedata.category(char) in _UNSEEN or ord(char) in _VARIATIONS:
            return ""
        if ord(char) in self._covered:
            return char
        if unicodedata.category(char) == "Zs":
            return " "
        self._missing[char] = None
        return f"[U+{ord(char):04X}]"


def as_markup(text: str) -> str:
    """Return `text` so that ReportLab prints it as it stands: no tags, line breaks kept."""
    return escape(text.strip("\n")).replace("\n", "<br/>")


def pieces(text: str, per_line: int, most: int) -> list[str]:
    """Cut `text` at spaces into pieces of at most `most` characters.

    A line break counts as a line of `per_line` characters; a longer word is cut where it must be.
    """
    if len(text) + text.count("\n") * per_line <= most:
        return [text] if text else []
    found, start, space, taken = [], 0, 0, 0
    for index, char in enumerate(text):
        taken += per_line if char == "\n" else 1
        if char.isspace():
            space = index
        if taken >= most:
            cut = space if space > start else index + 1
            found.append(text[start:cut])
            start, taken = cut, index + 1 - cut
    return [piece for piece in (*found, text[start:]) if piece.strip()]

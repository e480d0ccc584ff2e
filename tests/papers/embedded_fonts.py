"""Reads the TrueType fonts inside a PDF, and which of their codes its pages print."""

import struct
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream


def tables(font: bytes) -> dict[bytes, int]:
    """Return where each table of a font begins."""
    (number,) = struct.unpack(">H", font[4:6])
    return {
        font[at : at + 4]: struct.unpack(">I", font[at + 8 : at + 12])[0]
        for at in range(12, 12 + 16 * number, 16)
    }


def cmaps(font: bytes) -> list[tuple[int, int]]:
    """Return platform and encoding of each cmap of a font."""
    start = tables(font)[b"cmap"]
    (number,) = struct.unpack(">H", font[start + 2 : start + 4])
    found = (font[start + 4 + 8 * at : start + 8 + 8 * at] for at in range(number))
    return [struct.unpack(">HH", each) for each in found]


def glyphs(font: bytes) -> dict[int, int]:
    """Return which glyph each code prints; 0 is the one for what is missing."""
    start = tables(font)[b"cmap"]
    (offset,) = struct.unpack(">I", font[start + 8 : start + 12])
    trimmed = font[start + offset :]
    form, _, _, first, number = struct.unpack(">HHHHH", trimmed[:10])
    assert form == 6
    return dict(enumerate(struct.unpack(f">{number}H", trimmed[10 : 10 + 2 * number]), first))


def advances(font: bytes) -> list[float]:
    """Return each glyph's width in thousandths of the size."""
    at = tables(font)
    (em,) = struct.unpack(">H", font[at[b"head"] + 18 : at[b"head"] + 20])
    (number,) = struct.unpack(">H", font[at[b"hhea"] + 34 : at[b"hhea"] + 36])
    metrics = font[at[b"hmtx"] : at[b"hmtx"] + 4 * number]
    return [advance * 1000 / em for advance, _ in struct.iter_unpack(">Hh", metrics)]


def printed_codes(reader: PdfReader) -> list[tuple[Any, set[int]]]:
    """Return each font that the pages print with, and the codes printed of it."""
    found: dict[int, tuple[Any, set[int]]] = {}
    for page in reader.pages:
        resources: Any = page["/Resources"]
        font: Any = None
        for operands, operator in ContentStream(page.get_contents(), reader).operations:
            if operator == b"Tf":
                font = resources["/Font"][operands[0]]
            elif operator == b"Tj":
                text = operands[0]
                codes = getattr(text, "original_bytes", text)
                found.setdefault(id(font), (font, set()))[1].update(codes)
            assert operator not in (b"TJ", b"'", b'"'), "text that is not looked at"
    return list(found.values())

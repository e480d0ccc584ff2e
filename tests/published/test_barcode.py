"""Code 128 (ISO/IEC 15417): check symbol = (start + sum of i times value i) mod 103."""

from typing import Any

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from shopdesk.papers.barcode import ticket_bars

# Symbol values from the standard's table: set B counts up from the space, set C from 00.
START_B, START_C, STOP = 104, 105, 106


def encoded(text: str) -> list[int]:
    bars: Any = ticket_bars(text)
    bars.validate()
    return list(bars.encode())


@pytest.mark.parametrize(
    ("text", "start", "values", "check"),
    [
        ("abcdef", START_B, [65, 66, 67, 68, 69, 70], 97),
        ("345678", START_C, [34, 56, 78], 73),
    ],
)
def test_the_check_symbol_by_the_standards_rule(
    text: str, start: int, values: list[int], check: int
) -> None:
    assert (start + sum(i * value for i, value in enumerate(values, 1))) % 103 == check
    assert encoded(text) == [start, *values, check, STOP]


@pytest.mark.parametrize("ticket", ["T1", "T1043", "T20270043", "C2027-0004", "t!~ 9"])
def test_every_ticket_ends_with_its_check_and_stop(ticket: str) -> None:
    start, *values, check, stop = encoded(ticket)
    assert check == (start + sum(i * value for i, value in enumerate(values, 1))) % 103
    assert stop == STOP


def test_quiet_zones_are_at_least_ten_modules() -> None:
    """ISO/IEC 15417: a quiet zone of ten times the narrowest bar on either side."""
    bars = ticket_bars("T1043")
    assert bars.lquiet >= 10 * bars.barWidth - 1e-9
    assert bars.rquiet >= 10 * bars.barWidth - 1e-9


@pytest.mark.parametrize("ticket", ["T1043", "345678", "abcdef"])
def test_an_independent_reader_reads_the_symbols(ticket: str) -> None:
    """The encoder's bars and spaces, drawn dot by dot, read by zxing-cpp."""
    bars: Any = ticket_bars(ticket)
    bars.validate()
    bars.encode()
    widths = bars.decompose()
    dots = sum(_modules(letter) for letter in widths)
    picture = Image.new("L", ((dots + 20) * 3, 90), 255)
    pen, x = ImageDraw.Draw(picture), 10
    for letter in widths:
        if letter.isupper():
            pen.rectangle((x * 3, 0, (x + _modules(letter)) * 3 - 1, 89), fill=0)
        x += _modules(letter)
    found = zxingcpp.read_barcodes(picture)
    assert [(code.text, code.format) for code in found] == [
        (ticket, zxingcpp.BarcodeFormat.Code128)
    ]


def _modules(letter: str) -> int:
    return ord(letter.upper()) - ord("A") + 1

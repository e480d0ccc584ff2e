from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.limits import Limit
from shopdesk.bench.readings import ReadingError
from shopdesk.bench.typed_limits import parse_limit
from shopdesk.bench.units import Quantity


@pytest.mark.parametrize(
    ("typed", "quantity", "words"),
    [
        ("18 to 21.6 lbf·ft", Quantity.TORQUE, "18 to 21.6 lbf·ft"),
        ("18-21.6 ft lb", Quantity.TORQUE, "18 to 21.6 lbf·ft"),
        ("12 ± 1 N·m", Quantity.TORQUE, "11 to 13 N·m"),
        ("12 Nm ±10%", Quantity.TORQUE, "10.8 to 13.2 N·m"),
        ("100 in lb +/- 5 %", Quantity.TORQUE, "95 to 105 lbf·in"),
        ("at least 0.3 mm", Quantity.LENGTH, "at least 0.3 mm"),
        ("max. 3200 rpm", Quantity.SPEED, "at most 3,200 rpm"),
        ("0,25-0,35 mm", Quantity.LENGTH, "0.25 to 0.35 mm"),
        ('.010" – .014"', Quantity.LENGTH, "0.010 to 0.014 in"),
        ("5-3/8 in to 6 in", Quantity.LENGTH, "5.375 to 6 in"),
        ("2,800 to 3,200 rpm", Quantity.SPEED, "2,800 to 3,200 rpm"),
        ("7 psi to 9", Quantity.PRESSURE, "7 to 9 psi"),
    ],
)
def test_a_limit_as_copied_from_a_manual(typed: str, quantity: Quantity, words: str) -> None:
    read = parse_limit(typed, "the manual")
    assert read.limit is not None
    assert (read.quantity, read.limit.words(), read.limit.source) == (quantity, words, "the manual")
    assert read.unit == read.limit.unit


def test_a_unit_alone_is_no_limit_but_says_what_is_read() -> None:
    read = parse_limit("ft lbs", "")
    assert (read.quantity, read.unit, read.limit) == (Quantity.TORQUE, "lbf·ft", None)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "is no limit"),
        ("tight", "is no limit"),
        ("12 N·m", "is no limit"),
        ("11 to 13", "names no unit"),
        ("at least 11", "names no unit"),
        ("2 foo to 3 foo", "not a unit known here"),
        ("1 mm to 2 in", "mixed"),
        ("9 to 8 mm", "smaller figure first"),
        ("5 ± 9 mm", "below zero"),
        ("1 to 1e9 mm", "not a unit known here"),
        ("1 to 900000 m", "far outside"),
        ("1" * 80, "too long"),
    ],
)
def test_what_is_no_limit_says_how_to_type_one(typed: str, words: str) -> None:
    with pytest.raises(ReadingError, match=words):
        parse_limit(typed, "")


@given(st.text(alphabet="0123456789 .,-±%toatlesmNinrp\"'/<>", max_size=30))
def test_any_text_is_read_or_refused_in_a_sentence(typed: str) -> None:
    refusal = ""
    limit: Limit | None = None
    try:
        limit = parse_limit(typed, "").limit
    except ReadingError as error:
        refusal = str(error)
    assert not refusal or refusal.endswith(".")
    if limit is not None and limit.pass_from is not None and limit.pass_to is not None:
        assert Decimal(0) <= limit.pass_from <= limit.pass_to

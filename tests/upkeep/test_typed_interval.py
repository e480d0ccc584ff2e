"""Intervals as people type them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.upkeep.due import Interval
from shopdesk.upkeep.typed_interval import parse_interval, show_interval
from shopdesk.upkeep.use import UseError


@pytest.mark.parametrize(
    ("typed", "hours", "months"),
    [
        ("25 h", "25", None),
        ("every 25h", "25", None),
        ("12.5 hours", "12.5", None),
        ("12 months", None, 12),
        ("Every 2 years", None, 24),
        ("1.5 y", None, 18),
        ("50 h or 12 months", "50", 12),
        ("12 mo / 50 hrs", "50", 12),
        ("50 h, every 1 yr", "50", 12),
        ("never", None, None),
        (" Not at all ", None, None),
    ],
)
def test_read(typed: str, hours: str | None, months: int | None) -> None:
    assert parse_interval(typed) == Interval(Decimal(hours) if hours else None, months)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "is no interval: type it like 25 h"),
        ("often", "is no interval"),
        ("25", "is no interval"),
        ("25 h or 30 h", "says the same twice"),
        ("1 year or 6 months", "says the same twice"),
        ("0.3 months", "no whole number of months"),
        ("0 h", "must be over 0"),
        ("9000 h", "must be over 0 and at most 5000"),
        ("21 years", "at most 20 years"),
    ],
)
def test_refused_with_a_sentence(typed: str, says: str) -> None:
    with pytest.raises(UseError, match=says):
        parse_interval(typed)


@given(
    st.none() | st.integers(1, 50_000).map(lambda tenths: Decimal(tenths) / 10),
    st.none() | st.integers(1, 240),
)
def test_shown_and_read_again(hours: Decimal | None, months: int | None) -> None:
    assert parse_interval(show_interval(Interval(hours, months))) == Interval(hours, months)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(typed: str) -> None:
    try:
        found = parse_interval(typed)
    except UseError:
        return
    assert parse_interval(show_interval(found)) == found

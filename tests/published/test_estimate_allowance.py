"""Allowances over an estimate against the statutes that the preset rules resemble.

Minnesota Statutes 325F.58 subd. 6 (household machines too): at most 110 percent of the estimate.
The others are motor-vehicle law. Revised Code of Washington 46.71.025: not over 110 percent.
Florida Statutes 559.909(1)(b), more than $10 or 10 percent, whichever is greater, but not to
exceed $50. Colorado Revised Statutes 42-9-105(1), the estimate plus 10 percent or $25, whichever
is less (its estimate leaves sales tax out). Maryland Commercial Law 14-1002 and Ohio
Administrative Code 109:4-3-13: 10 percent. California 16 CCR 3353, Wisconsin ATCP 132 and Alaska
Statutes 45.45.150: nothing without authorisation. The sections for Washington, Maryland, Ohio,
Wisconsin and Alaska are cited from memory, their tolerances from a comparison of these laws.
Amounts are worked from those words. No legal advice: the shop chooses its own rule.
"""

from decimal import Decimal
from fractions import Fraction

import pytest

from shopdesk.pricing.allowance import PRESETS, most_allowed

TEN, NOTHING = "10 percent", "nothing over"
BY_PLACE = {
    "Minnesota": TEN,
    "Washington": TEN,
    "Florida": "the greater of $10 and 10 percent, at most $50",
    "Colorado": "the lesser of $25 and 10 percent",
    "Maryland": TEN,
    "Ohio": TEN,
    "California": NOTHING,
    "Wisconsin": NOTHING,
    "Alaska": NOTHING,
}
"""Which preset has the words of which place's law; the program itself names none."""


def worked(place: str, approved: Fraction) -> Fraction:
    """The most by the words of the law, worked out without the program's rule."""
    tenth = approved / 10
    if place == "Florida":
        return approved + min(max(Fraction(10), tenth), Fraction(50))
    if place == "Colorado":
        return approved + min(tenth, Fraction(25))
    return approved if BY_PLACE[place] == NOTHING else approved + tenth


@pytest.mark.parametrize(
    ("place", "approved", "most"),
    [
        ("Minnesota", "180.00", "198.00"),
        ("Washington", "180.00", "198.00"),
        ("Florida", "180.00", "198.00"),
        ("Colorado", "180.00", "198.00"),
        ("Maryland", "180.00", "198.00"),
        ("Ohio", "180.00", "198.00"),
        ("California", "180.00", "180.00"),
        ("Wisconsin", "180.00", "180.00"),
        ("Alaska", "180.00", "180.00"),
        ("Florida", "60.00", "70.00"),
        ("Florida", "100.00", "110.00"),
        ("Florida", "500.00", "550.00"),
        ("Florida", "700.00", "750.00"),
        ("Colorado", "250.00", "275.00"),
        ("Colorado", "400.00", "425.00"),
    ],
)
def test_the_most_that_may_be_charged(place: str, approved: str, most: str) -> None:
    assert most_allowed(Decimal(approved), PRESETS[BY_PLACE[place]]) == Decimal(most)


@pytest.mark.parametrize("place", BY_PLACE)
@pytest.mark.parametrize("cents", [0, 1, 4999, 9999, 10_000, 24_999, 25_000, 50_001, 123_457])
def test_each_rule_is_what_the_law_says_to_the_cent(place: str, cents: int) -> None:
    """Part of a cent is dropped, so that a bill never passes the limit by rounding."""
    most = worked(place, Fraction(cents, 100))
    allowed = most_allowed(Decimal(cents).scaleb(-2), PRESETS[BY_PLACE[place]])
    assert allowed == Decimal(int(most * 100)).scaleb(-2)


def test_no_preset_is_named_by_a_place() -> None:
    assert set(BY_PLACE.values()) == set(PRESETS)
    assert not [place for place in BY_PLACE if place in " ".join(PRESETS)]

"""Allowances over an estimate against the statutes that the preset rules resemble.

Minnesota Statutes 325F.58 subd. 6 (household machines too): at most 110 percent of the estimate.
The others are motor-vehicle law: Florida Statutes 559.909(1)(b), more than $10 or 10 percent,
whichever is greater, but not to exceed $50; Colorado Revised Statutes 42-9-105(1), the estimate
plus 10 percent or $25, whichever is less (its estimate leaves sales tax out); California 16 CCR
3353, nothing without authorisation. Amounts are worked from those words. No legal advice.
"""

from decimal import Decimal

import pytest

from shopdesk.pricing.allowance import PRESETS, most_allowed

MINNESOTA = "10 percent"
FLORIDA = "the greater of $10 and 10 percent, at most $50"
COLORADO = "the lesser of $25 and 10 percent"
CALIFORNIA = "nothing over"


@pytest.mark.parametrize(
    ("rule", "approved", "most"),
    [
        (MINNESOTA, "180.00", "198.00"),
        (FLORIDA, "180.00", "198.00"),
        (COLORADO, "180.00", "198.00"),
        (CALIFORNIA, "180.00", "180.00"),
        (FLORIDA, "60.00", "70.00"),
        (FLORIDA, "100.00", "110.00"),
        (FLORIDA, "500.00", "550.00"),
        (FLORIDA, "700.00", "750.00"),
        (COLORADO, "250.00", "275.00"),
        (COLORADO, "400.00", "425.00"),
    ],
)
def test_the_most_that_may_be_charged(rule: str, approved: str, most: str) -> None:
    assert most_allowed(Decimal(approved), PRESETS[rule]) == Decimal(most)

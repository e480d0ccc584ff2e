from __future__ import annotations

from decimal import Decimal

import pytest

from shopdesk.bench.altitude import AltitudeError, pressure_ratio


def test_at_the_sea_nothing_is_corrected() -> None:
    assert pressure_ratio(Decimal(0)) == 1


def test_air_thins_with_every_metre() -> None:
    ratios = [pressure_ratio(Decimal(m)) for m in range(-400, 5500, 100)]
    assert ratios == sorted(ratios, reverse=True)


@pytest.mark.parametrize("metres", ["-500", "8848", "NaN"])
def test_no_workshop_stands_there(metres: str) -> None:
    with pytest.raises(AltitudeError, match="type metres above the sea"):
        pressure_ratio(Decimal(metres))

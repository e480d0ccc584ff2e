"""Outside pressure against published atmosphere tables."""

from __future__ import annotations

from decimal import Decimal

import pytest

from shopdesk.bench.altitude import pressure_ratio

# US Standard Atmosphere 1976 (ISO 2533 below 11 km): p/p0 by geometric altitude in metres, as
# computed with two independent libraries of that standard, fluids 1.3.1 and ambiance 1.3.1.
STANDARD_ATMOSPHERE = {
    "500": "0.94213",
    "1000": "0.88701",
    "1500": "0.83454",
    "2000": "0.78462",
    "2500": "0.73715",
    "3000": "0.69204",
    "1609.344": "0.82341",
}


@pytest.mark.parametrize(("metres", "ratio"), STANDARD_ATMOSPHERE.items())
def test_pressure_ratio_is_that_of_the_standard_atmosphere(metres: str, ratio: str) -> None:
    assert round(pressure_ratio(Decimal(metres)), 5) == Decimal(ratio)


# A table in circulation for engines goes by air density instead (0.862 at 5000 ft).
# A gauge reads pressure, so ours must lie below it, and by more the higher the shop stands.
DENSITY_TABLE = {1000: "0.971", 2000: "0.943", 5000: "0.862", 6000: "0.836"}


def test_the_correction_follows_pressure_and_not_density() -> None:
    gaps = [
        Decimal(density) - pressure_ratio(Decimal(feet) * Decimal("0.3048"))
        for feet, density in DENSITY_TABLE.items()
    ]
    assert min(gaps) > 0
    assert gaps[-1] > gaps[0]


def test_compression_of_130_psi_at_the_sea_is_107_psi_at_a_mile() -> None:
    # gauge reading = (pressure ratio of the engine - 1) × outside pressure
    assert round(130 * pressure_ratio(Decimal("1609.344"))) == 107

"""Units against NIST Special Publication 811 and the reference library pint."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest

from shopdesk.bench.readings import parse_reading
from shopdesk.bench.units import SCALES, Quantity

# NIST SP 811 (2008), appendix B.8, and exact definitions: one of the unit, in SI.
NIST_SP_811 = [
    ("pressure", "psi", "6894.757"),
    ("pressure", "bar", "100000"),
    ("pressure", "inHg", "3386.389"),
    ("pressure", "inH2O", "249.0889"),
    ("pressure", "kgf/cm²", "98066.5"),
    ("length", "in", "0.0254"),
    ("length", "thou", "0.0000254"),
    ("torque", "lbf·in", "0.1129848"),
    ("torque", "lbf·ft", "1.355818"),
    ("torque", "kgf·m", "9.80665"),
    ("volume", "US gal", "0.003785412"),
    ("volume", "US fl oz", "0.00002957353"),
    ("volume", "US qt", "0.0009463529"),
    ("speed", "rpm", "0.01666667"),
]


@pytest.mark.parametrize(("quantity", "unit", "si"), NIST_SP_811)
def test_one_of_each_unit_is_what_nist_says(quantity: str, unit: str, si: str) -> None:
    assert parse_reading("1", quantity, unit).si == pytest.approx(Decimal(si), rel=Decimal("1e-6"))


NAMES_IN_PINT = {
    "kgf/cm²": "kgf/cm**2",
    "inHg": "inch_Hg",
    "inH2O": "inch_H2O",
    "in": "inch",
    "µm": "micrometer",
    "Ω": "ohm",
    "kΩ": "kiloohm",
    "MΩ": "megaohm",
    "mΩ": "milliohm",
    "GΩ": "gigaohm",
    "lbf·ft": "lbf*foot",
    "lbf·in": "lbf*inch",
    "N·m": "newton*meter",
    "kgf·m": "kgf*meter",
    "kgf·cm": "kgf*centimeter",
    "°F": "degF",
    "°C": "degC",
    "h": "hour",
    "ft": "foot",
    "US fl oz": "fluid_ounce",
    "US pt": "pint",
    "US qt": "quart",
    "US gal": "gallon",
    "US gal/min": "gallon/minute",
    "L/min": "liter/minute",
    "L/h": "liter/hour",
    "months": "month",
    "years": "julian_year",
    "rpm": "1/minute",
    "Hz": "1/second",
    "%": "percent",
}
SI_IN_PINT = {
    "Pa": "pascal",
    "m": "meter",
    "1/s": "1/second",
    "Ω": "ohm",
    "V": "volt",
    "A": "ampere",
    "N·m": "newton*meter",
    "K": "kelvin",
    "s": "second",
    "m³": "meter**3",
    "m³/s": "meter**3/second",
    "Hz": "1/second",
    "1": "dimensionless",
}
PLAIN_NUMBERS = {Quantity.COUNT, Quantity.MIX, Quantity.RATIO}
MEASURED = [
    (quantity, unit.name)
    for quantity, scale in SCALES.items()
    if quantity not in PLAIN_NUMBERS
    for unit in scale.units
]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("quantity", "unit"), MEASURED)
def test_every_unit_agrees_with_pint(
    registry: pint.UnitRegistry[float], quantity: Quantity, unit: str
) -> None:
    reading = parse_reading("1.75", quantity, unit)
    name = NAMES_IN_PINT.get(unit, unit)
    expected = registry.Quantity(1.75, name).to(SI_IN_PINT[reading.si_unit]).magnitude
    # 4e-5: pint's month and year are of the Julian calendar, ours are the Gregorian average
    tolerance = 4e-5 if unit in ("months", "years", "inHg", "inH2O") else 1e-12
    assert float(reading.si) == pytest.approx(expected, rel=tolerance)


@pytest.mark.parametrize(
    ("parts", "ounces_to_a_gallon", "millilitres_to_a_litre"),
    [(50, "2.56", "20"), (40, "3.2", "25"), (32, "4.0", "31.25"), (25, "5.12", "40")],
)
def test_oil_for_a_mix(parts: int, ounces_to_a_gallon: str, millilitres_to_a_litre: str) -> None:
    # 1 US gal = 128 US fl oz exactly (NIST SP 811)
    gallon, ounce = (parse_reading("1", "volume", unit).si for unit in ("US gal", "US fl oz"))
    assert round(gallon / parts / ounce, 6) == Decimal(ounces_to_a_gallon)
    litre, millilitre = (parse_reading("1", "volume", unit).si for unit in ("L", "mL"))
    assert litre / parts / millilitre == Decimal(millilitres_to_a_litre)

"""The units that a gauge, a rule or a meter reads in, how people write them, and their worth in SI.

Factors are exact by definition or from NIST Special Publication 811 (2008), appendix B.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType


class Quantity(StrEnum):
    """What is measured."""

    PRESSURE = "pressure"
    LENGTH = "length"
    SPEED = "speed"
    RESISTANCE = "resistance"
    VOLTAGE = "voltage"
    CURRENT = "current"
    TORQUE = "torque"
    TEMPERATURE = "temperature"
    TIME = "time"
    VOLUME = "volume"
    FLOW = "flow"
    FREQUENCY = "frequency"
    PERCENT = "percent"
    RATIO = "ratio"
    MIX = "mix"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit by its `name` as shown; the SI value is number × `factor` + `offset`."""

    name: str
    factor: Decimal
    spellings: tuple[str, ...] = ()
    offset: Decimal = Decimal(0)

    @property
    def one(self) -> str:
        """The name beside the number one: "1 pull", "1 day"."""
        return self.name.removesuffix("s") if len(self.name) > 3 else self.name


@dataclass(frozen=True, slots=True)
class Scale:
    """The units of one quantity, its SI unit, and the SI range met on small engines."""

    si_unit: str
    units: tuple[Unit, ...]
    most: Decimal
    least: Decimal = Decimal(0)

    def named(self, written: str) -> Unit | None:
        """Return the unit that `written` stands for, or None; "MΩ" and "mΩ" are told apart."""
        exact = [u for u in self.units if written in (u.name, *u.spellings)]
        if exact:
            return exact[0]
        wanted = _plain(written)
        loose = [u for u in self.units if wanted in map(_plain, (u.name, *u.spellings))]
        return loose[0] if loose else None


def _plain(written: str) -> str:
    folded = "".join(c for c in written.casefold() if c not in " .·-*_^")
    return folded.replace("²", "2").replace("³", "3")


_INCH = Decimal("0.0254")
_POUND_FORCE = Decimal("4.4482216152605")
_CONSTANTS = {
    "psi": _POUND_FORCE / _INCH**2,
    "kgf/cm²": Decimal("98066.5"),
    "lbf·ft": _POUND_FORCE * 12 * _INCH,
    "lbf·in": _POUND_FORCE * _INCH,
    "per minute": Decimal(1) / 60,
    "gallon": Decimal("0.003785411784"),
    "gal/min": Decimal("0.003785411784") / 60,
    "L/min": Decimal("0.001") / 60,
    "L/h": Decimal("0.001") / 3600,
    "°F": Decimal(5) / 9,
    "0 °F": Decimal("459.67") * 5 / 9,
}


def _units(table: str) -> tuple[Unit, ...]:
    """Read lines of "name | factor [+ offset] | spelling, spelling"."""
    units = []
    for line in table.strip().splitlines():
        name, worth, spellings = (part.strip() for part in line.split("|"))
        factor, _, offset = worth.partition(" + ")
        written = tuple(each.strip() for each in spellings.split(",") if each.strip())
        units.append(Unit(name, _worth(factor), written, _worth(offset or "0")))
    return tuple(units)


def _worth(written: str) -> Decimal:
    return _CONSTANTS[written] if written in _CONSTANTS else Decimal(written)


_PRESSURE = """
psi     | psi      | psig, lbs, lb, pounds, #, lb/in2, lbs/in2, lbf/in2, pounds per square inch
bar     | 1e5      | bars
kPa     | 1e3      | kilopascal, kilopascals
mbar    | 1e2      | millibar, millibars, hPa
MPa     | 1e6      | megapascal
Pa      | 1        | pascal, pascals
kgf/cm² | kgf/cm²  | kg/cm2, at
inHg    | 3386.389 | in hg, "hg, inches of mercury
inH2O   | 249.0889 | in h2o, "h2o, in wc, "wc, inches of water
"""
_LENGTH = """
in   | 0.0254    | ", inch, inches, ins
mm   | 0.001     | millimetre, millimetres, millimeter, millimeters
thou | 0.0000254 | mil, mils, thousandths
cm   | 0.01      | centimetre, centimetres, centimeter, centimeters
ft   | 0.3048    | ', foot, feet
µm   | 1e-6      | μm, um, micron, microns
m    | 1         | metre, metres, meter, meters
"""
_SPEED = """
rpm | per minute | r/min, 1/min, rev/min, revs, rev, min-1, revolutions per minute
"""
_RESISTANCE = """
Ω  | 1    | ohm, ohms, R
kΩ | 1e3  | k, K, kohm, kohms, k ohm, k ohms, kilohm, kilohms
MΩ | 1e6  | M, Mohm, Mohms, megohm, megohms, meg
mΩ | 1e-3 | m, mohm, mohms, milliohm, milliohms
GΩ | 1e9  | G, Gohm, gigohm
"""
_VOLTAGE = """
V  | 1    | volt, volts, v dc, v ac
mV | 1e-3 | millivolt, millivolts
kV | 1e3  | kilovolt, kilovolts
"""
_CURRENT = """
A  | 1    | amp, amps, ampere, amperes
mA | 1e-3 | milliamp, milliamps
"""
_TORQUE = """
lbf·ft | lbf·ft    | ft lb, ft lbs, lb ft, lbs ft, ft lbf, foot pound, foot pounds, pound feet
lbf·in | lbf·in    | in lb, in lbs, lb in, lbs in, in lbf, inch pound, inch pounds, pound inches
N·m    | 1         | newton metre, newton metres, newton meter, newton meters
kgf·m  | 9.80665   | kg m, m kg
kgf·cm | 0.0980665 | kg cm, cm kg
"""
_TEMPERATURE = """
°F | °F + 0 °F  | f, deg f, fahrenheit, degrees f
°C | 1 + 273.15 | c, deg c, celsius, degrees c
"""
_TIME = """
s      | 1          | sec, secs, second, seconds
min    | 60         | mins, minute, minutes
h      | 3600       | hr, hrs, hour, hours
days   | 86400      | d, day
weeks  | 604800     | wk, wks, w, week
months | 2629746    | mo, mos, mth, mths, month
years  | 31556952   | yr, yrs, y, year
ms     | 1e-3       | millisecond, milliseconds
"""
_VOLUME = """
mL       | 1e-6                | millilitre, millilitres, milliliter, milliliters, cc, cm3, ccm
L        | 1e-3                | litre, litres, liter, liters, ltr
US fl oz | 0.0000295735295625  | fl oz, oz, fluid ounce, fluid ounces, ounce, ounces
US pt    | 0.000473176473      | pt, pint, pints
US qt    | 0.000946352946      | qt, quart, quarts
US gal   | gallon              | gal, gals, gallon, gallons
"""
_FLOW = """
US gal/min | gal/min | gpm, gal/min, gallons per minute
L/min      | L/min   | lpm, litres per minute, liters per minute
L/h        | L/h     | litres per hour, liters per hour
"""
_COUNT = """
pulls   | 1 | pull
strokes | 1 | stroke, presses, pumps
turns   | 1 | turn
drops   | 1 | drop
holes   | 1 | hole
pieces  | 1 | piece, pcs
"""

SCALES: Mapping[Quantity, Scale] = MappingProxyType(
    {
        Quantity.PRESSURE: Scale("Pa", _units(_PRESSURE), most=Decimal("1e8")),
        Quantity.LENGTH: Scale("m", _units(_LENGTH), most=Decimal(200)),
        Quantity.SPEED: Scale("1/s", _units(_SPEED), most=Decimal(1000)),
        Quantity.RESISTANCE: Scale("Ω", _units(_RESISTANCE), most=Decimal("1e12")),
        Quantity.VOLTAGE: Scale("V", _units(_VOLTAGE), most=Decimal("1e5")),
        Quantity.CURRENT: Scale("A", _units(_CURRENT), most=Decimal(2000)),
        Quantity.TORQUE: Scale("N·m", _units(_TORQUE), most=Decimal(2000)),
        Quantity.TEMPERATURE: Scale(
            "K", _units(_TEMPERATURE), least=Decimal(200), most=Decimal(1800)
        ),
        Quantity.TIME: Scale("s", _units(_TIME), most=Decimal("3.2e9")),
        Quantity.VOLUME: Scale("m³", _units(_VOLUME), most=Decimal(1)),
        Quantity.FLOW: Scale("m³/s", _units(_FLOW), most=Decimal("0.1")),
        Quantity.FREQUENCY: Scale("Hz", _units("Hz | 1 | hertz, cycles"), most=Decimal("1e5")),
        Quantity.PERCENT: Scale("1", _units("% | 0.01 | percent, per cent, pct"), most=Decimal(2)),
        Quantity.RATIO: Scale("1", _units("× | 1 | x, times"), most=Decimal(1000)),
        Quantity.MIX: Scale(
            "1", _units(":1 | 1 | to 1, to one"), least=Decimal(8), most=Decimal(200)
        ),
        Quantity.COUNT: Scale("1", _units(_COUNT), most=Decimal(10000)),
    }
)
"""Every quantity with its units; the usual unit of a check must be one of these."""

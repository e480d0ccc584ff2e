from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.readings import ReadingError, parse_reading, show_reading, with_unit
from shopdesk.bench.units import SCALES, Quantity


@pytest.mark.parametrize(
    ("typed", "quantity", "usual", "number", "unit"),
    [
        ("142", "pressure", "psi", "142", "psi"),
        ("142 psi", "pressure", "bar", "142", "psi"),
        ("142psi", "pressure", "bar", "142", "psi"),
        ("142.", "pressure", "psi", "142", "psi"),
        ("142 lbs", "pressure", "psi", "142", "psi"),
        ("9.8 bar", "pressure", "psi", "9.8", "bar"),
        ("9,8 BAR", "pressure", "psi", "9.8", "bar"),
        ("3 kg/cm²", "pressure", "psi", "3", "kgf/cm²"),
        ("14 inHg", "pressure", "psi", "14", "inHg"),
        ('14 "hg', "pressure", "psi", "14", "inHg"),
        ("12 inH2O", "pressure", "psi", "12", "inH2O"),
        ('.012"', "length", "mm", "0.012", "in"),
        (".012”", "length", "mm", "0.012", "in"),
        (".012″", "length", "mm", "0.012", "in"),
        (".012''", "length", "mm", "0.012", "in"),
        ("12 thou", "length", "in", "12", "thou"),
        ("0,3 mm", "length", "in", "0.3", "mm"),
        ("0,012", "length", "in", "0.012", "in"),
        ('5 3/8"', "length", "mm", "5.375", "in"),
        ("5-3/8 in", "length", "mm", "5.375", "in"),
        ("5⅜″", "length", "mm", "5.375", "in"),
        ("⅜", "length", "in", "0.375", "in"),
        ("3/64", "length", "in", "0.046875", "in"),
        ("6'", "length", "in", "6", "ft"),
        ("2 800 rpm", "speed", "rpm", "2800", "rpm"),
        ("2\N{NARROW NO-BREAK SPACE}800 rpm", "speed", "rpm", "2800", "rpm"),
        ("2,800 rpm", "speed", "rpm", "2800", "rpm"),
        ("2.800 rpm", "speed", "rpm", "2800", "rpm"),
        ("1,200.5", "speed", "rpm", "1200.5", "rpm"),
        ("1.200,5", "speed", "rpm", "1200.5", "rpm"),
        ("2800 min-1", "speed", "rpm", "2800", "rpm"),
        ("12.4 V", "voltage", "V", "12.4", "V"),
        ("12,4V", "voltage", "V", "12.4", "V"),
        ("1.2k ohm", "resistance", "Ω", "1.2", "kΩ"),
        ("1.2k", "resistance", "Ω", "1.2", "kΩ"),
        ("4k7", "resistance", "Ω", "4.7", "kΩ"),
        ("2 MΩ", "resistance", "Ω", "2", "MΩ"),
        ("2 mΩ", "resistance", "Ω", "2", "mΩ"),
        ("50 \N{OHM SIGN}", "resistance", "kΩ", "50", "Ω"),
        ("3 s", "time", "min", "3", "s"),
        ("1 month", "time", "days", "1", "months"),
        ("25 ft lb", "torque", "N·m", "25", "lbf·ft"),
        ("25 ft-lbs", "torque", "N·m", "25", "lbf·ft"),
        ("90 in lb", "torque", "N·m", "90", "lbf·in"),
        ("12 Nm", "torque", "lbf·ft", "12", "N·m"),
        ("-4 C", "temperature", "°F", "-4", "°C"),
        ("\N{MINUS SIGN}4 °C", "temperature", "°F", "-4", "°C"),
        ("75F", "temperature", "°C", "75", "°F"),
        ("20 %", "percent", "%", "20", "%"),
        ("50:1", "mix", ":1", "50", ":1"),
        ("1:50", "mix", ":1", "50", ":1"),
        ("50 to 1", "mix", ":1", "50", ":1"),
        ("40", "mix", ":1", "40", ":1"),
        ("8", "count", "pulls", "8", "pulls"),
        ("1 pull", "count", "pulls", "1", "pulls"),
        ("2.5 gpm", "flow", "L/min", "2.5", "US gal/min"),
        ("2.6 oz", "volume", "mL", "2.6", "US fl oz"),
        ("60 hz", "frequency", "Hz", "60", "Hz"),
        ("٣٤ psi", "pressure", "psi", "34", "psi"),
        ("+142 psi", "pressure", "psi", "142", "psi"),
    ],
)
def test_what_people_type_is_understood(
    typed: str, quantity: str, usual: str, number: str, unit: str
) -> None:
    reading = parse_reading(typed, quantity, usual)
    assert (reading.number, reading.unit) == (Decimal(number), unit)
    assert reading.typed == typed
    assert reading.quantity == quantity
    assert reading.si_unit == SCALES[Quantity(quantity)].si_unit


@pytest.mark.parametrize(
    ("typed", "quantity", "usual", "says"),
    [
        ("", "pressure", "psi", "type the reading, for example 142 psi"),
        ("   ", "pressure", "psi", "Nothing was typed"),
        ("abc", "pressure", "psi", "does not begin with a number"),
        ("psi", "pressure", "psi", "does not begin with a number"),
        ("nan", "pressure", "psi", "does not begin with a number"),
        ("inf", "pressure", "psi", "does not begin with a number"),
        ("Infinity psi", "pressure", "psi", "does not begin with a number"),
        ("1e9", "pressure", "psi", "out in full"),
        ("-3 psi", "pressure", "psi", "cannot be below zero"),
        ("99999999 psi", "pressure", "psi", "check the decimal sign"),
        ("9" * 200, "pressure", "psi", "too long"),
        ("142 foo", "pressure", "psi", "“foo” is not a unit of pressure"),
        ("142 mm", "pressure", "psi", "a unit of length, and this is a pressure"),
        ("25 lb", "torque", "N·m", "lbf·ft"),
        ("2 ft 3 in", "length", "in", "more than one number"),
        ("140/150 psi", "torque", "N·m", "a unit of pressure"),
        ("10 14", "length", "in", "more than one way"),
        ("1,2,3", "pressure", "psi", "more than one way"),
        ("5/0", "length", "in", "divides by zero"),
        ("3:50", "mix", ":1", "one part of oil"),
        ("5", "mix", ":1", "check the decimal sign"),
        ("120 🔧", "pressure", "psi", "not a unit"),
        ("<b>120</b>", "pressure", "psi", "does not begin with a number"),
        ("-500 °C", "temperature", "°F", "check the decimal sign"),
        ("12", "length", "psi", "correct the check's usual unit"),
    ],
)
def test_what_is_no_reading_gets_a_sentence(
    typed: str, quantity: str, usual: str, says: str
) -> None:
    with pytest.raises(ReadingError) as caught:
        parse_reading(typed, quantity, usual)
    assert says in str(caught.value)
    assert str(caught.value).endswith(".")


def test_si_value_is_exact() -> None:
    assert parse_reading("0.3 mm", "length", "in").si == Decimal("0.0003")
    assert parse_reading("5 3/8", "length", "in").si == Decimal("0.136525")
    assert parse_reading("20 °C", "temperature", "°F").si == Decimal("293.15")
    assert parse_reading("3000", "speed", "rpm").si == pytest.approx(Decimal(50))


@pytest.mark.parametrize(
    ("typed", "quantity", "usual", "shown"),
    [
        ("142", "pressure", "psi", "142 psi"),
        ("2 800", "speed", "rpm", "2,800 rpm"),
        (".012", "length", "in", "0.012 in"),
        ('5-3/8"', "length", "in", "5 3/8 in"),
        ("6/2", "length", "in", "3 in"),
        ("3/64", "length", "in", "3/64 in"),
        ("1:50", "mix", ":1", "50:1"),
        ("20", "percent", "%", "20%"),
        ("1", "count", "pulls", "1 pull"),
        ("2", "count", "pulls", "2 pulls"),
        ("1 wk", "time", "days", "1 week"),
        ("25 ft lb", "torque", "N·m", "25 lbf·ft"),
    ],
)
def test_one_formatter_shows_every_reading(
    typed: str, quantity: str, usual: str, shown: str
) -> None:
    assert show_reading(parse_reading(typed, quantity, usual)) == shown


def test_a_number_and_its_unit_are_joined_one_way() -> None:
    assert with_unit("107", "psi") == "107 psi"
    assert with_unit("25:1 to 50", ":1") == "25:1 to 50:1"


units_with_quantity = st.sampled_from(
    [(q, u.name) for q, s in SCALES.items() if q is not Quantity.TEMPERATURE for u in s.units]
)


@given(
    units_with_quantity,
    st.decimals(min_value=Decimal("0.001"), max_value=99999, places=3, allow_nan=False),
)
def test_what_is_shown_can_be_typed_again(pair: tuple[Quantity, str], number: Decimal) -> None:
    quantity, unit = pair
    try:
        reading = parse_reading(f"{number:f} {unit}", quantity, unit)
    except ReadingError:
        return  # outside the range met on small engines
    again = parse_reading(show_reading(reading), quantity, unit)
    assert (again.number, again.unit, again.si) == (reading.number, reading.unit, reading.si)


@given(st.text(max_size=80), st.sampled_from(list(Quantity)))
def test_anything_typed_gives_a_reading_or_a_sentence(typed: str, quantity: Quantity) -> None:
    scale = SCALES[quantity]
    try:
        reading = parse_reading(typed, quantity, scale.units[0].name)
    except ReadingError as error:
        said = str(error)
    else:
        said = f"{show_reading(reading)}."
        assert scale.least <= reading.si <= scale.most
        assert reading.number.is_finite()
    assert said.endswith(".")

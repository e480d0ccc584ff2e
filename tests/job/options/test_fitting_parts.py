"""Of the parts that fit, those of the closest fit are taken together, one of each name."""

from dataclasses import replace

from shopdesk.job.options.parts import FittingParts
from shopdesk.job.parts.catalogue import PartEntry, add_part, keep_part
from shopdesk.job.parts.fits import FitEntry, add_fit
from shopdesk.job.shift import Shift
from shopdesk.job.units import find_unit
from tests.job.parts.storeroom import part
from tests.job.workshop import TRIMMER, taken_in

PLUG = PartEntry("SP 6Y", "Spark plug")


def taken(shift: Shift, unit_id: int, cause: str = "stale-fuel") -> list[tuple[str, str]]:
    """Number and quantity of what is taken for a cause."""
    with shift.records.reading():
        fitting = FittingParts(find_unit(unit_id), shift.shop)
        return [(row.number, str(quantity)) for row, quantity in fitting.for_cause(cause)]


def test_the_parts_for_a_cause_are_those_of_the_own_model_if_any(shift: Shift) -> None:
    unit_id = taken_in(shift).unit.id
    any_plug, own, grommet = (
        add_part(shift, PartEntry(number, name))
        for number, name in (("P-1", "Spark plug"), ("P-2", "Plug"), ("G-1", "Grommet"))
    )
    add_fit(shift, any_plug.id, FitEntry(kind=TRIMMER.kind, cause="stale-fuel"))
    assert taken(shift, unit_id) == [("P-1", "1")]
    own_model = FitEntry(make="TARNBECK", model="tb26", cause="stale-fuel")
    add_fit(shift, own.id, replace(own_model, quantity="2"))
    add_fit(shift, grommet.id, own_model)
    assert taken(shift, unit_id) == [("P-2", "2"), ("G-1", "1")]
    keep_part(shift, own.id, False)
    assert taken(shift, unit_id) == [("G-1", "1")]
    assert taken(shift, unit_id, "ethanol") == []


def test_of_parts_of_one_name_the_new_then_the_cheap_one_is_taken(shift: Shift) -> None:
    unit_id = taken_in(shift).unit.id
    used = part(shift, replace(PLUG, number="U-1", condition="used", price="1"), "5")
    add_fit(shift, used.id, FitEntry(cause="stale-fuel"))
    assert taken(shift, unit_id) == [("U-1", "1")]
    for number, price in (("D-1", "9"), ("C-1", "4")):
        one = part(shift, replace(PLUG, number=number, price=price))
        add_fit(shift, one.id, FitEntry(cause="stale-fuel"))
    assert taken(shift, unit_id) == [("C-1", "1")]

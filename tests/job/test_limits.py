"""The shop's own limits go before the reference ones, a machine's before its model's."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.diagnosis import record_finding, try_reading
from shopdesk.job.limits import (
    LimitEntry,
    LimitView,
    drop_limit,
    limits_of_unit,
    set_model_limit,
    set_unit_limit,
)
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.units import change_unit
from shopdesk.job.views import FindingView, TicketView
from shopdesk.records.tables import JournalEntry
from tests.job.mended import on_the_bench
from tests.job.workshop import SAW, SHOP, TRIMMER, at_stage, refused

MANUAL = "maker's manual, page 12"


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def of_model(shift: Shift, limit: str, *, measured_here: bool = False) -> tuple[LimitView, ...]:
    entry = LimitEntry("compression", limit, MANUAL, measured_here)
    return set_model_limit(shift, "TARNBECK", "tb 26", entry)


def of_unit(shift: Shift, ticket: TicketView, limit: str) -> tuple[LimitView, ...]:
    return set_unit_limit(shift, ticket.unit.id, LimitEntry("compression", limit))


def reading(shift: Shift, ticket: TicketView, typed: str) -> FindingView:
    return record_finding(shift, ticket.id, "compression", typed).findings[-1]


def test_a_machines_limit_goes_before_its_models_and_that_before_the_reference(
    shift: Shift, ticket: TicketView
) -> None:
    judged = [reading(shift, ticket, "118")]
    of_model(shift, "at least 115 psi")
    judged.append(reading(shift, ticket, "118"))
    of_unit(shift, ticket, "at least 125 psi")
    judged.append(reading(shift, ticket, "118"))
    assert [(finding.verdict, finding.limit, finding.source) for finding in judged] == [
        ("marginal", "at least 130 psi", "common practice, no published source"),
        ("pass", "at least 115 psi", f"{MANUAL}, shop's own card for this model"),
        ("fail", "at least 125 psi", "shop's own figure for this machine"),
    ]


def test_readings_judged_before_stay_as_they_were(shift: Shift, ticket: TicketView) -> None:
    before = reading(shift, ticket, "118")
    of_unit(shift, ticket, "at least 100 psi")
    assert open_ticket(shift, ticket.id).findings == (before,)


def test_a_limit_taken_away_lets_the_next_one_hold(shift: Shift, ticket: TicketView) -> None:
    of_model(shift, "at least 115 psi")
    (own,) = of_unit(shift, ticket, "at least 125 psi")
    assert try_reading(shift, ticket.id, "compression", "118").verdict == "fail"
    drop_limit(shift, own.id, "was of another machine")
    assert try_reading(shift, ticket.id, "compression", "118").verdict == "pass"
    (left,) = limits_of_unit(shift, ticket.unit.id)
    assert not left.of_unit
    drop_limit(shift, left.id)
    assert try_reading(shift, ticket.id, "compression", "118").verdict == "marginal"
    with refused(shift, "limit", "open the card again"):
        drop_limit(shift, left.id)


def test_a_limit_of_a_machine_is_of_that_machine_alone(shift: Shift, ticket: TicketView) -> None:
    of_unit(shift, ticket, "at least 60 psi")
    twin = on_the_bench(shift, 7)
    assert reading(shift, twin, "70").verdict == "fail"


def test_a_limit_of_a_model_is_of_all_its_spellings_and_of_no_other(
    shift: Shift, ticket: TicketView
) -> None:
    of_model(shift, "at least 60 psi")
    twin = on_the_bench(shift, 7, replace(TRIMMER, make="Tarnbéck", model="TB26"))
    other = on_the_bench(shift, 8, replace(TRIMMER, model="TB-260"))
    nameless = on_the_bench(shift, 9, replace(TRIMMER, make="", model=""))
    assert reading(shift, twin, "70").verdict == "pass"
    assert reading(shift, other, "70").verdict == "fail"
    assert reading(shift, nameless, "70").verdict == "fail"


def test_a_machine_whose_model_is_put_right_gets_that_models_limit(
    shift: Shift, ticket: TicketView
) -> None:
    of_model(shift, "at least 60 psi")
    saw = on_the_bench(shift, 7, SAW)
    assert reading(shift, saw, "70").verdict == "fail"
    change_unit(shift, saw.unit.id, replace(TRIMMER, serial="X1"))
    assert reading(shift, saw, "70").verdict == "pass"


def test_a_second_limit_of_a_check_takes_the_place_of_the_first(
    shift: Shift, ticket: TicketView
) -> None:
    (first,) = of_model(shift, "at least 115 psi")
    (second,) = of_model(shift, "8.5 to 9.5 bar")
    assert (second.id, second.typed) == (first.id, "8.5 to 9.5 bar")
    with shift.records.reading():
        kept = JournalEntry.get(JournalEntry.table == "own_limit", JournalEntry.action == "changed")
    assert "at least 115 psi" in kept.before


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("at least 115", "at least 115 psi"),
        ("115-130", "115-130 psi"),
        ("at least 8 kg/cm2", "at least 8 kg/cm2"),
        ("9 ± 0.5 bar", "9 ± 0.5 bar"),
        ("  AT  LEAST 115 PSI ", "AT LEAST 115 PSI"),
    ],
)
def test_a_limit_without_a_unit_is_in_the_checks_usual_one(
    shift: Shift, typed: str, kept: str
) -> None:
    (limit,) = of_model(shift, typed)
    assert (limit.typed, limit.title, limit.named_by) == (kept, "Compression", MANUAL)
    assert (limit.written_by, limit.of_unit) == ("Sam", False)


def test_a_makers_compression_limit_holds_at_sea_level(shift: Shift, ticket: TicketView) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    of_model(shift, "at least 115 psi")
    finding = reading(shift, ticket, "96")
    assert (finding.verdict, finding.limit) == ("pass", "at least 95 psi")
    assert "115 psi at sea level" in finding.correction


def test_a_figure_measured_at_the_shop_is_not_moved_for_its_altitude(
    shift: Shift, ticket: TicketView
) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    of_model(shift, "at least 115 psi", measured_here=True)
    finding = reading(shift, ticket, "96")
    assert (finding.verdict, finding.limit, finding.correction) == ("fail", "at least 115 psi", "")
    assert "measured at this shop" in finding.says


@pytest.mark.parametrize(
    ("check", "limit", "field", "words"),
    [
        ("compression", "", "limit", "is empty: type it"),
        ("compression", "115", "limit", "“115 psi” is no limit: type it like"),
        ("compression", "psi", "limit", "names no figure: type it like at least 12 psi"),
        ("compression", "at least 3 mm", "limit", "is read in psi, not in mm"),
        ("compression", "30-20", "limit", "type the smaller figure first"),
        ("compression", "at least 3 furlongs", "limit", "“furlongs” is not a unit known here"),
        ("compression", "at least -3 psi", "limit", "-3"),
        ("compression", "x" * 201, "limit", "201 characters"),
        ("piston-look", "at least 3", "check_key", "judged by what is seen"),
        ("no-such-check", "at least 3", "check_key", "There is no check"),
        ("", "at least 3", "check_key", "There is no check"),
    ],
)
def test_what_is_no_limit_is_refused_at_its_field(
    shift: Shift, ticket: TicketView, check: str, limit: str, field: str, words: str
) -> None:
    with refused(shift, field, words):
        set_unit_limit(shift, ticket.unit.id, LimitEntry(check, limit))


def test_a_resistance_in_milliohms_is_not_taken_for_metres(
    shift: Shift, ticket: TicketView
) -> None:
    with refused(shift, "limit", "not in m:"):
        set_unit_limit(shift, ticket.unit.id, LimitEntry("coil-resistance", "at most 5 m"))


def test_a_limit_needs_a_machine_or_a_model(shift: Shift) -> None:
    with refused(shift, "model", "No model is named"):
        set_model_limit(shift, "Tarnbeck", " - ", LimitEntry("compression", "at least 1 psi"))
    with refused(shift, "unit", "find it again"):
        set_unit_limit(shift, 77, LimitEntry("compression", "at least 1 psi"))
    with refused(shift, "unit", "find it again"):
        limits_of_unit(shift, 77)

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.bench.checks import Catalogue, Verdict
from shopdesk.bench.entries import CatalogueError
from shopdesk.bench.judging import judge
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Engine, Machine, Place
from shopdesk.bench.readings import ReadingError


def test_a_pass_names_its_limit_and_source(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    judged = judge(catalogue.check("compression"), "142", trimmer, sea_level)
    assert judged.verdict is Verdict.PASS
    assert judged.says == "142 psi, pass: at least 130 psi (common practice, no published source)."
    assert judged.limit == "at least 130 psi"
    assert judged.correction == ""
    assert "no need to open the engine" in judged.rules_out
    assert judged.points_to == ""
    assert judged.title == "Compression"


@pytest.mark.parametrize(
    ("typed", "verdict", "outcome"),
    [
        ("107", Verdict.PASS, "pass"),
        ("106", Verdict.MARGINAL, "marginal"),
        ("96", Verdict.MARGINAL, "marginal"),
        ("95", Verdict.FAIL, "low"),
        ("0", Verdict.FAIL, "low"),
    ],
)
def test_compression_limit_follows_the_altitude(
    catalogue: Catalogue,
    trimmer: Machine,
    mile_high: Place,
    typed: str,
    verdict: Verdict,
    outcome: str,
) -> None:
    judged = judge(catalogue.check("compression"), typed, trimmer, mile_high)
    assert (judged.verdict, judged.outcome) == (verdict, outcome)
    assert judged.limit == "at least 107 psi"
    assert judged.correction.startswith(
        "130 psi at sea level, lowered to 107 psi for 1,609 m: a gauge shows the pressure ratio"
    )
    assert "US Standard Atmosphere 1976" in judged.says


def test_below_the_sea_the_limit_goes_up(catalogue: Catalogue, trimmer: Machine) -> None:
    judged = judge(catalogue.check("compression"), "131", trimmer, Place(Decimal(-400)))
    assert judged.verdict is Verdict.MARGINAL
    assert "raised to 136 psi for -400 m" in judged.correction


def test_a_few_metres_change_nothing(catalogue: Catalogue, trimmer: Machine) -> None:
    judged = judge(catalogue.check("compression"), "130", trimmer, Place(Decimal(10)))
    assert (judged.verdict, judged.correction) == (Verdict.PASS, "")


def test_a_limit_that_altitude_does_not_touch_stays(
    catalogue: Catalogue, trimmer: Machine, mile_high: Place
) -> None:
    judged = judge(catalogue.check("pop-off"), "12", trimmer, mile_high)
    assert (judged.limit, judged.correction) == ("10 to 22 psi", "")


@pytest.mark.parametrize(
    ("typed", "verdict", "outcome", "limit"),
    [
        (".010", Verdict.PASS, "pass", "0.010 to 0.014 in"),
        ('.014"', Verdict.PASS, "pass", "0.010 to 0.014 in"),
        (".0141", Verdict.MARGINAL, "marginal", "0.010 to 0.014 in"),
        (".005", Verdict.FAIL, "low", "0.010 to 0.014 in"),
        (".021", Verdict.FAIL, "high", "0.010 to 0.014 in"),
        ("0.25 mm", Verdict.PASS, "pass", "0.010 to 0.014 in (0.25 to 0.36 mm)"),
        ("0.4 mm", Verdict.MARGINAL, "marginal", "0.010 to 0.014 in (0.25 to 0.36 mm)"),
        ("12 thou", Verdict.PASS, "pass", "0.010 to 0.014 in (10 to 14 thou)"),
    ],
)
def test_a_limit_is_judged_as_it_is_shown_in_the_gauges_unit(
    catalogue: Catalogue,
    trimmer: Machine,
    sea_level: Place,
    typed: str,
    verdict: Verdict,
    outcome: str,
    limit: str,
) -> None:
    judged = judge(catalogue.check("coil-gap"), typed, trimmer, sea_level)
    assert (judged.verdict, judged.outcome, judged.limit) == (verdict, outcome, limit)


def test_which_side_it_failed_on_is_said(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    check = catalogue.check("coil-gap")
    assert ", fail (high): " in judge(check, ".040", trimmer, sea_level).says
    assert ", fail (low): " in judge(check, ".002", trimmer, sea_level).says
    assert ", marginal (a little high): " in judge(check, ".016", trimmer, sea_level).says


def test_without_a_limit_it_is_kept_as_said(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    judged = judge(catalogue.check("full-speed"), "9,400", trimmer, sea_level)
    assert (judged.verdict, judged.outcome) == (Verdict.NOTED, "")
    assert judged.says.startswith("9,400 rpm, noted: no limit is known")


def test_the_limit_of_the_model_goes_first(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    ours = Limit("rpm", "maker's manual", Decimal(8800), Decimal(9600))
    judged = judge(catalogue.check("full-speed"), "9,400", trimmer, sea_level, {"full-speed": ours})
    assert judged.says == "9,400 rpm, pass: 8,800 to 9,600 rpm (maker's manual)."


def test_a_models_limit_is_corrected_for_altitude_too(
    catalogue: Catalogue, trimmer: Machine, mile_high: Place
) -> None:
    ours = Limit("bar", "maker's manual", pass_from=Decimal("8.5"), gauge_pressure=True)
    judged = judge(
        catalogue.check("compression"), "7.0 bar", trimmer, mile_high, {"compression": ours}
    )
    assert (judged.verdict, judged.limit) == (Verdict.PASS, "at least 7.0 bar")


def test_a_models_limit_in_units_of_something_else_is_refused(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    wrong = Limit("mm", "a slip", pass_from=Decimal(8))
    with pytest.raises(CatalogueError, match="not both units of pressure"):
        judge(catalogue.check("compression"), "142", trimmer, sea_level, {"compression": wrong})


def test_limits_differ_by_engine(
    catalogue: Catalogue, trimmer: Machine, mower: Machine, sea_level: Place
) -> None:
    check = catalogue.check("idle-speed")
    assert judge(check, "2900", trimmer, sea_level).verdict is Verdict.PASS
    assert judge(check, "2900", mower, sea_level).verdict is Verdict.FAIL


def test_the_clutch_is_judged_against_the_idle_speed_read_before(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    idle = judge(catalogue.check("idle-speed"), "2700", trimmer, sea_level).reading
    assert idle is not None
    check = catalogue.check("clutch-speed")
    judged = judge(check, "3375", trimmer, sea_level, earlier={"idle-speed": idle})
    assert (judged.verdict, judged.limit) == (Verdict.PASS, "at least 3,375 rpm")
    assert judged.correction == "1.25 times 2,700 rpm, the reading of “idle-speed”"
    slow = judge(check, "3374", trimmer, sea_level, earlier={"idle-speed": idle})
    assert slow.verdict is Verdict.FAIL
    without = judge(check, "3375", trimmer, sea_level)
    assert without.verdict is Verdict.NOTED
    assert "take “idle-speed” first" in without.says


@pytest.mark.parametrize("typed", ["n", "N", "3", "none", " None ", "non"])
def test_what_is_seen_is_typed_in_any_short_way(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place, typed: str
) -> None:
    judged = judge(catalogue.check("spark"), typed, trimmer, sea_level)
    assert (judged.seen, judged.verdict, judged.outcome) == ("n", Verdict.FAIL, "n")
    assert judged.reading is None
    assert judged.points_to.startswith("No spark reaches the plug")
    assert "should be: strong, blue, at every pull" in judged.says


@pytest.mark.parametrize(
    ("key", "typed", "says"),
    [
        ("spark", "q", "type s (strong, blue, at every pull), w"),
        ("spark", "4", "none of the choices"),
        ("spark", "", "none of the choices"),
        ("primer", "stays", "d (stays dry) or f (stays flat)"),
        ("compression", "abc", "Or type z (needle does not move)."),
        ("coil-gap", "x", "for example 0.012 in"),
    ],
)
def test_an_answer_that_fits_nothing_lists_what_would(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place, key: str, typed: str, says: str
) -> None:
    with pytest.raises(ReadingError) as caught:
        judge(catalogue.check(key), typed, trimmer, sea_level)
    assert says in str(caught.value)


def test_a_measured_check_takes_words_where_the_meter_shows_no_number(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    judged = judge(catalogue.check("coil-resistance"), "OL", trimmer, sea_level)
    assert (judged.seen, judged.verdict) == ("o", Verdict.FAIL)
    dry = judge(catalogue.check("primer"), "dry", trimmer, sea_level)
    assert (dry.seen, dry.verdict) == ("d", Verdict.FAIL)
    assert judge(catalogue.check("primer"), "1", trimmer, sea_level).reading is not None


def test_a_trial_is_noted_and_says_what_it_clears_or_means(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    check = catalogue.check("good-fuel")
    cured = judge(check, "runs", trimmer, sea_level)
    same = judge(check, "n", trimmer, sea_level)
    assert (cured.verdict, same.verdict) == (Verdict.NOTED, Verdict.NOTED)
    assert cured.points_to == "The old fuel was the cause."
    assert same.rules_out == "The fuel in the tank is not the cause."
    assert (cured.outcome, same.outcome) == ("r", "n")


def test_not_known_tells_nothing(catalogue: Catalogue, trimmer: Machine, sea_level: Place) -> None:
    judged = judge(catalogue.check("fuel-age"), "not known", trimmer, sea_level)
    assert (judged.verdict, judged.outcome) == (Verdict.NOTED, "")


def test_a_corded_saw_has_its_own_limits(catalogue: Catalogue, sea_level: Place) -> None:
    saw = Machine("chain saw", Engine.CORDED)
    judged = judge(catalogue.check("insulation"), "0.4", saw, sea_level)
    assert judged.verdict is Verdict.FAIL
    assert judge(catalogue.check("insulation"), "500 k", saw, sea_level).verdict is Verdict.FAIL
    assert judge(catalogue.check("insulation"), "20", saw, sea_level).verdict is Verdict.PASS


def test_what_was_typed_is_kept_untouched(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    judged = judge(catalogue.check("compression"), "  9,8 Bar ", trimmer, sea_level)
    assert judged.typed == "  9,8 Bar "
    assert judged.reading is not None
    assert judged.reading.typed == "  9,8 Bar "


def test_every_check_can_be_answered_on_every_machine_it_fits(
    catalogue: Catalogue, mile_high: Place
) -> None:
    for engine in Engine:
        for kind in ("string trimmer", "chain saw", "lawn mower", "generator"):
            machine = Machine(kind, engine)
            for check in catalogue.checks_for(machine):
                answers = [choice.key for choice in check.seen]
                if check.quantity:
                    answers += ["20" if check.usual_unit == ":1" else "1"]
                for typed in answers:
                    judged = judge(check, typed, machine, mile_high)
                    assert judged.says.endswith(".")
                    assert judged.rules_out or judged.verdict is not Verdict.PASS
                    if judged.verdict in (Verdict.MARGINAL, Verdict.FAIL):
                        assert judged.points_to
                        assert judged.outcome


def test_an_overriding_limit_of_another_check_is_left_alone(
    catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    plain = judge(catalogue.check("coil-gap"), ".012", trimmer, sea_level)
    ours = Limit("in", "maker's manual", Decimal("0.020"), Decimal("0.030"))
    other = judge(catalogue.check("coil-gap"), ".012", trimmer, sea_level, {"plug-gap": ours})
    assert replace(other) == plain

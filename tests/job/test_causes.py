"""What it turned out to be, what it is not, and how closed tickets and findings move the odds."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.bench.causes import ShopCounts
from shopdesk.job.causes import (
    WANTED,
    causes_for,
    hint,
    overrule,
    reinstate,
    say_cause,
)
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.history import ticket_journal
from shopdesk.job.intake import TicketEntry
from shopdesk.job.limits import LimitEntry, set_unit_limit
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.ranking import STEPS_SHOWN, CauseView, RankingView, ranking
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop_history import shop_history
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.job.mended import mended, on_the_bench
from tests.job.workshop import (
    INTAKE,
    SAW,
    SHOP,
    TRIMMER,
    Clock,
    at_stage,
    declined,
    everything,
    kept,
    refused,
    taken_in,
)

BOGS = replace(INTAKE, complaint_kind="bogs")
MOWER = UnitEntry("lawn mower", "four-stroke", "Hallam", "H 46")


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS, BOGS)


def cause(view: RankingView, key: str) -> CauseView:
    return next(each for each in view.causes if each.key == key)


def counts(shift: Shift, model: str = "TB-26") -> ShopCounts:
    return shop_history(shift, "string trimmer", "two-stroke", "Tarnbeck", model)


def test_the_cause_is_said_and_taken_back(shift: Shift, ticket: TicketView) -> None:
    said = kept(shift, say_cause(shift, ticket.id, "arrester", "half its holes shut"))
    assert (said.cause, said.cause_title) == ("arrester", "spark arrester choked with carbon")
    assert said.cause_words == "half its holes shut"
    assert '"cause":"arrester"' in ticket_journal(shift, ticket.id)[-1].after
    back = kept(shift, say_cause(shift, ticket.id, ""))
    assert (back.cause, back.cause_title, back.cause_words) == ("", "", "")


def test_something_else_needs_words(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "words", "What it was is empty: type it"):
        say_cause(shift, ticket.id, "something-else", " ")
    said = say_cause(shift, ticket.id, "something-else", "a mouse's nest in the fan")
    assert (said.cause, said.cause_title) == ("something-else", "a mouse's nest in the fan")


def test_the_causes_to_choose_from_are_those_of_the_machine(
    shift: Shift, ticket: TicketView
) -> None:
    keys = [choice.key for choice in causes_for(ticket.unit)]
    assert "arrester" in keys
    assert keys[-1] == "something-else"
    assert "burnt-valve" not in keys
    with refused(shift, "cause", "“burnt-valve” is no cause that a string trimmer can have"):
        say_cause(shift, ticket.id, "burnt-valve")
    with refused(shift, "cause", "is no cause"):
        say_cause(shift, ticket.id, "gremlins" * 9)
    with refused(shift, "ticket", "find it again"):
        say_cause(shift, 77, "arrester")


def test_the_cause_can_be_said_after_the_machine_went_home(shift: Shift) -> None:
    gone = at_stage(shift, Stage.CLOSED)
    assert say_cause(shift, gone.id, "arrester").cause == "arrester"


def test_the_cause_is_asked_for_once_the_machine_is_mended(shift: Shift) -> None:
    ready = at_stage(shift, Stage.PICKUP)
    assert hint(ready) == WANTED
    assert hint(say_cause(shift, ready.id, "arrester")) == ""


@pytest.mark.parametrize("stage", [Stage.INTAKE, Stage.DIAGNOSIS, Stage.APPROVAL, Stage.CLOSED])
def test_the_cause_is_not_asked_for_before_or_after(shift: Shift, stage: Stage) -> None:
    assert hint(at_stage(shift, stage)) == ""


def test_the_cause_is_not_asked_for_where_nothing_is_mended(shift: Shift) -> None:
    assert hint(declined(shift)) == ""


def test_closed_tickets_are_counted_by_model_and_then_by_kind(shift: Shift) -> None:
    mended(shift, 1, "arrester")
    mended(shift, 2, "arrester", replace(TRIMMER, make="TARNBECK", model="tb 26"))
    mended(shift, 3, "fuel-filter", replace(TRIMMER, model="TB-30"))
    mended(shift, 4, "fuel-filter", replace(TRIMMER, model=""))
    mended(shift, 5, "fuel-filter", SAW)
    mended(shift, 6)
    say_cause(shift, on_the_bench(shift, 7).id, "arrester")
    assert counts(shift) == ShopCounts({"arrester": 2}, {"fuel-filter": 2})
    assert counts(shift, "TB 30") == ShopCounts(
        {"fuel-filter": 1}, {"arrester": 2, "fuel-filter": 1}
    )
    assert counts(shift, "") == ShopCounts({}, {"arrester": 2, "fuel-filter": 2})


def test_a_ticket_reopened_or_returned_as_it_is_does_not_count(shift: Shift) -> None:
    ticket = mended(shift, 1, "arrester")
    assert counts(shift).model == {"arrester": 1}
    send_back(shift, ticket.id, Stage.PICKUP, "wrong bill")
    assert counts(shift) == ShopCounts()
    refusal = declined(shift)
    say_cause(shift, refusal.id, "arrester")
    assert counts(shift) == ShopCounts()


def test_the_ranking_is_whole(shift: Shift, ticket: TicketView) -> None:
    before = everything(shift)
    view = ranking(shift, ticket.id)
    assert everything(shift) == before
    assert sum(each.probability for each in view.causes) == pytest.approx(1)
    assert [each.probability for each in view.causes] == sorted(
        (each.probability for each in view.causes), reverse=True
    )
    assert cause(view, "something-else").probability > 0
    assert view.causes[0].words.endswith(" in 100")
    assert len(view.steps) == STEPS_SHOWN
    assert all(step.why.endswith(".") and step.minutes > 0 for step in view.steps)
    assert view.contradiction == ""
    assert view.history.startswith("No closed ticket of this kind")


def test_the_first_looks_come_first_with_their_cautions(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS, replace(INTAKE, complaint_kind="won't start"))
    view = ranking(shift, ticket.id)
    assert all(step.is_check for step in view.steps)
    spark = next(step for step in (*view.steps, *view.others) if step.key == "spark")
    assert spark.cautions


def test_findings_move_the_ranking(shift: Shift, ticket: TicketView) -> None:
    before = ranking(shift, ticket.id)
    record_finding(shift, ticket.id, "arrester", "b")
    after = ranking(shift, ticket.id)
    assert after.causes[0].key == "arrester"
    assert cause(after, "arrester").probability > cause(before, "arrester").probability
    steps = [(step.key, step.is_check) for step in (*after.steps, *after.others)]
    assert ("arrester", True) not in steps
    assert next(key for key, is_check in steps if not is_check) == "arrester"


def test_no_cause_is_said_to_be_certain(shift: Shift) -> None:
    entry = replace(INTAKE, complaint_kind="won't start", onset="at once")
    seen = [("compression", "20"), ("piston-look", "e"), ("crankcase-vacuum", "0")]
    view = ranking(shift, on_the_bench(shift, 1, SAW, seen, entry).id)
    assert view.causes[0].key == "scored-piston"
    assert view.causes[0].words == "more than 99 in 100"
    assert view.causes[-1].words == "less than 1 in 100"


def test_the_last_finding_of_a_check_holds(shift: Shift, ticket: TicketView) -> None:
    before = ranking(shift, ticket.id)
    record_finding(shift, ticket.id, "arrester", "b")
    record_finding(shift, ticket.id, "arrester", "c")
    once_clear = ranking(shift, ticket.id)
    assert cause(once_clear, "arrester").probability < cause(before, "arrester").probability
    record_finding(shift, ticket.id, "arrester", "x")
    untold = ranking(shift, ticket.id)
    assert cause(untold, "arrester").probability == cause(before, "arrester").probability


def test_settings_and_the_proof_run_say_nothing_of_the_cause(
    shift: Shift, ticket: TicketView
) -> None:
    before = ranking(shift, ticket.id)
    record_finding(shift, ticket.id, "compression", "40", phase="proof")
    record_finding(shift, ticket.id, "coil-gap", "0.012", phase="setting")
    assert ranking(shift, ticket.id) == before


def test_in_short_the_rest_is_one_and_something_else_is_named(
    shift: Shift, ticket: TicketView
) -> None:
    overrule(shift, ticket.id, "stale-fuel", "fresh from the can")
    view = ranking(shift, ticket.id)
    short = view.in_short(4)
    assert [bool(cause.key) for cause in short] == [True] * 4 + [False]
    assert "something-else" in [cause.key for cause in short]
    named = [cause for cause in view.causes if cause.key != "something-else"]
    assert [cause for cause in short[:4] if cause.key != "something-else"] == named[:3]
    assert sum(cause.probability for cause in short) == pytest.approx(1)
    assert short[-1].title == f"{len(view.causes) - 5} others together"
    assert [cause.key for cause in view.overruled] == ["stale-fuel"]
    assert view.in_short(99) == tuple(cause for cause in view.causes if not cause.overruled)


def test_findings_that_do_not_go_together_are_named(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS, replace(INTAKE, complaint_kind="won't start"))
    record_finding(shift, ticket.id, "spark", "n")
    assert ranking(shift, ticket.id).contradiction == ""
    record_finding(shift, ticket.id, "good-fuel", "r")
    odd = ranking(shift, ticket.id).contradiction
    assert odd in {
        f"“{finding.title}” does not go with the other findings: "
        "make that check again before building on it."
        for finding in open_ticket(shift, ticket.id).findings
    }


def test_a_second_fault_is_not_shrugged_off(shift: Shift) -> None:
    said = replace(INTAKE, complaint_kind="won't start", onset="after storage")
    ticket = at_stage(shift, Stage.DIAGNOSIS, said)
    for check, seen in (("primer", "b"), ("fuel-lines", "h"), ("compression", "50 psi")):
        record_finding(shift, ticket.id, check, seen)
    view = ranking(shift, ticket.id)
    assert view.causes[0].key == "cracked-fuel-line"
    assert view.contradiction == (
        "What was found at “Compression” does not come from the likelier causes: "
        "there may be more than one fault, so see to it as well."
    )
    record_finding(shift, ticket.id, "arrester", "b")
    assert "“Compression” and “Spark arrester screen”" in ranking(shift, ticket.id).contradiction


def test_a_very_low_compression_turns_a_bogging_engine_to_its_inside(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS, replace(INTAKE, complaint_kind="bogs"))
    record_finding(shift, ticket.id, "arrester", "b")
    before = _of_the_engine(ranking(shift, ticket.id))
    record_finding(shift, ticket.id, "compression", "50 psi")
    assert _of_the_engine(ranking(shift, ticket.id)) > max(0.3, 8 * before)


def _of_the_engine(view: RankingView) -> float:
    inside = ("scored-piston", "worn-rings")
    return sum(cause.probability for cause in view.causes if cause.key in inside)


def test_a_cause_is_overruled_with_a_reason_and_counts_again(
    shift: Shift, ticket: TicketView
) -> None:
    before = ranking(shift, ticket.id)
    after = overrule(shift, ticket.id, "arrester", "renewed last week")
    assert after == ranking(shift, ticket.id)
    assert (after.causes[-1].key, after.causes[-1].probability) == ("arrester", 0)
    assert after.causes[-1].overruled == "renewed last week"
    assert sum(each.probability for each in after.causes) == pytest.approx(1)
    fixes = {step.key for step in (*after.steps, *after.others) if not step.is_check}
    assert "arrester" not in fixes
    again = overrule(shift, ticket.id, "arrester", "renewed yesterday")
    assert again.causes[-1].overruled == "renewed yesterday"
    assert reinstate(shift, ticket.id, "arrester") == before
    entries = [
        (line.action, line.table)
        for line in ticket_journal(shift, ticket.id)
        if line.table == "overruled_cause"
    ]
    assert [action for action, _ in entries] == ["added", "changed", "removed"]


def test_what_cannot_be_overruled_is_refused(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "cause", "overrule a cause by name"):
        overrule(shift, ticket.id, "something-else", "no")
    with refused(shift, "cause", "is no cause that a string trimmer can have"):
        overrule(shift, ticket.id, "burnt-valve", "no")
    with refused(shift, "why", "The reason is empty"):
        overrule(shift, ticket.id, "arrester", " ")
    with refused(shift, "cause", "is not overruled on this ticket"):
        reinstate(shift, ticket.id, "arrester")


def test_an_overruled_cause_is_one_of_that_ticket_alone(shift: Shift, ticket: TicketView) -> None:
    overrule(shift, ticket.id, "arrester", "renewed last week")
    twin = on_the_bench(shift, 7, entry=BOGS)
    assert cause(ranking(shift, twin.id), "arrester").probability > 0


def test_closed_tickets_of_the_model_move_the_odds_more_than_those_of_the_kind(
    shift: Shift, ticket: TicketView
) -> None:
    before = cause(ranking(shift, ticket.id), "fuel-filter").probability
    for number in range(3):
        mended(shift, number, "fuel-filter", replace(TRIMMER, model="TB-30"))
    by_kind = ranking(shift, ticket.id)
    twin = on_the_bench(shift, 9, replace(TRIMMER, model="TB-30"), entry=BOGS)
    by_model = ranking(shift, twin.id)
    assert (
        before
        < cause(by_kind, "fuel-filter").probability
        < cause(by_model, "fuel-filter").probability
    )
    assert "0 closed tickets of this model and 3 of others" in by_kind.history
    assert "3 closed tickets of this model and 0 of others" in by_model.history


def test_one_odd_ticket_does_not_swing_the_odds(shift: Shift, ticket: TicketView) -> None:
    before = ranking(shift, ticket.id)
    mended(shift, 1, "seized")
    after = ranking(shift, ticket.id)
    assert after.causes[0].key == before.causes[0].key
    assert after.causes[0].probability == pytest.approx(before.causes[0].probability, rel=0.15)


def test_what_was_mended_on_the_machine_within_the_year_is_less_likely(
    shift: Shift, clock: Clock
) -> None:
    first = mended(shift, 1, "arrester")
    clock.forward(200)
    soon = taken_in(shift, first.owner.id, first.unit.id, BOGS)
    lately = cause(ranking(shift, soon.id), "arrester").probability
    twin = on_the_bench(shift, 2, entry=BOGS)
    assert lately < cause(ranking(shift, twin.id), "arrester").probability


def test_a_machines_own_limit_sets_what_the_reading_says(shift: Shift, ticket: TicketView) -> None:
    set_unit_limit(shift, ticket.unit.id, LimitEntry("compression", "at least 60 psi"))
    record_finding(shift, ticket.id, "compression", "80")
    sound = cause(ranking(shift, ticket.id), "worn-rings").probability
    twin = on_the_bench(shift, 7, checks=[("compression", "80")], entry=BOGS)
    assert sound < cause(ranking(shift, twin.id), "worn-rings").probability


@pytest.mark.parametrize(
    "unit",
    [
        MOWER,
        UnitEntry("log splitter", "four-stroke"),
        UnitEntry("hedge trimmer", "cordless", "Hallam", "HC 2"),
        UnitEntry("leaf blower", "corded"),
    ],
)
@pytest.mark.parametrize("kind", ["", "won't start", "upkeep", "other"])
def test_every_machine_and_complaint_has_a_ranking(
    shift: Shift, unit: UnitEntry, kind: str
) -> None:
    ticket = taken_in(shift, unit=unit, entry=TicketEntry("It is ill", complaint_kind=kind))
    view = ranking(shift, ticket.id)
    assert sum(each.probability for each in view.causes) == pytest.approx(1)
    assert view.steps


def test_a_shop_that_asks_nothing_for_its_bench_has_a_ranking(
    shift: Shift, ticket: TicketView
) -> None:
    save_shop(shift, replace(SHOP, bench_rate=Decimal("0.00")))
    assert ranking(shift, ticket.id).steps


def test_a_ticket_that_is_closed_still_shows_its_ranking(shift: Shift) -> None:
    gone = mended(shift, 1, "arrester", checks=[("arrester", "b")])
    view = ranking(shift, gone.id)
    assert view.causes[0].key == "arrester"
    assert view.history.startswith("No closed ticket of this kind")
    assert open_ticket(shift, gone.id) == gone


def test_a_ticket_sent_back_to_the_bench_keeps_what_was_overruled(
    shift: Shift, ticket: TicketView
) -> None:
    overrule(shift, ticket.id, "arrester", "renewed last week")
    send_back(shift, ticket.id, Stage.INTAKE, "wrong complaint")
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    assert cause(ranking(shift, ticket.id), "arrester").overruled == "renewed last week"


@pytest.mark.parametrize(
    ("fuel", "typed"),
    [
        ("mix 50:1, 3 months old", "3 months"),
        ("about a year old", "1 year"),
        ("last fall's mix, still in it", "last season's"),
        ("2 days", "2 days"),
    ],
)
def test_the_fuel_counts_as_was_said_until_it_is_asked(shift: Shift, fuel: str, typed: str) -> None:
    entry = replace(INTAKE, complaint_kind="won't start")
    silent = ranking(shift, on_the_bench(shift, 1, entry=entry).id)
    ticket = on_the_bench(shift, 2, entry=replace(entry, fuel=fuel))
    told = ranking(shift, ticket.id)
    older = cause(told, "stale-fuel").probability > cause(silent, "stale-fuel").probability
    assert older is (typed != "2 days")
    assert told.told.startswith("The fuel counts as was said at the counter: ")
    assert [step.key for step in told.steps] == [step.key for step in silent.steps]
    record_finding(shift, ticket.id, "fuel-age", typed)
    asked = ranking(shift, ticket.id)
    assert asked.told == ""
    assert asked.causes == told.causes


@pytest.mark.parametrize("fuel", ["", "E10", "mix 50:1", "old, nobody knows how old", "bought new"])
def test_what_names_no_age_of_the_fuel_counts_for_nothing(shift: Shift, fuel: str) -> None:
    ticket = on_the_bench(shift, 1, entry=replace(BOGS, fuel=fuel))
    silent = on_the_bench(shift, 2, entry=BOGS)
    assert ranking(shift, ticket.id) == ranking(shift, silent.id)


def test_a_machine_without_fuel_has_none_that_is_old(shift: Shift) -> None:
    unit = UnitEntry("hedge trimmer", "cordless")
    ticket = on_the_bench(shift, 1, unit, entry=replace(INTAKE, fuel="3 months"))
    assert ranking(shift, ticket.id).told == ""


def test_a_fix_names_the_checks_that_would_tell_and_were_not_made(shift: Shift) -> None:
    washer = UnitEntry("pressure washer", "four-stroke", "Hallam", "HW 9")
    ticket = on_the_bench(
        shift, 1, washer, [("washer-hose", "g")], replace(INTAKE, complaint_kind="no output")
    )
    view = ranking(shift, ticket.id)
    nozzle = next(step for step in view.steps if step.key == "washer-nozzle")
    assert not nozzle.is_check
    assert "Not looked at yet, and would tell: “Unloader and nozzle” (8 min)" in nozzle.why
    assert any(step.key == "washer-unloader" for step in (*view.steps, *view.others))
    record_finding(shift, ticket.id, "washer-unloader", "n")
    steps = ranking(shift, ticket.id).steps
    assert not any("Unloader and nozzle" in step.why for step in steps if not step.is_check)

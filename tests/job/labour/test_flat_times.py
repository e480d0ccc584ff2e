"""Flat times: the shop's list, what is offered for a ticket, and the line at the set time."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.causes import overrule, say_cause
from shopdesk.job.labour.bill import count_toward, own_hours
from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.labour.flat_times import (
    FlatTimeEntry,
    add_flat_time,
    as_entry,
    causes_to_mend,
    change_flat_time,
    choice_words,
    drop_flat_time,
    flat_hours,
    flat_time_line,
    flat_times,
    flat_times_for,
)
from shopdesk.job.ranking import ranking
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import LabourRate
from shopdesk.job.stages import Stage
from tests.job.mended import on_the_bench
from tests.job.workshop import SHOP, at_stage, kept, refused

GUMMED = "gummed-carburettor"
RATED = replace(SHOP, labour_rates=(LabourRate("Electrical", Decimal("85.00")),))
CARBURETTOR = FlatTimeEntry(
    "Rebuild the carburettor", "0.8", "string trimmer", "gummed-carburettor"
)
CLEAN = FlatTimeEntry("Clean and look over", "30 min")


def test_the_list_is_kept_by_kind_and_name(shift: Shift) -> None:
    save_shop(shift, RATED)
    added = add_flat_time(shift, CARBURETTOR)
    add_flat_time(shift, replace(CARBURETTOR, kind="Chain saw", rate="electrical"))
    add_flat_time(shift, CLEAN)
    told = [(one.name, one.kind, one.hours, one.rate, one.price) for one in flat_times(shift)]
    assert told == [
        ("Clean and look over", "", Decimal("0.5"), "", Decimal("30.00")),
        *[("Rebuild the carburettor", "chain saw", Decimal("0.8"), "Electrical", Decimal("68.00"))],
        ("Rebuild the carburettor", "string trimmer", Decimal("0.8"), "", Decimal("48.00")),
    ]
    assert added.cause_title
    assert as_entry(added) == CARBURETTOR


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"name": " "}, "name", "empty"),
        ({"hours": ""}, "hours", "Nothing is typed"),
        ({"hours": "0"}, "hours", "not above zero"),
        ({"hours": "2 min"}, "hours", "comes to 0.0 h"),
        ({"cause": "bad-luck"}, "cause", "no cause that a string trimmer can have"),
        ({"rate": "Welding"}, "rate", "add the rate in the settings"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, change: dict[str, str], field: str, words: str
) -> None:
    with refused(shift, field, words):
        add_flat_time(shift, replace(CARBURETTOR, **change))


def test_a_cause_that_the_kind_cant_have_is_refused(shift: Shift) -> None:
    mower_only = {key for key, _ in causes_to_mend("lawn mower")} - {
        key for key, _ in causes_to_mend("string trimmer")
    }
    with refused(shift, "cause", "choose one of the list"):
        add_flat_time(shift, replace(CARBURETTOR, cause=min(mower_only)))


def test_a_name_stands_once_for_a_kind(shift: Shift) -> None:
    first = add_flat_time(shift, CARBURETTOR)
    with refused(shift, "name", "“Rebuild the carburettor” for a string trimmer already"):
        add_flat_time(shift, replace(CARBURETTOR, name="rebuild the CARBURETTOR"))
    add_flat_time(shift, replace(CARBURETTOR, kind=""))
    changed = change_flat_time(shift, first.id, replace(CARBURETTOR, hours="1:00"))
    assert changed.hours == 1


def test_a_flat_time_is_dropped_and_its_lines_stay(shift: Shift) -> None:
    flat = add_flat_time(shift, CLEAN)
    ticket = flat_time_line(shift, on_the_bench(shift, 1).id, flat.id)
    drop_flat_time(shift, flat.id, "never used")
    assert flat_times(shift) == ()
    assert kept(shift, ticket).lines[0].quantity == Decimal("0.5")
    with refused(shift, "flat", "not there any more"):
        flat_time_line(shift, ticket.id, flat.id)
    with refused(shift, "flat", "not there any more"):
        drop_flat_time(shift, flat.id)


def test_those_of_the_likely_causes_are_offered_first(shift: Shift) -> None:
    ticket = on_the_bench(shift, 1)
    likeliest, next_one = ranking(shift, ticket.id).causes[:2]
    for name, kind, cause in (
        ("Any clean", "", ""),
        ("Own clean", "string trimmer", ""),
        ("Second", "string trimmer", next_one.key),
        ("First", "string trimmer", likeliest.key),
        ("Saw job", "chain saw", ""),
    ):
        add_flat_time(shift, FlatTimeEntry(name, "0.5", kind, cause))
    offered = flat_times_for(shift, ticket.id)
    assert [one.flat.name for one in offered] == ["First", "Second", "Own clean", "Any clean"]
    chance = round(100 * likeliest.probability)
    assert offered[0].why == f"mends {likeliest.title}, {chance} in 100"
    assert choice_words(offered[0], SHOP) == f"First: 0.5 h, $30.00, {offered[0].why}"
    assert choice_words(offered[-1], SHOP) == "Any clean: 0.5 h, $30.00"


def test_what_it_turned_out_to_be_goes_before_what_it_was_likely_to_be(shift: Shift) -> None:
    ticket = on_the_bench(shift, 1)
    likeliest, *_, least = [
        one
        for one in ranking(shift, ticket.id).causes
        if one.key in dict(causes_to_mend("string trimmer"))
    ]
    for cause in (likeliest, least):
        add_flat_time(shift, FlatTimeEntry(cause.title, "0.5", "", cause.key))
    say_cause(shift, ticket.id, least.key)
    overrule(shift, ticket.id, likeliest.key, "it is new")
    first, second = flat_times_for(shift, ticket.id)
    assert first.why == f"mends what it turned out to be ({least.title})"
    assert second.why == f"mends {likeliest.title}"


def test_the_line_has_the_set_time_whatever_the_clock_says(shift: Shift) -> None:
    save_shop(shift, RATED)
    flat = add_flat_time(shift, replace(CARBURETTOR, rate="Electrical"))
    ticket = flat_time_line(shift, on_the_bench(shift, 1).id, flat.id)
    add_time(shift, ticket.id, TimeEntry("2:00", work="repair"))
    (line,) = ticket.lines
    assert own_hours(ticket) == (line.id,)
    ticket = kept(shift, count_toward(shift, line.id))
    (line,) = ticket.lines
    assert (line.description, line.quantity, line.rate, line.net, line.reason) == (
        *("Rebuild the carburettor", Decimal("0.8"), "Electrical"),
        *(Decimal("68.00"), "failed"),
    )


def test_the_line_takes_a_reason_and_a_finding(shift: Shift) -> None:
    flat = add_flat_time(shift, CLEAN)
    ticket = on_the_bench(shift, 1, checks=[("compression", "80")])
    finding = ticket.findings[0].id
    (line,) = flat_time_line(shift, ticket.id, flat.id, "worn", finding).lines
    assert (line.reason, line.finding_id) == ("worn", finding)
    (_, line) = flat_time_line(shift, ticket.id, flat.id).lines
    assert line.reason == "asked"


def test_a_closed_ticket_takes_none(shift: Shift) -> None:
    flat = add_flat_time(shift, CLEAN)
    ticket = at_stage(shift, Stage.CLOSED)
    with refused(shift, "stage", "closed"):
        flat_time_line(shift, ticket.id, flat.id)


def test_a_rate_that_is_no_more_leaves_the_flat_time_without_a_price(shift: Shift) -> None:
    save_shop(shift, RATED)
    flat = add_flat_time(shift, replace(CLEAN, rate="Electrical"))
    save_shop(shift, SHOP)
    (listed,) = flat_times(shift)
    assert listed.price is None
    ticket = on_the_bench(shift, 1)
    (offered,) = flat_times_for(shift, ticket.id)
    assert choice_words(offered, SHOP) == "Clean and look over: 0.5 h, at the rate Electrical"
    with refused(shift, "rate", "Electrical"):
        flat_time_line(shift, ticket.id, flat.id)


def test_the_set_time_of_a_cause_is_that_of_its_own_kind_first(shift: Shift) -> None:
    add_flat_time(shift, replace(CARBURETTOR, kind="", hours="2"))
    add_flat_time(shift, CARBURETTOR)
    with shift.records.reading():
        assert flat_hours("string trimmer", GUMMED) == Decimal("0.8")
        assert flat_hours("chain saw", GUMMED) == 2
        assert flat_hours("chain saw", "") is None
        assert flat_hours("chain saw", "no-such-cause") is None


def test_every_cause_of_the_book_can_be_chosen(shift: Shift) -> None:
    for key, _words in causes_to_mend():
        add_flat_time(shift, FlatTimeEntry(f"Mend {key}", "0.5", "", key))
    assert len(flat_times(shift)) == len(causes_to_mend())

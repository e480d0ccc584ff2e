from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.approval import approve, drop_approval, estimate_as_given, quote
from shopdesk.job.causes import overrule, say_cause
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.labour.flat_times import FlatTimeEntry, add_flat_time
from shopdesk.job.lines import LineEntry, add_line, drop_line
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.options.own import (
    OwnOptionEntry,
    add_option,
    change_option,
    drop_option,
    option_entry,
)
from shopdesk.job.options.price_new import set_price_new
from shopdesk.job.options.taking import take_option
from shopdesk.job.options.views import OptionsView, OptionView
from shopdesk.job.options.worked_out import options_for
from shopdesk.job.parts.catalogue import PartEntry, change_part, keep_part, part_numbered
from shopdesk.job.parts.fits import FitEntry, add_fit
from shopdesk.job.parts.kits import set_kit
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import Supplies
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind
from tests.job.options.option_shop import USED_TRIMMER, bogging, catalogue, with_price_new
from tests.job.workshop import SAYS, SHOP, Clock, each, refused, taken_in

REPAIRS = ("failed", "kit", "renew")


def option(view: OptionsView, key: str) -> OptionView:
    found = view.option(key)
    assert found is not None, [one.key for one in view.options]
    return found


@pytest.fixture
def parts(shift: Shift) -> dict[str, int]:
    with_price_new(shift, "199.00")
    return catalogue(shift)


@pytest.fixture
def ticket(shift: Shift, parts: dict[str, int]) -> TicketView:
    return bogging(shift)


def test_the_ways_stand_side_by_side(shift: Shift, ticket: TicketView) -> None:
    view = options_for(shift, ticket.id)
    assert [one.key for one in view.options] == [*REPAIRS, "another", "leave"]
    assert view.left_out == ()


def test_only_what_failed_is_the_fix_of_the_likeliest_cause(
    shift: Shift, ticket: TicketView
) -> None:
    failed = option(options_for(shift, ticket.id), "failed")
    part, labour = failed.items
    assert (part.description, part.unit_price, part.part_number) == (
        "Diaphragm set",
        Decimal("21.00"),
        "DK-26",
    )
    assert (labour.quantity, labour.unit_price) == (Decimal("0.6"), SHOP.bench_rate)
    assert part.finding_id == labour.finding_id == ticket.findings[0].id
    assert failed.price_now == Decimal("61.56")  # (21.00 + 0.6 × 60.00) with 8 % on both
    assert failed.hours == Decimal("0.6")
    assert "the likeliest cause: hardened carburettor diaphragms" in failed.words


def test_the_kit_stands_in_for_the_single_part_and_takes_in_the_next_causes(
    shift: Shift, ticket: TicketView
) -> None:
    view = options_for(shift, ticket.id)
    failed, kit = option(view, "failed"), option(view, "kit")
    assert [item.description for item in kit.items] == [
        "Carburettor and line kit",
        "Fit a diaphragm and gasket kit, set the lever",
        "Fit the rest of the kit: fuel line, fuel filter, inlet screen",
    ]
    assert [item.reason for item in kit.items] == ["failed", "failed", "kit"]
    assert kit.items[0].note == "with it came: fuel line, fuel filter, inlet screen"
    assert kit.chance > 2 * failed.chance
    assert kit.expected < failed.expected
    assert "On average it ends" in kit.words


def test_what_goes_in_the_same_system_takes_a_share_of_its_time(
    shift: Shift, ticket: TicketView
) -> None:
    """Line 20, filter 8 and screen 25 minutes, a third of each: 17.5, which is 0.3 h."""
    kit = option(options_for(shift, ticket.id), "kit")
    assert kit.items[-1].quantity == Decimal("0.3")


def test_the_renewal_takes_in_what_is_due(shift: Shift, ticket: TicketView) -> None:
    renew = option(options_for(shift, ticket.id), "renew")
    added = [item for item in renew.items if item.reason == "preventive"]
    assert [item.description for item in added] == [
        "Air filter",
        "Spark plug",
        "Fuel line",
        "Fit as well: air filter, spark plug, fuel line",
    ]
    assert [item.renews for item in added[:3]] == [
        "air-filter", "spark-plug", "fuel-filter-and-lines"
    ]  # fmt: skip
    assert "due every 25 h or 12 months: now" in added[0].note
    assert renew.later == 0


def test_a_finding_that_shows_the_part_worn_makes_it_worn_not_preventive(
    shift: Shift, ticket: TicketView
) -> None:
    found = record_finding(shift, ticket.id, "air-filter", "d").findings[-1]
    renew = option(options_for(shift, ticket.id), "renew")
    air = next(item for item in renew.items if item.description == "Air filter")
    assert (air.reason, air.finding_id) == ("worn", found.id)


def test_what_stays_undone_is_named_and_counts_for_the_hour(
    shift: Shift, ticket: TicketView
) -> None:
    view = options_for(shift, ticket.id)
    kit = option(view, "kit")
    assert "leaves the air filter and the spark plug, worn or due by now" in kit.words
    # air filter 8.00 and 4 min (0.1 h, 6.00), plug 7.00 and 4 min: 27.00 and 8 %
    assert kit.later == Decimal("29.16")
    assert kit.life_hours is not None
    cents = Decimal("0.01")
    assert kit.per_hour == ((kit.expected + kit.later) / kit.life_hours).quantize(cents)


def test_another_machine_counts_the_fee_and_what_getting_rid_of_this_one_costs(
    shift: Shift, ticket: TicketView
) -> None:
    another = option(options_for(shift, ticket.id), "another")
    assert another.price_now == another.worst == Decimal("236.80")  # 199.00 + 35.00 and 8 %
    assert (another.life_hours, another.ready_on) == (Decimal(125), None)
    save_shop(shift, replace(shift.shop, disposal_fee=Decimal("10.00")))
    another = option(options_for(shift, ticket.id), "another")
    assert another.price_now == Decimal("247.60")
    assert "$10.80 for getting rid of this one" in another.words


def test_without_its_price_another_machine_is_left_out_until_it_is_typed(
    shift: Shift, parts: dict[str, int]
) -> None:
    save_shop(shift, SHOP)
    ticket = bogging(shift)
    view = options_for(shift, ticket.id)
    assert view.option("another") is None
    assert (
        "Another machine",
        "What a new one costs is not known: type it on the Options page.",
    ) in (view.left_out)
    set_price_new(shift, ticket.id, "149.90")
    assert option(options_for(shift, ticket.id), "another").price_now == Decimal("187.70")
    set_price_new(shift, ticket.id, "")
    assert options_for(shift, ticket.id).price_new is None
    with refused(shift, "price_new", "is not an amount"):
        set_price_new(shift, ticket.id, "a lot")


def test_the_price_asked_for_this_machine_goes_before_the_guide_price(
    shift: Shift, ticket: TicketView
) -> None:
    assert "our guide price for a string trimmer" in options_for(shift, ticket.id).price_new_words
    set_price_new(shift, ticket.id, "250")
    view = options_for(shift, ticket.id)
    assert view.price_new == 250
    assert "asked for this one" in view.price_new_words


def test_leaving_it_costs_the_fee_that_was_agreed(shift: Shift, ticket: TicketView) -> None:
    leave = option(options_for(shift, ticket.id), "leave")
    assert leave.price_now == Decimal("37.80")
    assert (leave.chance, leave.per_hour) == (Decimal(0), None)


def test_before_it_was_looked_at_nothing_is_owed(shift: Shift, parts: dict[str, int]) -> None:
    view = options_for(shift, taken_in(shift).id)
    assert option(view, "leave").price_now == 0
    assert "Nothing is owed yet" in option(view, "leave").words
    assert "by the complaint alone" in view.guide[0]


def test_a_part_price_moves_every_way_it_is_in(
    shift: Shift, ticket: TicketView, parts: dict[str, int]
) -> None:
    before = options_for(shift, ticket.id)
    change_part(shift, parts["diaphragms"], PartEntry("DK-26", "Diaphragm set", price="31.00"))
    after = options_for(shift, ticket.id)
    for key in ("failed", "renew"):
        assert option(after, key).price_now - option(before, key).price_now == Decimal("10.80")
        assert option(after, key).expected - option(before, key).expected == Decimal("10.80")
    assert option(after, "kit").price_now == option(before, "kit").price_now


def test_a_finding_moves_the_chances(shift: Shift, ticket: TicketView) -> None:
    before = options_for(shift, ticket.id)
    record_finding(shift, ticket.id, "carb-diaphragms", "h")
    after = options_for(shift, ticket.id)
    assert option(after, "failed").chance > 2 * option(before, "failed").chance
    assert option(after, "failed").expected < option(before, "failed").expected


def test_a_cause_that_was_ruled_out_is_not_what_failed(shift: Shift, ticket: TicketView) -> None:
    overrule(shift, ticket.id, "hard-diaphragms", "new last autumn")
    failed = option(options_for(shift, ticket.id), "failed")
    assert failed.items[0].description == "Fuel filter"


def test_a_cause_that_was_named_counts_as_almost_certain(shift: Shift, ticket: TicketView) -> None:
    say_cause(shift, ticket.id, "cracked-fuel-line")
    view = options_for(shift, ticket.id)
    failed = option(view, "failed")
    assert round(failed.chance, 4) == Decimal("0.93")
    assert "the cause that was found: cracked or collapsed fuel line" in failed.words
    assert "which counts for 93 in 100" in view.guide[0]


def test_something_else_leaves_out_the_fix(shift: Shift, ticket: TicketView) -> None:
    say_cause(shift, ticket.id, "something-else", "A wasp nest in the muffler")
    view = options_for(shift, ticket.id)
    assert view.left_out[0][0] == "Only what failed"
    assert "No repair is worked out yet" in view.suggestion


def test_with_a_fair_chance_the_least_for_an_hour_of_life_is_suggested(
    shift: Shift, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "carb-diaphragms", "h")
    view = options_for(shift, ticket.id)
    chosen = next(one for one in view.options if one.suggested)
    hours = [one.per_hour for one in view.options if one.per_hour and one.chance >= Decimal("0.5")]
    assert chosen.per_hour == min(hours)
    assert view.suggestion.startswith(f"We would take “{chosen.title}”: $")
    assert view.suggestion.endswith("The choice is yours.")


def test_with_no_fair_chance_looking_further_is_suggested(
    shift: Shift, ticket: TicketView, parts: dict[str, int]
) -> None:
    keep_part(shift, parts["kit"], active=False)
    save_shop(shift, SHOP)
    view = options_for(shift, ticket.id)
    assert not any(one.suggested for one in view.options)
    assert "we would look further" in view.suggestion


def test_without_a_kit_it_is_said_why(
    shift: Shift, ticket: TicketView, parts: dict[str, int]
) -> None:
    keep_part(shift, parts["kit"], active=False)
    assert ("The kit", "No kit for this machine is in the catalogue.") in (
        options_for(shift, ticket.id).left_out
    )
    keep_part(shift, parts["kit"], active=True)
    overrule(shift, ticket.id, "hard-diaphragms", "x")
    say_cause(shift, ticket.id, "bad-plug")
    assert ("The kit", "No kit in the catalogue has the part for: fouled or worn plug.") in (
        options_for(shift, ticket.id).left_out
    )


def test_a_kit_of_another_machine_is_none_of_ours(
    shift: Shift, ticket: TicketView, parts: dict[str, int]
) -> None:
    stranger = part_numbered(shift, "TK-26")
    assert stranger is not None
    set_kit(shift, parts["kit"], [])
    assert options_for(shift, ticket.id).option("kit") is None


def test_without_a_catalogue_typical_prices_stand_and_are_said_to(shift: Shift) -> None:
    ticket = bogging(shift)
    view = options_for(shift, ticket.id)
    failed = option(view, "failed")
    assert failed.typical
    assert failed.items[0].note.startswith("typical price")
    assert failed.ready_words == "not every part is offered yet"
    assert [title for title, _ in view.left_out] == [
        "The kit",
        "Renew what wears",
        "Another machine",
    ]


def test_the_shops_set_time_goes_before_the_books(shift: Shift, ticket: TicketView) -> None:
    add_flat_time(shift, FlatTimeEntry("Diaphragms", "0.9", cause="hard-diaphragms"))
    assert option(options_for(shift, ticket.id), "failed").hours == Decimal("0.9")


def test_the_ready_day_waits_for_the_parts(shift: Shift, ticket: TicketView) -> None:
    view = options_for(shift, ticket.id)
    assert option(view, "failed").ready_words == "parts in 6 days"
    assert option(view, "failed").ready_on == date(2031, 4, 14)  # Sunday the 13th and a day's work
    assert option(view, "kit").ready_words == "parts in 3 days"
    assert option(view, "kit").ready_on == date(2031, 4, 10)


def test_the_mechanics_own_lines_say_what_failed(
    shift: Shift, ticket: TicketView, parts: dict[str, int]
) -> None:
    add_line(
        shift,
        ticket.id,
        LineEntry("part", "", reason="failed", part_id=parts["filter"], unit_price="9.99"),
    )
    add_line(shift, ticket.id, LineEntry("labour", "Renew the filter", "0.2", reason="failed"))
    view = options_for(shift, ticket.id)
    failed = option(view, "failed")
    assert [item.description for item in failed.items] == ["Fuel filter", "Renew the filter"]
    assert failed.stands
    assert failed.price_now == open_ticket(shift, ticket.id).totals.total
    assert "blocked fuel filter" in failed.words
    assert view.by_hand == ("Fuel filter", "Renew the filter")


def test_a_typed_line_is_known_by_its_number_its_fix_or_its_finding(
    shift: Shift, ticket: TicketView
) -> None:
    line = LineEntry("part", "Filter", unit_price="5.00", reason="failed", part_number="ff 26")
    assert "blocked fuel filter" in said_of(shift, ticket, line)
    fix = LineEntry("labour", "Clean the screen, fit a kit", "0.4", reason="failed")
    assert "blocked inlet screen" in said_of(shift, ticket, fix)
    found = ticket.findings[0].id
    bare = LineEntry("labour", "Mend it", "0.4", reason="failed", finding_id=found)
    assert "hardened carburettor diaphragms" in said_of(shift, ticket, bare)


def said_of(shift: Shift, ticket: TicketView, entry: LineEntry) -> str:
    line = add_line(shift, ticket.id, entry).lines[-1]
    words = option(options_for(shift, ticket.id), "failed").words
    drop_line(shift, line.id)
    return words


def test_what_the_mechanic_adds_for_wear_goes_with_the_renewal(
    shift: Shift, ticket: TicketView
) -> None:
    add_line(shift, ticket.id, LineEntry("labour", "Mend it", "0.4", reason="failed"))
    add_line(shift, ticket.id, LineEntry("part", "Guard", unit_price="12", reason="worn"))
    view = options_for(shift, ticket.id)
    assert "Guard" not in [item.description for item in option(view, "failed").items]
    assert "Guard" in [item.description for item in option(view, "renew").items]
    assert "the guard" in option(view, "renew").words


@pytest.mark.parametrize("key", REPAIRS)
def test_choosing_a_way_puts_its_lines_on_the_ticket_at_its_price(
    shift: Shift, ticket: TicketView, key: str
) -> None:
    chosen = option(options_for(shift, ticket.id), key)
    taken = take_option(shift, ticket.id, key)
    assert taken == open_ticket(shift, ticket.id)
    assert taken.totals.total == chosen.price_now
    assert [line.description for line in taken.lines] == [i.description for i in chosen.items]
    assert [line.reason for line in taken.lines] == [i.reason for i in chosen.items]
    after = options_for(shift, ticket.id)
    assert [one.key for one in after.options if one.stands] == [key]
    assert after.by_hand == ()
    assert [one.price_now for one in after.options] == [
        one.price_now for one in options_for(shift, ticket.id).options
    ]


@pytest.mark.parametrize("key", REPAIRS)
def test_the_other_ways_stay_as_they_were(shift: Shift, ticket: TicketView, key: str) -> None:
    before = options_for(shift, ticket.id)
    take_option(shift, ticket.id, key)
    after = options_for(shift, ticket.id)
    plain = [replace(one, stands=False) for one in after.options]
    assert plain == list(before.options)


def test_one_way_takes_the_place_of_another(shift: Shift, ticket: TicketView) -> None:
    prices = {one.key: one.price_now for one in options_for(shift, ticket.id).options}
    for key in ("kit", "renew", "failed", "kit", "kit"):
        assert take_option(shift, ticket.id, key).totals.total == prices[key]


def test_what_was_asked_for_stays_and_is_in_every_price(shift: Shift, ticket: TicketView) -> None:
    before = option(options_for(shift, ticket.id), "kit").price_now
    add_line(shift, ticket.id, LineEntry("part", "Grip", unit_price="10.00", reason="asked"))
    chosen = option(options_for(shift, ticket.id), "kit")
    assert chosen.price_now == before + Decimal("10.80")
    taken = take_option(shift, ticket.id, "kit")
    assert taken.totals.total == chosen.price_now
    assert taken.lines[0].description == "Grip"


def test_the_price_now_counts_shop_supplies(shift: Shift, ticket: TicketView) -> None:
    save_shop(
        shift,
        replace(shift.shop, supplies=Supplies(Decimal(10), frozenset({LineKind.LABOUR}), None)),
    )
    chosen = option(options_for(shift, ticket.id), "kit")
    assert take_option(shift, ticket.id, "kit").totals.total == chosen.price_now


def test_what_is_done_stays(shift: Shift, ticket: TicketView) -> None:
    line = LineEntry("labour", "Mend it", "0.4", unit_price="60", reason="failed")
    add_line(shift, ticket.id, line)
    approve(shift, ticket.id, SAYS)
    going = go_on(shift, ticket.id, Stage.REPAIR)
    do_line(shift, going.lines[0].id)
    chosen = option(options_for(shift, ticket.id), "kit")
    assert chosen.hours == Decimal("0.9")
    taken = take_option(shift, ticket.id, "kit")
    assert [one.description for one in taken.lines[:2]] == ["Mend it", "Carburettor and line kit"]
    assert taken.totals.total == chosen.price_now


@pytest.mark.parametrize("typed", ["", "in 2 days", "in 30 days"])
def test_an_estimate_names_one_day_for_the_way_whose_lines_it_has(
    shift: Shift, ticket: TicketView, typed: str
) -> None:
    take_option(shift, ticket.id, "kit")
    worked_out = {one.title: one.ready_on for one in options_for(shift, ticket.id).options}
    given = quote(shift, ticket.id, typed).estimates[-1]
    content = estimate_as_given(shift, given.id)
    assert content.ways_out is not None
    kit = content.ways_out.itemised
    assert kit
    assert worked_out[kit] != ticket.promised_on
    said = {way.title: way.ready for way in content.ways_out.columns}
    assert content.ready_by == said.pop(kit)
    if not typed:
        assert content.ready_by == worked_out[kit]
    assert said == {title: day for title, day in worked_out.items() if title != kit}


def test_an_estimate_of_lines_that_are_no_way_out_names_the_promise(
    shift: Shift, ticket: TicketView
) -> None:
    take_option(shift, ticket.id, "kit")
    grip = LineEntry("part", "Grip", unit_price="10.00", reason="preventive")
    add_line(shift, ticket.id, grip)
    content = estimate_as_given(shift, quote(shift, ticket.id).estimates[-1].id)
    assert content.ways_out is not None
    assert content.ways_out.itemised == ""
    assert content.ready_by == ticket.promised_on


def test_while_a_yes_stands_no_other_way_is_taken(shift: Shift, ticket: TicketView) -> None:
    take_option(shift, ticket.id, "failed")
    quote(shift, ticket.id)
    said = approve(shift, ticket.id, replace(SAYS, option="Only what failed"))
    with refused(shift, "approval", "Mara Quill said yes", "take that yes back"):
        take_option(shift, ticket.id, "kit")
    drop_approval(shift, said.approvals[-1].id, "wants the kit after all")
    assert take_option(shift, ticket.id, "kit").lines[0].description == "Carburettor and line kit"


def test_a_part_on_order_is_not_taken_away(shift: Shift, ticket: TicketView) -> None:
    add_line(
        shift,
        ticket.id,
        LineEntry("part", "Coil", unit_price="30", reason="failed", supply="on order"),
    )
    with refused(shift, "lines", "“Coil” is on order"):
        take_option(shift, ticket.id, "kit")


@pytest.mark.parametrize(("key", "title"), [("leave", "Leave it"), ("another", "Another machine")])
def test_leaving_it_or_another_machine_is_a_no_that_names_the_way(
    shift: Shift, ticket: TicketView, key: str, title: str
) -> None:
    take_option(shift, ticket.id, "kit")
    with refused(shift, "who", f"“{title}” is a no"):
        take_option(shift, ticket.id, key)
    gone = take_option(shift, ticket.id, key, SAYS)
    assert gone.declined
    assert gone.approvals[-1].option == title
    assert gone.totals.total == Decimal("37.80")


def test_after_a_no_a_repair_can_be_offered_again_without_the_fee(
    shift: Shift, ticket: TicketView
) -> None:
    take_option(shift, ticket.id, "leave", SAYS)
    chosen = option(options_for(shift, ticket.id), "kit")
    again = take_option(shift, ticket.id, "kit")
    assert [line.description for line in again.lines if line.kind is LineKind.FEE] == []
    assert again.totals.total == chosen.price_now


def test_a_way_that_is_not_there_is_refused(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "option", "not there any more"):
        take_option(shift, ticket.id, "own 99")


OWN = OwnOptionEntry(
    title="Used carburettor from the shelf",
    price="45.00",
    cures="hardened carburettor diaphragms, carburettor-screen",
    words="Off a machine that was scrapped; it ran well.",
    hours="30 min",
    lead_days="0",
    life_hours="40",
)


def test_a_way_of_the_mechanics_stands_beside_the_others(shift: Shift, ticket: TicketView) -> None:
    add_option(shift, ticket.id, OWN)
    view = options_for(shift, ticket.id)
    own = next(one for one in view.options if one.own_id is not None)
    assert own.title == "Used carburettor from the shelf"
    assert own.price_now == Decimal("48.60")
    assert (own.hours, own.life_hours) == (Decimal("0.5"), Decimal(40))
    assert own.chance > option(view, "failed").chance
    assert own.words.startswith("Off a machine that was scrapped; it ran well. ")
    taken = take_option(shift, ticket.id, own.key)
    assert taken.totals.total == own.price_now
    after = options_for(shift, ticket.id)
    assert [one.key for one in after.options if one.stands] == [own.key]
    assert option(after, "failed") == option(view, "failed")


def test_bench_time_that_could_be_minutes_is_asked_about(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "hours", "“80” could be minutes or hours: type 80 min, or 80 h"):
        add_option(shift, ticket.id, replace(OWN, hours="80"))


@pytest.mark.parametrize(
    ("price", "hours", "kinds"),
    [
        ("45.00", "0.5", ["part", "labour"]),
        ("20.00", "0.5", ["labour"]),
        ("30.00", "0.5", ["labour"]),
        ("12.00", "", ["part"]),
    ],
)
def test_its_lines_come_to_its_price(
    shift: Shift, ticket: TicketView, price: str, hours: str, kinds: list[str]
) -> None:
    add_option(shift, ticket.id, replace(OWN, price=price, hours=hours, cures="everything"))
    own = next(one for one in options_for(shift, ticket.id).options if one.own_id is not None)
    assert [item.kind for item in own.items] == kinds
    assert own.chance == 1
    taken = take_option(shift, ticket.id, own.key)
    assert taken.totals.net == Decimal(price)


def test_a_way_can_be_changed_and_taken_off(shift: Shift, ticket: TicketView) -> None:
    add_option(shift, ticket.id, OWN)
    own_id = next(one.own_id for one in options_for(shift, ticket.id).options if one.own_id)
    kept = option_entry(shift, own_id)
    assert (kept.title, kept.price, kept.hours, kept.life_hours) == (
        OWN.title,
        "45.00",
        "0.5",
        "40",
    )
    assert kept.cures == "hardened carburettor diaphragms, blocked inlet screen in the carburettor"
    change_option(shift, own_id, replace(kept, price="50"))
    assert option_entry(shift, own_id) == replace(kept, price="50.00")
    drop_option(shift, own_id)
    assert not any(one.own_id for one in options_for(shift, ticket.id).options)
    for action in each(
        lambda: change_option(shift, own_id, OWN),
        lambda: drop_option(shift, own_id),
        lambda: option_entry(shift, own_id),
    ):
        with refused(shift, "option", "not on the ticket any more"):
            action()


@pytest.mark.parametrize(
    ("changed", "field", "word"),
    [
        ({"title": " "}, "title", "is empty"),
        ({"price": "cheap"}, "price", "not an amount"),
        ({"cures": ""}, "cures", "everything"),
        ({"cures": "bad luck"}, "cures", "choose one of"),
        ({"hours": "soon"}, "hours", "type"),
        ({"lead_days": "a week"}, "lead_days", "no number of days"),
        ({"life_hours": "-3"}, "life_hours", "above zero"),
    ],
)
def test_what_is_wrong_with_a_way_is_said_at_its_field(
    shift: Shift, ticket: TicketView, changed: dict[str, str], field: str, word: str
) -> None:
    with refused(shift, field, word):
        add_option(shift, ticket.id, replace(OWN, **changed))


def test_life_past_its_rating_makes_another_machine_the_better_choice(
    shift: Shift, parts: dict[str, int]
) -> None:
    worn_out = replace(USED_TRIMMER, meter_hours="260")
    ticket = bogging(shift, worn_out)
    record_finding(shift, ticket.id, "carb-diaphragms", "h")
    view = options_for(shift, ticket.id)
    assert option(view, "failed").life_hours == 25
    assert option(view, "another").suggested
    assert any("past its rated life, so 25 h are counted, a guess" in said for said in view.guide)


def test_an_electric_machine_has_no_rated_life(shift: Shift) -> None:
    with_price_new(shift, "89.00")
    unit = replace(USED_TRIMMER, engine="cordless", serial="E1")
    view = options_for(shift, taken_in(shift, unit=unit).id)
    assert option(view, "failed").per_hour is None
    assert any("No rated life is published for electric machines" in one for one in view.guide)


def test_the_figures_are_the_same_whoever_asks(
    shift: Shift, ticket: TicketView, clock: Clock
) -> None:
    before = options_for(shift, ticket.id)
    clock.forward(0.01)
    assert options_for(shift, ticket.id) == before


def test_a_part_for_the_kind_gives_way_to_one_for_the_model(
    shift: Shift, ticket: TicketView, parts: dict[str, int]
) -> None:
    add_fit(shift, parts["screen"], FitEntry(kind="string trimmer", cause="hard-diaphragms"))
    failed = option(options_for(shift, ticket.id), "failed")
    assert [item.description for item in failed.items][:-1] == ["Diaphragm set"]

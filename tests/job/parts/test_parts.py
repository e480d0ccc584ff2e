"""The catalogue: writing a part down, finding it however typed, kits, fits, offers, prices."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given

from shopdesk.errors import JobError, StaleError
from shopdesk.job.parts.catalogue import (
    PartEntry,
    add_part,
    change_part,
    drop_part,
    find_part,
    keep_part,
    open_part,
    part_entry,
    part_numbered,
)
from shopdesk.job.parts.find import find_parts
from shopdesk.job.parts.fits import (
    FitEntry,
    add_fit,
    cause_choices,
    drop_fit,
    kind_choices,
    task_choices,
)
from shopdesk.job.parts.kits import KitEntry, contents_of, open_kit, set_kit
from shopdesk.job.parts.offers import (
    OfferEntry,
    add_offer,
    change_offer,
    drop_offer,
    offer_entry,
)
from shopdesk.job.parts.prices import cost_in_force, price_in_force, prices_in_force
from shopdesk.job.parts.suppliers import (
    SupplierEntry,
    add_supplier,
    change_supplier,
    keep_supplier,
    supplier_entry,
    suppliers,
)
from shopdesk.job.shift import Shift, save_shop
from shopdesk.pricing.part_price import MarkupBand
from tests.job.parts.storeroom import (
    DELLOW,
    FILTER,
    NORTHBANK,
    came,
    level,
    offered,
    ordered,
    part,
    sound,
)
from tests.job.test_any_text import ANY_TEXT, PER_SHOP, refusal
from tests.job.workshop import SHOP, Clock, refused

LINE = PartEntry("FL-3/32", "Fuel line", "new", bin="C5", reorder_at="0", reorder_to="25")
KIT = PartEntry("TK-26", "Tune-up kit", price="21.50")
PLUG = PartEntry("SP 6Y", "Spark plug")


def test_a_part_is_kept_as_typed_and_can_be_typed_again(shift: Shift) -> None:
    entry = PartEntry("FL-3/32", "Fuel line", "used", "0.40", "C5", "0", "25", "30", "by the foot")
    view = add_part(shift, entry)
    assert part_entry(view) == entry
    assert open_part(shift, view.id) == view
    assert (view.price, view.price_words) == (Decimal("0.40"), "fixed price")
    changed = change_part(shift, view.id, replace(entry, bin="D1", warranty_days=""), view.version)
    assert (changed.bin, changed.warranty_days) == ("D1", None)
    with pytest.raises(StaleError):
        change_part(shift, view.id, entry, view.version)


@pytest.mark.parametrize(
    ("entry", "field", "words"),
    [
        (replace(FILTER, number=" "), "number", "type it"),
        (replace(FILTER, number="--/"), "number", "one of your own"),
        (replace(FILTER, name=""), "name", "type it"),
        (replace(FILTER, condition="mint"), "condition", "new, used, rebuilt"),
        (replace(FILTER, price="-1"), "price", "below zero"),
        (replace(FILTER, reorder_at="2"), "reorder_to", "up to how many"),
        (replace(FILTER, reorder_to="2"), "reorder_at", "at how many left"),
        (replace(FILTER, reorder_at="2", reorder_to="2"), "reorder_to", "more than 2"),
        (replace(FILTER, warranty_days="soon"), "warranty_days", "whole number"),
    ],
)
def test_what_is_no_part_is_refused_at_its_field(
    shift: Shift, entry: PartEntry, field: str, words: str
) -> None:
    with refused(shift, field, words):
        add_part(shift, entry)


def test_a_second_part_of_one_number_and_condition_is_refused(shift: Shift) -> None:
    first = add_part(shift, FILTER)
    with refused(shift, "number", "FF-10 (new) is “Fuel filter” already"):
        add_part(shift, replace(FILTER, number="ff 10", name="Other"))
    used = add_part(shift, replace(FILTER, number="ff10", condition="used"))
    with refused(shift, "number", "already"):
        change_part(shift, used.id, FILTER)
    keep_part(shift, first.id, False)
    with refused(shift, "number", "take it up again"):
        add_part(shift, FILTER)


def test_a_part_that_was_used_is_never_deleted(shift: Shift) -> None:
    fresh, lying = add_part(shift, FILTER), part(shift, LINE, "25")
    add_fit(shift, fresh.id, FitEntry(kind="chain saw"))
    drop_part(shift, fresh.id, "a slip")
    with pytest.raises(JobError, match="not in the catalogue"):
        open_part(shift, fresh.id)
    with refused(shift, "part", "“Fuel line” has come and gone", "not in use any more"):
        drop_part(shift, lying.id)
    assert keep_part(shift, lying.id, False).active is False
    assert find_parts(shift, "fuel line") == ()
    assert [row.number for row in find_parts(shift, "fuel line", inactive=True)] == ["FL-3/32"]


@pytest.mark.parametrize(
    "words", ["FF-10", "ff10", "ff 10", "F F 1 0", "10", "fuel fil", "filter fuel", "n-771", "n771"]
)
def test_a_part_is_found_however_it_is_typed(shift: Shift, words: str) -> None:
    wanted = add_part(shift, FILTER)
    offered(shift, wanted.id, supplier_number="N-771")
    add_part(shift, PLUG)
    assert [row.id for row in find_parts(shift, words)] == [wanted.id]


def test_what_is_found_comes_in_a_useful_order(shift: Shift) -> None:
    for entry in (PLUG, FILTER, replace(FILTER, number="FF-101"), replace(FILTER, number="XFF10")):
        add_part(shift, entry)
    assert [row.number for row in find_parts(shift, "ff10")] == ["FF-10", "FF-101", "XFF10"]
    assert [row.number for row in find_parts(shift, "")] == ["FF-10", "FF-101", "SP 6Y", "XFF10"]
    assert len(find_parts(shift, "", most=2)) == 2
    assert find_parts(shift, "no such part %_") == ()


def test_a_part_is_known_by_its_number(shift: Shift) -> None:
    new = add_part(shift, FILTER)
    used = add_part(shift, replace(FILTER, condition="used"))
    for number, condition, found in (("ff10", "", new.id), ("FF 10", "used", used.id)):
        view = part_numbered(shift, number, condition)
        assert view is not None
        assert view.id == found
    assert part_numbered(shift, "FF-10", "rebuilt") is None


def test_the_price_follows_the_cost_by_the_shops_rule(shift: Shift) -> None:
    view = add_part(shift, replace(FILTER, price=""))
    assert (view.price, view.cost) == (None, None)
    assert "not known" in view.price_words
    supplier = offered(shift, view.id, cost="40")
    view = open_part(shift, view.id)
    assert (view.price, view.cost) == (Decimal("40.00"), Decimal("40.00"))
    assert view.cost_words == "cheapest offer, of Northbank Parts"
    save_shop(shift, replace(SHOP, part_margin=Decimal(40)))
    assert open_part(shift, view.id).price == Decimal("66.67")
    save_shop(shift, replace(SHOP, part_markups=(MarkupBand(None, Decimal(40)),)))
    view = open_part(shift, view.id)
    assert (view.price, "40%" in view.price_words) == (Decimal("56.00"), True)
    came(shift, ordered(shift, supplier, view.id), "1", "41.00")
    view = open_part(shift, view.id)
    assert (view.cost, view.price) == (Decimal("41.00"), Decimal("57.40"))
    assert view.cost_words == "last received, from Northbank Parts"
    with shift.records.reading():
        row = find_part(view.id)
        assert price_in_force(row, shift.shop).price == Decimal("57.40")
        assert prices_in_force([row], shift.shop)[row.id].price == Decimal("57.40")
        assert cost_in_force(row).cost == Decimal("41.00")


def test_the_cheapest_piece_is_the_cost_whatever_the_pack(shift: Shift) -> None:
    view = add_part(shift, FILTER)
    northbank = offered(shift, view.id)
    view = add_offer(shift, view.id, northbank, OfferEntry("N-771/10", "10", "15.00", "9"))
    assert (view.cost, view.offers[0].each) == (Decimal("1.50"), Decimal("1.50"))
    assert view.offers[0].words == "Northbank Parts: $15.00 for 10, here in 9 days"
    assert view.offers[1].words == "Northbank Parts: $2.40 each, here in 3 days"
    keep_supplier(shift, northbank, False)
    assert open_part(shift, view.id).offers == ()
    assert open_part(shift, view.id).cost is None


def test_an_offer_is_changed_and_dropped_and_its_history_stays(shift: Shift, clock: Clock) -> None:
    view = add_part(shift, FILTER)
    offered(shift, view.id, supplier_number="N-771")
    (offer,) = open_part(shift, view.id).offers
    entry = offer_entry(offer)
    assert entry == OfferEntry("N-771", "1", "2.40", "")
    clock.forward(30)
    change_offer(shift, offer.id, replace(entry, cost="2.65"), offer.version)
    with pytest.raises(StaleError):
        change_offer(shift, offer.id, entry, offer.version)
    view = drop_offer(shift, offer.id, "sold out")
    assert view.offers == ()
    assert [(cost.on, str(cost.each), cost.what) for cost in view.costs] == [
        (date(2031, 5, 7), "2.65", "asked"),
        (date(2031, 4, 7), "2.40", "asked"),
    ]


def test_one_offer_for_each_pack(shift: Shift) -> None:
    view = add_part(shift, FILTER)
    supplier = offered(shift, view.id)
    with refused(shift, "pack", "Northbank Parts has an offer for 1", "$2.40"):
        add_offer(shift, view.id, supplier, OfferEntry(cost="2"))
    with refused(shift, "cost", "type it"):
        add_offer(shift, view.id, supplier, OfferEntry(pack="5"))
    with refused(shift, "supplier", "choose one"):
        add_offer(shift, view.id, 77, OfferEntry(cost="2"))
    with refused(shift, "offer", "open the part again"):
        drop_offer(shift, 77)


def test_a_supplier_is_kept_as_typed(shift: Shift) -> None:
    view = add_supplier(shift, NORTHBANK)
    assert suppliers(shift) == (view,)
    entry = supplier_entry(view)
    assert (entry.free_postage_from, entry.lead_days) == ("60.00", "3")
    changed = change_supplier(shift, view.id, replace(entry, account="F-88"), view.version)
    assert changed.account == "F-88"
    with pytest.raises(StaleError):
        change_supplier(shift, view.id, entry, view.version)
    add_supplier(shift, DELLOW)
    assert [one.name for one in suppliers(shift)] == ["Dellow & Sons", "Northbank Parts"]
    keep_supplier(shift, view.id, False)
    assert [one.name for one in suppliers(shift)] == ["Dellow & Sons"]
    assert len(suppliers(shift, inactive=True)) == 2


@pytest.mark.parametrize(
    ("entry", "field", "words"),
    [
        (SupplierEntry(""), "name", "type it"),
        (SupplierEntry("northbank  PARTS"), "name", "in the list already"),
        (SupplierEntry("Dellow", email="dellow"), "email", "no e-mail"),
        (SupplierEntry("Dellow", postage="free"), "postage", "not an amount"),
        (SupplierEntry("Dellow", lead_days="a week"), "lead_days", "whole number"),
    ],
)
def test_what_is_no_supplier_is_refused_at_its_field(
    shift: Shift, entry: SupplierEntry, field: str, words: str
) -> None:
    add_supplier(shift, NORTHBANK)
    with refused(shift, field, words):
        add_supplier(shift, entry)


def test_a_kit_holds_parts_and_parts_of_kits_in_it(shift: Shift) -> None:
    kit, filter_, plug = (add_part(shift, entry) for entry in (KIT, FILTER, PLUG))
    big = add_part(shift, PartEntry("BK-1", "Season kit"))
    view = set_kit(shift, kit.id, (KitEntry(filter_.id), KitEntry(plug.id, "2")))
    assert view.is_kit
    assert [(held.name, held.quantity) for held in view.holds] == [
        ("Fuel filter", Decimal(1)),
        ("Spark plug", Decimal(2)),
    ]
    set_kit(shift, big.id, (KitEntry(kit.id, "2"), KitEntry(plug.id)))
    with shift.records.reading():
        held = contents_of(find_part(big.id))
        assert {row.name: quantity for row, quantity in held} == {"Fuel filter": 2, "Spark plug": 5}
        assert contents_of(find_part(plug.id)) == ()
    with refused(shift, "part", "“Tune-up kit” can't hold itself, through “Season kit”"):
        set_kit(shift, kit.id, (KitEntry(big.id),))
    with refused(shift, "part", "“Tune-up kit” can't hold itself."):
        set_kit(shift, kit.id, (KitEntry(kit.id),))
    with refused(shift, "part", "named twice"):
        set_kit(shift, kit.id, (KitEntry(plug.id), KitEntry(plug.id)))
    changed = set_kit(shift, kit.id, (KitEntry(plug.id, "3"),))
    assert [(held.name, held.quantity) for held in changed.holds] == [("Spark plug", Decimal(3))]
    assert not set_kit(shift, kit.id, ()).is_kit


def test_a_kit_is_opened_into_stock_and_its_cost_is_shared(shift: Shift) -> None:
    kit, filter_, plug = part(shift, KIT, "2"), part(shift), part(shift, PLUG)
    offered(shift, kit.id, cost="12.00")
    offered(shift, filter_.id, DELLOW, cost="3.00")
    add_offer(shift, plug.id, suppliers(shift)[0].id, OfferEntry(cost="6.00"))
    set_kit(shift, kit.id, (KitEntry(filter_.id), KitEntry(plug.id, "2")))
    with refused(shift, "quantity", "2 of “Tune-up kit” lie free"):
        open_kit(shift, kit.id, "3")
    with refused(shift, "quantity", "whole ones"):
        open_kit(shift, kit.id, "0.5")
    with refused(shift, "quantity", "lie free in the bin"):
        open_kit(shift, plug.id)
    view = open_kit(shift, kit.id, note="for the shelf")
    assert (view.quantity, view.moves[0].why) == (Decimal(1), "kit opened")
    opened = open_part(shift, plug.id)
    assert (opened.quantity, opened.moves[0].note) == (Decimal(2), "out of TK-26, for the shelf")
    assert [(cost.what, str(cost.each)) for cost in opened.costs] == [
        ("out of a kit", "4.80"),
        ("asked", "6.00"),
    ]
    assert open_part(shift, filter_.id).costs[0].each == Decimal("2.40")
    assert (opened.cost, opened.cost_words) == (Decimal("6.00"), "cheapest offer, of Dellow & Sons")
    assert sound(shift)


def test_what_a_part_is_for_is_said_in_words(shift: Shift) -> None:
    view = add_part(shift, FILTER)
    add_fit(shift, view.id, FitEntry(make="Tarnbeck", model="TB-26", cause="stale-fuel"))
    view = add_fit(shift, view.id, FitEntry(kind="chain saw", task=task_choices()[0][1]))
    view = add_fit(shift, view.id, FitEntry(quantity="2"))
    words = [fit.words for fit in view.fits]
    assert words[0] == "Tarnbeck TB-26: stale fuel"
    assert words[1] == f"any chain saw: {task_choices()[0][1]}"
    assert words[2] == "2 for any machine"
    assert len(drop_fit(shift, view.fits[0].id).fits) == 2
    assert ("stale-fuel", "stale fuel") in cause_choices()
    assert "chain saw" in kind_choices()
    with refused(shift, "cause", "choose one of the list"):
        add_fit(shift, view.id, FitEntry(cause="gremlins"))
    with refused(shift, "model", "a make alone"):
        add_fit(shift, view.id, FitEntry(make="Tarnbeck"))
    with refused(shift, "fit", "open the part again"):
        drop_fit(shift, 77)


def test_a_part_opened_says_who_waits_and_what_moved(shift: Shift) -> None:
    view = part(shift, FILTER, "3")
    assert level(shift, view.id) == ("3", "0", "3", "0")
    (move,) = view.moves
    assert (move.why, move.quantity, move.by) == ("counted", Decimal(3), "Sam")
    assert move.on == date(2031, 4, 7)


@PER_SHOP
@given(number=ANY_TEXT, name=ANY_TEXT, looked_for=ANY_TEXT)
def test_any_text_is_kept_or_refused_and_may_be_looked_for(
    shift: Shift, number: str, name: str, looked_for: str
) -> None:
    assert isinstance(find_parts(shift, looked_for), tuple)
    error = refusal(lambda: add_part(shift, PartEntry(number, name)))
    if error is not None:
        assert error.field in ("number", "name")
        error.sentence.encode()
        return
    view = part_numbered(shift, number)
    assert view is not None
    assert part_entry(view) == part_entry(open_part(shift, view.id))
    assert view.id in {row.id for row in find_parts(shift, view.number, most=1000)}
    drop_part(shift, view.id)

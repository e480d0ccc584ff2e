"""Buying for tickets: the three baskets, what they say, and what ordering one does."""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

import pytest

from shopdesk.errors import JobError
from shopdesk.job.approval import approve, quote
from shopdesk.job.audit import audit
from shopdesk.job.buying.baskets import baskets_for_shop, buying, order_basket
from shopdesk.job.buying.views import BY_DAY, CHEAPEST, SOONEST, BasketView, BuyingView
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.intake import TicketEntry
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.catalogue import PartEntry, add_part, keep_part, open_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer, change_offer
from shopdesk.job.parts.order_views import list_orders, open_order
from shopdesk.job.parts.receiving import all_to_come, receive
from shopdesk.job.parts.stock_audit import stock_faults
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier, keep_supplier
from shopdesk.job.parts.views import PartView, SupplierView
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView, TicketView
from tests.job.workshop import SAYS, Clock, another, at_stage, everything, refused

MONDAY = date(2031, 4, 7)


class Trade:
    """Two suppliers, and parts with their offers, in an invented shop."""

    def __init__(self, shift: Shift) -> None:
        self.shift = shift
        self.northbank = self.supplier("Northbank", postage="8.50", free="60.00", days="3")
        self.ridge = self.supplier("Ridge Parts", postage="4.00", days="8")
        self.plug = self.part("RP-7", "Spark plug")
        self.filter = self.part("AF-12", "Air filter")
        self.line = self.part("FL 30", "Fuel line")

    def supplier(
        self, name: str, postage: str = "", free: str = "", days: str = ""
    ) -> SupplierView:
        entry = SupplierEntry(name, postage=postage, free_postage_from=free, lead_days=days)
        return add_supplier(self.shift, entry)

    def part(self, number: str, name: str, condition: str = "new", **more: str) -> PartView:
        return add_part(self.shift, PartEntry(number, name, condition, price="9.00", **more))

    def offer(
        self, who: SupplierView, part: PartView, cost: str, pack: str = "1", days: str = ""
    ) -> None:
        number = f"{who.name[0]}-{part.number}"
        add_offer(self.shift, part.id, who.id, OfferEntry(number, pack, cost, days))

    def kit(self, number: str, *parts: PartView) -> PartView:
        kit = self.part(number, "Tune-up kit")
        return set_kit(self.shift, kit.id, [KitEntry(part.id) for part in parts])


@pytest.fixture
def trade(shift: Shift) -> Iterator[Trade]:
    """The trade; whatever was done in it, journal, stock and numbers agree at the end."""
    yield Trade(shift)
    assert audit(shift).faults == ()
    with shift.records.reading():
        assert list(stock_faults()) == []


def line_of(part: PartView, quantity: str = "1", condition: str = "") -> LineEntry:
    return LineEntry(
        "part",
        part.name,
        quantity,
        "9.00",
        "failed",
        part_id=part.id,
        part_number=part.number,
        condition=condition,
    )


def waiting(shift: Shift, *lines: LineEntry, number: int = 1, promised: str = "") -> TicketView:
    """A ticket in Parts whose owner said yes to these lines."""
    entry = TicketEntry("Won't start.", promised_on=promised)
    ticket = go_on(shift, another(shift, number, entry).id, Stage.DIAGNOSIS)
    record_finding(shift, ticket.id, "compression", "142")
    for line in lines:
        ticket = add_line(shift, ticket.id, line)
    go_on(shift, ticket.id, Stage.APPROVAL)
    quote(shift, ticket.id)
    approve(shift, ticket.id, SAYS)
    return go_on(shift, ticket.id, Stage.PARTS)


def basket(view: BuyingView, aim: str = CHEAPEST) -> BasketView:
    found = view.basket(aim)
    assert found is not None
    return found


def line(shift: Shift, ticket: TicketView, title: str) -> LineView:
    return next(line for line in open_ticket(shift, ticket.id).lines if line.description == title)


def where(view: BuyingView) -> dict[str, str]:
    return {need.title: need.where for need in view.needs}


def test_three_baskets(shift: Shift, trade: Trade) -> None:
    trade.offer(trade.northbank, trade.plug, "5.00")
    trade.offer(trade.ridge, trade.plug, "3.00")
    view = buying(shift, waiting(shift, line_of(trade.plug)).id, by="in 4 days")
    cheap, soon, by_day = view.baskets
    assert [one.aim for one in view.baskets] == [CHEAPEST, SOONEST, BY_DAY]
    assert (cheap.total, cheap.ready_on) == (Decimal("7.00"), MONDAY + timedelta(8))
    assert (soon.total, soon.ready_on) == (Decimal("13.50"), MONDAY + timedelta(3))
    assert (by_day.total, by_day.ready_on) == (Decimal("13.50"), MONDAY + timedelta(3))
    assert (cheap.same_as, soon.same_as, by_day.same_as) == ("", "", "Soonest")
    assert by_day.title == "Cheapest by Fri 11 Apr"
    assert cheap.ready == "all here Tue 15 Apr"


def test_the_words_of_a_purchase(shift: Shift, trade: Trade) -> None:
    trade.offer(trade.northbank, trade.plug, "5.00")
    trade.offer(trade.northbank, trade.filter, "12.00", pack="2")
    view = buying(shift, waiting(shift, line_of(trade.plug), line_of(trade.filter)).id)
    (purchase,) = basket(view).purchases
    assert purchase.words == (
        "Northbank: 2 parts, $17.00 + $8.50 postage (free from $60.00), here Thu 10 Apr"
    )
    assert purchase.items == (
        "1 × Spark plug, N-RP-7, $5.00",
        "1 × Air filter, N-AF-12, packs of 2, $12.00",
    )
    assert basket(view).notes == ("Left over, goes into stock: 1 × Air filter.",)
    assert basket(view).question == "Order from Northbank $25.50, all here Thu 10 Apr?"


def test_postage_that_is_free_is_said_to_be(shift: Shift, trade: Trade) -> None:
    trade.offer(trade.northbank, trade.plug, "61.00")
    view = buying(shift, waiting(shift, line_of(trade.plug)).id)
    assert "$61.00, postage free (from $60.00)" in basket(view).purchases[0].words


class TestKits:
    def test_a_kit_that_wins_though_not_all_of_it_is_needed(
        self, shift: Shift, trade: Trade
    ) -> None:
        bulb = trade.part("PB-1", "Primer bulb")
        kit = trade.kit("TK-4", trade.plug, trade.filter, bulb)
        trade.offer(trade.ridge, kit, "11.00")
        trade.offer(trade.ridge, trade.plug, "5.00")
        trade.offer(trade.ridge, trade.filter, "8.25")
        ticket = waiting(shift, line_of(trade.plug), line_of(trade.filter))
        view = buying(shift, ticket.id)
        assert basket(view).purchases[0].items == ("1 × Tune-up kit (kit), R-TK-4, $11.00",)
        assert basket(view).purchases[0].words.startswith("Ridge Parts: a kit, $11.00 + $4.00")
        assert basket(view).notes == (
            "The kit is $2.25 cheaper than the single parts, postage counted.",
            "Left over, goes into stock: 1 × Primer bulb.",
        )

    def test_received_the_kit_serves_the_lines_and_the_rest_is_stock(
        self, shift: Shift, trade: Trade
    ) -> None:
        bulb = trade.part("PB-1", "Primer bulb")
        kit = trade.kit("TK-4", trade.plug, trade.filter, bulb)
        trade.offer(trade.ridge, kit, "11.00")
        ticket = waiting(shift, line_of(trade.plug), line_of(trade.filter))
        order_basket(shift, buying(shift, ticket.id), CHEAPEST)
        assert line(shift, ticket, "Spark plug").supply == "on order"
        (order,) = list_orders(shift)
        receipt = receive(shift, order.id, all_to_come(shift, order.id))
        assert [got.moved_on for got in receipt.tickets] == [True]
        assert open_ticket(shift, ticket.id).stage is Stage.REPAIR
        assert [open_part(shift, part.id).free for part in (bulb, trade.plug, kit)] == [1, 0, 0]

    def test_a_kit_that_does_not_pay(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.ridge, trade.kit("TK-4", trade.plug, trade.filter), "11.00")
        trade.offer(trade.ridge, trade.plug, "5.00")
        view = buying(shift, waiting(shift, line_of(trade.plug)).id)
        assert basket(view).notes == ("No kit on offer would be cheaper.",)

    def test_what_only_a_kit_brings(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.ridge, trade.kit("TK-4", trade.plug, trade.filter), "11.00")
        view = buying(shift, waiting(shift, line_of(trade.plug)).id)
        assert basket(view).notes[0] == "Not all of it can be had without it."

    def test_the_line_asks_for_the_kit_itself(self, shift: Shift, trade: Trade) -> None:
        kit = trade.kit("TK-4", trade.plug, trade.filter)
        trade.offer(trade.ridge, kit, "11.00")
        ticket = waiting(shift, line_of(kit), line_of(trade.plug))
        view = buying(shift, ticket.id)
        order_basket(shift, view, CHEAPEST)
        (order,) = list_orders(shift)
        assert [row.packs for row in open_order(shift, order.id).lines] == [1, 1]
        receive(shift, order.id, all_to_come(shift, order.id))
        assert {one.supply for one in open_ticket(shift, ticket.id).lines if one.part_id} == {
            "on hand"
        }
        assert open_part(shift, trade.filter.id).free == 1

    def test_a_kit_in_a_kit(self, shift: Shift, trade: Trade) -> None:
        inner = trade.kit("TK-4", trade.plug, trade.filter)
        outer = set_kit(
            shift,
            trade.part("TK-9", "Season kit").id,
            [KitEntry(inner.id), KitEntry(trade.line.id)],
        )
        trade.offer(trade.ridge, outer, "20.00")
        view = buying(shift, waiting(shift, line_of(trade.plug)).id)
        assert basket(view).purchases[0].items == ("1 × Season kit (kit), R-TK-9, $20.00",)


class TestOrdering:
    def test_one_order_for_each_supplier_and_the_lines_follow(
        self, shift: Shift, trade: Trade
    ) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        trade.offer(trade.ridge, trade.line, "2.00")
        ticket = waiting(shift, line_of(trade.plug), line_of(trade.line, "1.5"))
        view = buying(shift, ticket.id)
        assert basket(view).question == (
            "Order from Northbank $13.50, Ridge Parts $8.00; $21.50 in all, all here Tue 15 Apr?"
        )
        ordered = order_basket(shift, view, CHEAPEST)
        assert ordered.words == "Orders P1, P2 placed, all here Tue 15 Apr."
        assert [row.state for row in list_orders(shift)] == ["ordered", "ordered"]
        plug = line(shift, ticket, "Spark plug")
        assert (plug.supply, plug.expected_on) == ("on order", MONDAY + timedelta(3))
        assert where(buying(shift, ticket.id)) == {
            "Spark plug": "on order P1 from Northbank, here Thu 10 Apr",
            "Fuel line": "on order P2 from Ridge Parts, here Tue 15 Apr",
        }

    def test_the_order_costs_what_the_basket_said(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.05")
        trade.offer(trade.northbank, trade.filter, "27.10", pack="3")
        ticket = waiting(shift, line_of(trade.plug, "3"), line_of(trade.filter, "4"))
        view = buying(shift, ticket.id)
        order_basket(shift, view, CHEAPEST)
        (row,) = list_orders(shift)
        assert open_order(shift, row.id).total == basket(view).total

    def test_afterwards_nothing_is_to_order(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug))
        order_basket(shift, buying(shift, ticket.id), SOONEST)
        view = buying(shift, ticket.id)
        assert view.baskets == ()
        assert view.empty.startswith("Nothing is to order")
        with refused(shift, "basket", "There is nothing to order"):
            order_basket(shift, view, CHEAPEST)

    def test_what_was_shown_is_what_is_ordered_or_nothing(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug))
        view = buying(shift, ticket.id)
        offer = open_part(shift, trade.plug.id).offers[0]
        change_offer(shift, offer.id, OfferEntry("N-RP-7", "1", "6.00"))
        with refused(shift, "basket", "changed meanwhile", "look at the baskets again"):
            order_basket(shift, view, CHEAPEST)

    def test_twice_is_refused(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        view = buying(shift, waiting(shift, line_of(trade.plug)).id)
        order_basket(shift, view, CHEAPEST)
        with refused(shift, "basket", "changed meanwhile"):
            order_basket(shift, view, CHEAPEST)

    def test_not_before_the_owner_said_yes(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        ticket = go_on(shift, another(shift, 1).id, Stage.DIAGNOSIS)
        add_line(shift, ticket.id, line_of(trade.plug))
        view = buying(shift, ticket.id)
        assert "record a new yes first" in view.refused
        assert basket(view).total == Decimal("13.50")
        with refused(shift, "approval", "record a new yes first"):
            order_basket(shift, view, CHEAPEST)

    def test_a_yes_later_makes_the_shown_basket_good(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        assert buying(shift, waiting(shift, line_of(trade.plug)).id).refused == ""


class TestBin:
    def test_too_few_in_the_bin_and_the_rest_is_ordered(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        count_part(shift, trade.plug.id, "2")
        ticket = waiting(shift, line_of(trade.plug, "3"))
        view = buying(shift, ticket.id)
        assert basket(view).purchases[0].items == ("1 × Spark plug, N-RP-7, $5.00",)
        assert basket(view).notes == ("From the bin: 2 × Spark plug.",)
        order_basket(shift, view, CHEAPEST)
        (order,) = list_orders(shift)
        receive(shift, order.id, all_to_come(shift, order.id))
        assert line(shift, ticket, "Spark plug").supply == "on hand"
        assert open_part(shift, trade.plug.id).reserved == 3

    def test_all_of_it_lies_in_the_bin_by_now(self, shift: Shift, trade: Trade) -> None:
        ticket = waiting(shift, line_of(trade.plug))
        count_part(shift, trade.plug.id, "4")
        view = buying(shift, ticket.id)
        assert basket(view).question == "Take all of it from the bin?"
        assert basket(view).ready == "all here today"
        assert order_basket(shift, view, CHEAPEST).words == (
            "All of it is kept for the ticket from the bin."
        )
        assert where(buying(shift, ticket.id)) == {"Spark plug": "in the bin"}
        assert open_part(shift, trade.plug.id).free == 3

    def test_what_others_have_reserved_is_not_free(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug))
        count_part(shift, trade.plug.id, "1")
        waiting(shift, line_of(trade.plug), line_of(trade.line), number=2)
        assert basket(buying(shift, ticket.id)).total == Decimal("13.50")


class TestCondition:
    def test_a_used_one_is_never_bought_for_a_new_one(self, shift: Shift, trade: Trade) -> None:
        used = trade.part("RP-7", "Spark plug", "used")
        trade.offer(trade.ridge, used, "1.00")
        ticket = waiting(shift, line_of(trade.plug))
        view = buying(shift, ticket.id)
        assert view.baskets == ()
        assert "only offered used" in view.lacking[0]

    def test_a_new_one_for_a_used_one_and_the_line_says_so(
        self, shift: Shift, trade: Trade
    ) -> None:
        used = trade.part("RP-7", "Spark plug", "used")
        trade.offer(trade.ridge, trade.plug, "1.00")
        ticket = waiting(shift, line_of(used, condition="used"))
        order_basket(shift, buying(shift, ticket.id), CHEAPEST)
        bought = line(shift, ticket, "Spark plug")
        assert (bought.condition, bought.part_id) == ("new", trade.plug.id)

    def test_some_new_and_some_used_make_two_lines(self, shift: Shift, trade: Trade) -> None:
        used = trade.part("RP-7", "Spark plug", "used")
        trade.offer(trade.ridge, trade.plug, "1.00")
        ticket = waiting(shift, line_of(used, "3", condition="used"))
        count_part(shift, used.id, "2")
        before = open_ticket(shift, ticket.id)
        order_basket(shift, buying(shift, ticket.id), CHEAPEST)
        after = open_ticket(shift, ticket.id)
        found = sorted(
            (one.condition, one.quantity, one.supply) for one in after.lines if one.part_id
        )
        assert found == [
            ("new", Decimal(1), "on order"),
            ("used", Decimal(2), "on hand"),
        ]
        assert after.totals.total == before.totals.total


class TestLacking:
    def test_nobody_offers_one_part_and_the_others_can_be_bought(
        self, shift: Shift, trade: Trade
    ) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug), line_of(trade.filter))
        view = buying(shift, ticket.id)
        assert view.lacking == (
            "Nobody offers “Air filter”: note a supplier's price for it, or leave it out.",
        )
        assert basket(view).total == Decimal("13.50")
        order_basket(shift, view, CHEAPEST)
        assert line(shift, ticket, "Air filter").supply == "to order"

    def test_a_line_without_a_number(self, shift: Shift, trade: Trade) -> None:
        ticket = waiting(
            shift, LineEntry("part", "Odd screw", "1", "1.00", "failed", supply="to order")
        )
        assert "“Odd screw” has no part number" in buying(shift, ticket.id).lacking[0]

    @pytest.mark.parametrize("number", ["RP7", "n-rp 7"])
    def test_a_line_with_a_number_that_someone_offers(
        self, shift: Shift, trade: Trade, number: str
    ) -> None:
        trade.offer(trade.northbank, trade.plug, "5.00")
        typed = LineEntry(
            "part", "Plug", "1", "9.00", "failed", part_number=number, supply="to order"
        )
        ticket = waiting(shift, typed)
        order_basket(shift, buying(shift, ticket.id), CHEAPEST)
        bought = line(shift, ticket, "Plug")
        assert (bought.part_id, bought.part_number) == (trade.plug.id, "RP-7")

    def test_a_supplier_or_kit_that_is_put_away_offers_nothing(
        self, shift: Shift, trade: Trade
    ) -> None:
        kit = trade.kit("TK-4", trade.plug, trade.filter)
        trade.offer(trade.northbank, kit, "5.00")
        trade.offer(trade.ridge, trade.plug, "5.00")
        keep_part(shift, kit.id, active=False)
        keep_supplier(shift, trade.ridge.id, active=False)
        view = buying(shift, waiting(shift, line_of(trade.plug)).id)
        assert "Nobody offers “Spark plug”" in view.lacking[0]

    def test_no_part_on_the_ticket(self, shift: Shift, trade: Trade) -> None:
        view = buying(shift, another(shift, 1).id)
        assert view.needs == ()
        assert view.empty.startswith("No part is on this ticket.")


class TestDay:
    def test_the_promised_day_is_meant_when_none_is_typed(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.ridge, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug))
        view = buying(shift, ticket.id)
        assert view.by == ticket.promised_on == MONDAY + timedelta(7)
        assert basket(view, BY_DAY).trouble == "“Spark plug” is here Tue 15 Apr at the soonest."
        with refused(shift, "basket", "at the soonest"):
            order_basket(shift, view, BY_DAY)

    def test_no_day_at_all(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.ridge, trade.plug, "5.00")
        view = buying(shift, waiting(shift, line_of(trade.plug)).id, by="")
        assert basket(view, BY_DAY).trouble == "Type the day by which all must be here."

    def test_a_promise_that_is_over(self, shift: Shift, trade: Trade, clock: Clock) -> None:
        trade.offer(trade.ridge, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug))
        clock.forward(30)
        assert buying(shift, ticket.id).by is None

    @pytest.mark.parametrize(("typed", "words"), [("yesterday", "is over"), ("soon", "soon")])
    def test_a_day_that_can_not_be(
        self, shift: Shift, trade: Trade, typed: str, words: str
    ) -> None:
        ticket = waiting(shift, line_of(trade.plug))
        with refused(shift, "by", words):
            buying(shift, ticket.id, by=typed)


class TestShop:
    def test_two_tickets_share_the_postage(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "30.00")
        first = waiting(shift, line_of(trade.plug))
        second = waiting(shift, line_of(trade.plug), number=2)
        alone = [basket(buying(shift, one.id)).total for one in (first, second)]
        assert alone == [Decimal("38.50")] * 2
        view = baskets_for_shop(shift)
        assert basket(view).total == Decimal("60.00")
        assert [need.tag for need in view.needs] == [first.tag, second.tag]
        assert order_basket(shift, view, CHEAPEST).numbers == ("P1",)
        assert {line(shift, one, "Spark plug").supply for one in (first, second)} == {"on order"}

    def test_what_runs_low_comes_along(self, shift: Shift, trade: Trade) -> None:
        low = trade.part("CL-2", "Clip", reorder_at="2", reorder_to="10")
        count_part(shift, low.id, "1")
        trade.offer(trade.ridge, low, "2.00", pack="5")
        trade.offer(trade.ridge, trade.plug, "5.00")
        ticket = waiting(shift, line_of(trade.plug))
        view = baskets_for_shop(shift)
        assert [(need.title, need.quantity, need.where) for need in view.needs] == [
            ("Spark plug", Decimal(1), "to order"),
            ("Clip", Decimal(9), "runs low in the bin"),
        ]
        assert basket(view).purchases[0].items == (
            "2 × Clip, R-CL-2, packs of 5, $4.00",
            "1 × Spark plug, R-RP-7, $5.00",
        )
        order_basket(shift, view, CHEAPEST)
        assert line(shift, ticket, "Spark plug").supply == "on order"
        assert open_part(shift, low.id).on_order == 10
        assert baskets_for_shop(shift).needs == ()

    def test_who_said_nothing_yet_is_not_bought_for(self, shift: Shift, trade: Trade) -> None:
        ticket = go_on(shift, another(shift, 1).id, Stage.DIAGNOSIS)
        add_line(shift, ticket.id, line_of(trade.plug))
        view = baskets_for_shop(shift)
        assert view.needs == ()
        assert view.empty == "No ticket waits for a part that is to order, and nothing runs low."

    def test_the_first_promised_gets_what_lies_in_the_bin(self, shift: Shift, trade: Trade) -> None:
        trade.offer(trade.northbank, trade.plug, "30.00")
        later = waiting(shift, line_of(trade.plug))
        sooner = waiting(shift, line_of(trade.plug), number=2, promised="in 2 days")
        count_part(shift, trade.plug.id, "1")
        order_basket(shift, baskets_for_shop(shift), CHEAPEST)
        assert line(shift, sooner, "Spark plug").supply == "on hand"
        assert line(shift, later, "Spark plug").supply == "on order"


def test_looking_writes_nothing(shift: Shift, trade: Trade) -> None:
    trade.offer(trade.northbank, trade.plug, "5.00")
    ticket = waiting(shift, line_of(trade.plug))
    before = everything(shift)
    buying(shift, ticket.id)
    baskets_for_shop(shift)
    assert everything(shift) == before


def test_a_ticket_that_is_not_there(shift: Shift) -> None:
    with pytest.raises(JobError):
        buying(shift, 99)


def test_the_usual_ticket_has_a_kit_that_nobody_offers(shift: Shift) -> None:
    view = buying(shift, at_stage(shift, Stage.PARTS).id)
    assert "Nobody offers “Carburettor kit”" in view.lacking[0]
    assert view.baskets == ()

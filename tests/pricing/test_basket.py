"""The cheapest basket of parts, each rule by a case that can be reckoned by hand."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.pricing.basket import Basket, Postage, cheapest, soonest
from shopdesk.pricing.basket_lack import BasketError, Why
from shopdesk.pricing.market import Condition, Market, Need, Offer, Stock, Supplier
from shopdesk.pricing.money import MoneyError

USED, REBUILT, NEW = Condition.USED, Condition.REBUILT, Condition.NEW


def need(part: str, quantity: str = "1", worst: Condition = NEW, key: str = "") -> Need:
    return Need(key or part, part, part.capitalize(), Decimal(quantity), worst)


def offer(
    key: str,
    price: str,
    contents: str,
    supplier: str = "north",
    *,
    days: int = 2,
    condition: Condition = NEW,
    most: int | None = None,
) -> Offer:
    """An offer; ``contents`` as ``plug`` or ``plug 2, line 0.5``."""
    held = [one.split() for one in contents.split(",")]
    parts = tuple((one[0], Decimal(one[1] if len(one) > 1 else 1)) for one in held)
    return Offer(key, supplier, key, Decimal(price), parts, days, condition, most)


def supplier(key: str = "north", postage: str = "0", free: str = "", least: str = "") -> Supplier:
    return Supplier(
        key,
        key.capitalize(),
        Decimal(postage),
        Decimal(free) if free else None,
        Decimal(least) if least else None,
    )


def market(
    needs: list[Need],
    offers: list[Offer],
    suppliers: list[Supplier] | None = None,
    stock: list[Stock] | None = None,
) -> Market:
    known = suppliers or [supplier(key) for key in sorted({one.supplier for one in offers})]
    return Market(tuple(needs), tuple(offers), tuple(known), tuple(stock or []))


def bought(basket: Basket) -> dict[str, int]:
    return {pick.offer.key: pick.packs for pick in basket.picks}


def left(basket: Basket) -> dict[str, Decimal]:
    return {over.part: over.quantity for over in basket.leftovers}


def reasons(error: pytest.ExceptionInfo[BasketError]) -> dict[str, Why]:
    return {lack.need: lack.why for lack in error.value.lacks}


def test_the_cheaper_of_two_offers() -> None:
    basket = cheapest(
        market([need("plug")], [offer("dear", "4.10", "plug"), offer("cheap", "3.95", "plug")])
    )
    assert bought(basket) == {"cheap": 1}
    assert str(basket.total) == "3.95"


def test_postage_makes_the_dearer_supplier_cheaper() -> None:
    basket = cheapest(
        market(
            [need("plug")],
            [offer("a", "3.00", "plug", "north"), offer("b", "9.00", "plug", "ridge")],
            [supplier("north", "8.50"), supplier("ridge", "2.00")],
        )
    )
    assert bought(basket) == {"b": 1}
    assert [(order.goods, order.postage) for order in basket.orders] == [(Decimal(9), Decimal(2))]
    assert basket.orders[0].why is Postage.PAID


def test_one_order_shares_its_postage() -> None:
    offers = [
        offer("n-plug", "4.00", "plug", "north"),
        offer("n-line", "6.00", "line", "north"),
        offer("r-line", "5.00", "line", "ridge"),
    ]
    terms = [supplier("north", "5.00"), supplier("ridge", "5.00")]
    basket = cheapest(market([need("plug"), need("line")], offers, terms))
    assert bought(basket) == {"n-plug": 1, "n-line": 1}
    assert basket.total == Decimal("15.00")


def test_postage_is_free_from_the_very_sum() -> None:
    offers = [offer("pump", "60.00", "pump"), offer("less", "59.99", "pump", "ridge")]
    terms = [supplier("north", "8.50", "60.00"), supplier("ridge", "8.50", "60.00")]
    basket = cheapest(market([need("pump")], offers, terms))
    assert bought(basket) == {"pump": 1}
    assert basket.orders[0].why is Postage.SAVED
    assert basket.total == Decimal("60.00")


def test_a_part_more_that_saves_the_postage() -> None:
    offers = [offer("pump", "58.00", "pump"), offer("plug", "2.00", "plug")]
    basket = cheapest(
        market([need("pump"), need("plug", "0.5")], offers, [supplier("north", "8.50", "62.00")])
    )
    assert bought(basket) == {"pump": 1, "plug": 2}
    assert basket.total == Decimal("62.00")
    assert left(basket) == {"plug": Decimal("1.5")}


def test_no_postage_is_asked() -> None:
    basket = cheapest(market([need("plug")], [offer("a", "3.00", "plug")]))
    assert basket.orders[0].why is Postage.NONE


def test_a_least_order_is_filled_up() -> None:
    offers = [offer("plug", "3.00", "plug"), offer("filter", "4.00", "filter")]
    basket = cheapest(market([need("plug")], offers, [supplier(least="10.00")]))
    assert basket.total == Decimal("10.00")
    assert bought(basket) == {"plug": 2, "filter": 1}
    assert left(basket) == {"plug": Decimal(1), "filter": Decimal(1)}


def test_a_kit_that_is_cheaper_than_its_single_parts() -> None:
    offers = [
        offer("kit", "18.00", "plug, filter, line 2, bulb"),
        offer("plug", "5.00", "plug"),
        offer("filter", "7.00", "filter"),
        offer("line", "5.05", "line"),
    ]
    basket = cheapest(market([need("plug"), need("filter"), need("line", "2")], offers))
    assert bought(basket) == {"kit": 1}
    assert basket.saved_by_kits == Decimal("4.10")
    assert left(basket) == {"bulb": Decimal(1)}


def test_single_parts_that_are_cheaper_than_the_kit() -> None:
    offers = [offer("kit", "18.00", "plug, filter"), offer("plug", "5.00", "plug")]
    basket = cheapest(market([need("plug")], offers))
    assert bought(basket) == {"plug": 1}
    assert not basket.kits
    assert (basket.saved_by_kits, basket.without_kits) == (Decimal(0), Decimal("5.00"))


def test_parts_that_only_come_in_a_kit() -> None:
    basket = cheapest(market([need("plug")], [offer("kit", "18.00", "plug, filter")]))
    assert basket.without_kits is None
    assert basket.saved_by_kits is None


def test_the_kits_saving_counts_the_postage() -> None:
    offers = [
        offer("kit", "20.00", "plug, filter", "north"),
        offer("plug", "5.00", "plug", "ridge"),
        offer("filter", "5.00", "filter", "vale"),
    ]
    terms = [supplier("north", "3.00"), supplier("ridge", "8.00"), supplier("vale", "8.00")]
    basket = cheapest(market([need("plug"), need("filter")], offers, terms))
    assert (basket.total, basket.without_kits) == (Decimal("23.00"), Decimal("26.00"))


def test_a_pack_against_single_ones() -> None:
    offers = [offer("one", "2.50", "clip"), offer("ten", "9.00", "clip 10")]
    assert bought(cheapest(market([need("clip", "3")], offers))) == {"one": 3}
    basket = cheapest(market([need("clip", "4")], offers))
    assert bought(basket) == {"ten": 1}
    assert left(basket) == {"clip": Decimal(6)}


def test_line_by_the_foot() -> None:
    offers = [offer("foot", "0.85", "line 0.333"), offer("roll", "2.60", "line 1.25")]
    basket = cheapest(market([need("line", "1.333")], offers))
    assert bought(basket) == {"foot": 1, "roll": 1}
    assert left(basket) == {"line": Decimal("0.250")}


def test_no_more_packs_than_there_are() -> None:
    offers = [offer("sale", "1.00", "plug", most=2), offer("full", "3.00", "plug")]
    assert bought(cheapest(market([need("plug", "3")], offers))) == {"sale": 2, "full": 1}


def test_own_stock_costs_nothing() -> None:
    lot = Stock("plug", Decimal(5))
    basket = cheapest(market([need("plug", "2")], [], stock=[lot]))
    assert not basket.orders
    assert (basket.total, basket.ready_days) == (Decimal(0), 0)
    assert [(share.need, share.quantity) for share in basket.from_stock] == [("plug", Decimal(2))]


def test_own_stock_first_and_the_rest_is_bought() -> None:
    basket = cheapest(
        market(
            [need("plug", "3")], [offer("plug", "4.00", "plug")], stock=[Stock("plug", Decimal(2))]
        )
    )
    assert bought(basket) == {"plug": 1}
    assert [(share.offer, share.quantity) for share in basket.shares] == [
        ("", Decimal(2)),
        ("plug", Decimal(1)),
    ]


def test_the_bin_goes_to_the_first_in_line() -> None:
    needs = [need("plug", key="late ticket"), need("plug", key="next ticket")]
    basket = cheapest(
        market(needs, [offer("o", "4.00", "plug")], stock=[Stock("plug", Decimal(1))])
    )
    assert {share.need: share.offer for share in basket.shares} == {
        "late ticket": "",
        "next ticket": "o",
    }


def test_leftovers_of_a_kit_are_what_the_bin_and_the_needs_leave() -> None:
    kit = offer("kit", "9.00", "plug, filter 2")
    basket = cheapest(
        market([need("plug"), need("filter")], [kit], stock=[Stock("filter", Decimal(1))])
    )
    assert left(basket) == {"filter": Decimal(2)}


def test_a_condition_worse_than_asked_is_never_bought() -> None:
    offers = [
        offer("used", "5.00", "carb", condition=USED),
        offer("rebuilt", "9.00", "carb", condition=REBUILT),
        offer("new", "20.00", "carb"),
    ]
    found = {
        worst: bought(cheapest(market([need("carb", worst=worst)], offers))) for worst in Condition
    }
    assert found == {NEW: {"new": 1}, REBUILT: {"rebuilt": 1}, USED: {"used": 1}}


def test_a_better_condition_will_do() -> None:
    offers = [offer("used", "25.00", "carb", condition=USED), offer("new", "20.00", "carb")]
    basket = cheapest(market([need("carb", worst=USED)], offers))
    assert [share.condition for share in basket.shares] == [NEW]


def test_the_particular_need_gets_the_new_one() -> None:
    needs = [need("carb", worst=USED, key="any"), need("carb", worst=NEW, key="new only")]
    lots = [Stock("carb", Decimal(1)), Stock("carb", Decimal(1), USED)]
    basket = cheapest(market(needs, [], stock=lots))
    assert {share.need: share.condition for share in basket.shares} == {
        "any": USED,
        "new only": NEW,
    }


def test_used_ones_in_the_bin_do_not_serve_a_need_for_new_ones() -> None:
    needs = [need("carb", worst=NEW, key="a"), need("carb", worst=NEW, key="b")]
    lots = [Stock("carb", Decimal(1)), Stock("carb", Decimal(4), USED)]
    basket = cheapest(market(needs, [offer("new", "20.00", "carb")], stock=lots))
    assert bought(basket) == {"new": 1}


class TestTime:
    OFFERS = (
        offer("slow", "3.00", "plug", "ridge", days=9),
        offer("middle", "5.00", "plug", "north", days=4),
        offer("fast", "8.00", "plug", "vale", days=1),
    )
    MARKET = market([need("plug")], list(OFFERS))

    def test_soonest(self) -> None:
        basket = soonest(self.MARKET)
        assert (bought(basket), basket.ready_days) == ({"fast": 1}, 1)

    @pytest.mark.parametrize(
        ("days", "key"), [(1, "fast"), (3, "fast"), (4, "middle"), (9, "slow")]
    )
    def test_cheapest_by_a_day(self, days: int, key: str) -> None:
        assert bought(cheapest(self.MARKET, days)) == {key: 1}

    def test_soonest_is_the_last_parts_day_and_the_others_may_take_as_long(self) -> None:
        offers = [
            offer("belt", "30.00", "belt", days=5),
            offer("p-fast", "9.00", "plug", days=1),
            offer("p-slow", "4.00", "plug", days=5),
        ]
        basket = soonest(market([need("belt"), need("plug")], offers))
        assert bought(basket) == {"belt": 1, "p-slow": 1}
        assert basket.ready_days == 5

    def test_all_in_the_bin_is_here_at_once(self) -> None:
        full = market([need("plug")], list(self.OFFERS), stock=[Stock("plug", Decimal(1))])
        assert soonest(full).ready_days == 0

    def test_not_by_that_day(self) -> None:
        with pytest.raises(BasketError, match="“Plug” comes in 1 day at the soonest") as error:
            cheapest(self.MARKET, 0)
        assert error.value.lacks[0].soonest_days == 1


class TestEquals:
    """What tells baskets of one price apart."""

    def test_fewer_orders(self) -> None:
        offers = [
            offer("a", "4.00", "plug", "north"),
            offer("b", "6.00", "line", "north", days=5),
            offer("c", "6.00", "line", "ridge", days=1),
        ]
        assert bought(cheapest(market([need("plug"), need("line")], offers))) == {"a": 1, "b": 1}

    def test_then_fewer_leftovers(self) -> None:
        offers = [
            offer("a kit", "9.00", "plug, bulb", days=1),
            offer("plug", "9.00", "plug", days=6),
        ]
        assert bought(cheapest(market([need("plug")], offers))) == {"plug": 1}

    def test_then_sooner(self) -> None:
        offers = [offer("a", "9.00", "plug", days=6), offer("b", "9.00", "plug", "ridge", days=1)]
        assert bought(cheapest(market([need("plug")], offers))) == {"b": 1}

    def test_the_order_in_which_they_are_told_makes_no_difference(self) -> None:
        offers = [offer(f"o{at}", "9.00", "plug", f"s{at}") for at in range(6)]
        found = []
        for seed in range(4):
            Random(seed).shuffle(offers)
            found.append(bought(cheapest(market([need("plug", "2")], offers))))
        assert found == [found[0]] * 4


class TestImpossible:
    def test_nobody_offers_it(self) -> None:
        needs = [need("plug"), need("float"), need("bulb")]
        with pytest.raises(
            BasketError, match=r"Nobody offers “Float”.*Nobody offers “Bulb”"
        ) as error:
            cheapest(market(needs, [offer("plug", "3.00", "plug")]))
        assert reasons(error) == {"float": Why.NOBODY, "bulb": Why.NOBODY}

    def test_soonest_says_it_too(self) -> None:
        with pytest.raises(BasketError, match="Nobody offers “Float”"):
            soonest(market([need("float")], [offer("plug", "3.00", "plug")]))

    def test_only_in_a_worse_condition(self) -> None:
        used = offer("used", "3.00", "carb", condition=USED)
        with pytest.raises(
            BasketError, match="“Carb” is only offered used, and new is asked for"
        ) as error:
            cheapest(market([need("carb")], [used]))
        assert reasons(error) == {"carb": Why.CONDITION}

    def test_too_few(self) -> None:
        with pytest.raises(BasketError, match="Only 2 more of “Plug”") as error:
            cheapest(market([need("plug", "3")], [offer("sale", "3.00", "plug", most=2)]))
        assert reasons(error) == {"plug": Why.TOO_FEW}

    def test_too_few_by_then(self) -> None:
        offers = [offer("sale", "3.00", "plug", most=2), offer("slow", "3.00", "plug", days=9)]
        with pytest.raises(BasketError, match=r"Only 2 more of “Plug” can be had within 3 days"):
            cheapest(market([need("plug", "3")], offers), 3)

    def test_the_least_order_can_not_be_met(self) -> None:
        offers = [offer("sale", "3.00", "plug", most=2)]
        with pytest.raises(BasketError, match=r"North \(least order \$25\.00\)") as error:
            cheapest(market([need("plug")], offers, [supplier(least="25.00")]))
        assert reasons(error) == {"plug": Why.LEAST_ORDER}

    def test_a_need_for_new_ones_beside_one_for_any(self) -> None:
        needs = [need("carb", worst=NEW, key="new"), need("carb", worst=USED, key="any")]
        with pytest.raises(BasketError) as error:
            cheapest(market(needs, [offer("used", "3.00", "carb", condition=USED)]))
        assert reasons(error) == {"new": Why.CONDITION}


class TestRefused:
    @pytest.mark.parametrize("price", ["3.005", "-1.00", "NaN"])
    def test_a_price_that_is_none(self, price: str) -> None:
        with pytest.raises(MoneyError):
            market([need("plug")], [offer("a", price, "plug")])

    @pytest.mark.parametrize("quantity", ["0", "-1", "0.0005"])
    def test_a_quantity_that_is_none(self, quantity: str) -> None:
        with pytest.raises(MoneyError, match="“Plug”"):
            market([need("plug", quantity)], [])

    def test_a_float(self) -> None:
        with pytest.raises(TypeError, match="Decimal needed, got float"):
            market([Need("a", "a", "A", 1.5)], [])  # type: ignore[arg-type]

    def test_a_key_twice(self) -> None:
        with pytest.raises(ValueError, match="a key is given twice"):
            market([need("plug"), need("plug")], [])

    def test_an_unknown_supplier(self) -> None:
        with pytest.raises(ValueError, match="supplier vale"):
            market([need("plug")], [offer("a", "3.00", "plug", "vale")], [supplier("north")])


PARTS = ("plug", "filter", "line")
CENTS = st.integers(0, 4000).map(lambda cents: Decimal(cents) / 100)
SUMS = st.none() | st.integers(500, 6000).map(lambda cents: Decimal(cents) / 100)
PIECES = st.sampled_from([Decimal(1), Decimal(2), Decimal("0.5"), Decimal(4)])
TERMS = st.tuples(
    *(st.builds(Supplier, st.just(key), st.just(key), CENTS, SUMS, SUMS) for key in "ab")
)
OFFERS = st.lists(
    st.builds(
        Offer,
        key=st.integers(0, 999).map(str),
        supplier=st.sampled_from("ab"),
        title=st.just("An offer"),
        price=CENTS,
        contents=st.dictionaries(st.sampled_from(PARTS), PIECES, min_size=1).map(
            lambda held: tuple(held.items())
        ),
        lead_days=st.integers(0, 9),
        condition=st.sampled_from(Condition),
    ),
    max_size=8,
    unique_by=lambda one: one.key,
)
NEEDS = st.lists(
    st.tuples(st.sampled_from(PARTS), PIECES, st.sampled_from(Condition)), min_size=1, max_size=3
).map(lambda all: tuple(Need(str(at), p, p, q, w) for at, (p, q, w) in enumerate(all)))
LOTS = st.lists(
    st.builds(Stock, st.sampled_from(PARTS), PIECES, st.sampled_from(Condition)), max_size=2
)
SURE = tuple(
    Offer(f"sure {part}", "a", part, Decimal(50), ((part, Decimal(1)),), 5) for part in PARTS
)
MARKETS = st.builds(
    lambda needs, offers, terms, lots: Market(needs, (*offers, *SURE), terms, tuple(lots)),
    NEEDS,
    OFFERS,
    TERMS,
    LOTS,
)


@settings(max_examples=60, deadline=None)
@given(MARKETS, OFFERS)
def test_one_offer_more_never_makes_it_dearer(market: Market, more: list[Offer]) -> None:
    known = {one.key for one in market.offers}
    wider = market.holding([*market.offers, *(one for one in more if one.key not in known)])
    assert cheapest(wider).total <= cheapest(market).total


@settings(max_examples=60, deadline=None)
@given(MARKETS, LOTS)
def test_stock_never_makes_it_dearer(market: Market, more: list[Stock]) -> None:
    fuller = Market(market.needs, market.offers, market.suppliers, (*market.stock, *more))
    assert cheapest(fuller).total <= cheapest(market).total


@settings(max_examples=60, deadline=None)
@given(MARKETS, st.integers(0, 9))
def test_the_longer_one_can_wait_the_less_it_costs(market: Market, days: int) -> None:
    best, fast = cheapest(market), soonest(market)
    by_day = cheapest(market, max(days, fast.ready_days))
    assert best.total <= by_day.total <= fast.total
    assert fast.ready_days <= by_day.ready_days <= max(days, fast.ready_days)
    assert fast.ready_days <= best.ready_days


@settings(max_examples=60, deadline=None)
@given(MARKETS)
def test_every_need_gets_its_quantity_and_nothing_is_lost(market: Market) -> None:
    basket = cheapest(market)
    for need in market.needs:
        shares = [share for share in basket.shares if share.need == need.key]
        assert sum(share.quantity for share in shares) == need.quantity
        assert all(share.condition in need.worst.as_good for share in shares)
    for part in PARTS:
        came = sum(
            quantity * pick.packs
            for pick in basket.picks
            for name, quantity in pick.offer.contents
            if name == part
        )
        used = sum(share.quantity for share in basket.shares if share.part == part and share.offer)
        over = sum(one.quantity for one in basket.leftovers if one.part == part)
        assert came == used + over
    assert isinstance(basket.total, Decimal)
    assert basket.total.as_tuple().exponent == -2

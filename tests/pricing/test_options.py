from decimal import Decimal
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.options import GoingOn, Prospects, Suspect, per_hour, prospects

D = Decimal
SUSPECTS = (
    Suspect("diaphragm", D("0.6"), D("40.00")),
    Suspect("line", D("0.3"), D("25.00")),
    Suspect("something else", D("0.1"), D("30.00")),
)
ON = GoingOn(("line",), D("120.00"))


def test_what_the_first_fix_cures_costs_its_price_and_the_rest_what_follows() -> None:
    found = prospects(D("40.00"), frozenset({"diaphragm"}), SUSPECTS, ON)
    assert found == Prospects(
        chance=D("0.6"),
        expected=D("65.00"),  # .6 × 40 + .3 × (40 + 25) + .1 × (40 + 25 + 120 + 30)
        worst=D("215.00"),
    )


def test_a_kit_that_takes_in_the_next_cause_is_never_paid_for_twice() -> None:
    found = prospects(D("49.00"), frozenset({"diaphragm", "line"}), SUSPECTS, ON)
    assert found == Prospects(D("0.9"), D("64.00"), D("199.00"))


def test_what_cures_all_costs_its_price_and_no_more() -> None:
    every = frozenset(one.key for one in SUSPECTS)
    assert prospects(D("90.00"), every, SUSPECTS, ON) == Prospects(D(1), D("90.00"), D("90.00"))


def test_a_first_fix_that_cures_nothing_is_paid_for_on_top() -> None:
    nothing = prospects(D("10.00"), frozenset(), SUSPECTS, ON)
    assert nothing.chance == 0
    assert nothing.worst == D("195.00")  # 10 + 25 + 120 + 40


def test_the_search_finds_causes_that_were_never_tried() -> None:
    found = prospects(D("40.00"), frozenset({"diaphragm"}), SUSPECTS, GoingOn((), D("120.00")))
    assert found.expected == D("98.50")  # .6 × 40 + .3 × (40 + 120 + 25) + .1 × (40 + 120 + 30)
    assert found.worst == D("190.00")


def test_the_worst_case_leaves_out_what_is_rarer_than_asked_for() -> None:
    first = frozenset({"diaphragm"})
    assert prospects(D("40.00"), first, SUSPECTS, ON, worst_from=D("0.2")).worst == D("65.00")
    assert prospects(D("40.00"), first, SUSPECTS, ON, worst_from=D("0.1")).worst == D("215.00")


def test_the_worst_case_is_never_below_the_average_that_rare_causes_bring_up() -> None:
    suspects = (
        Suspect("carburettor", D("0.991"), D("82.00")),
        Suspect("crankshaft", D("0.009"), D("300.00")),
    )
    first = frozenset({"carburettor"})
    found = prospects(D("82.00"), first, suspects, GoingOn(), worst_from=D("0.01"))
    assert found.expected == D("84.70")  # .991 × 82 + .009 × (82 + 300)
    assert found.worst == found.expected


def test_a_cause_that_cannot_be_counts_for_nothing() -> None:
    suspects = (*SUSPECTS, Suspect("seized", D(0), D("900.00")))
    first = frozenset({"diaphragm"})
    assert prospects(D("40.00"), first, suspects, ON) == prospects(D("40.00"), first, SUSPECTS, ON)


@pytest.mark.parametrize("chances", [("0.5", "0.4"), ("0.7", "0.4"), ("1.1", "-0.1")])
def test_chances_that_do_not_come_to_one_are_refused(chances: tuple[str, str]) -> None:
    suspects = [Suspect(key, D(chance), D(1)) for key, chance in zip("ab", chances, strict=True)]
    with pytest.raises(MoneyError, match="must come to 1"):
        prospects(D(1), frozenset(), suspects, GoingOn())


@pytest.mark.parametrize(
    ("price", "probability", "own", "search"),
    [
        (1.0, D(1), D(1), D(1)),
        (D(1), 1.0, D(1), D(1)),
        (D(1), D(1), 1.0, D(1)),
        (D(1), D(1), D(1), 1.0),
    ],
)
def test_no_float_comes_near_money(
    price: Decimal, probability: Decimal, own: Decimal, search: Decimal
) -> None:
    with pytest.raises(TypeError):
        prospects(price, frozenset(), [Suspect("a", probability, own)], GoingOn((), search))


def test_the_cost_of_an_hour_of_life_is_in_whole_cents() -> None:
    assert per_hour(D("64.50"), D("66")) == D("0.98")
    assert per_hour(D("64.50"), None) is None


cases = st.lists(
    st.tuples(st.integers(1, 60), st.integers(0, 20_000)), min_size=2, max_size=6
).flatmap(
    lambda pairs: st.tuples(
        st.just(pairs),
        st.sets(st.integers(0, len(pairs) - 1)),
        st.permutations(range(len(pairs) - 1)).flatmap(
            lambda order: st.integers(0, len(pairs) - 1).map(lambda n: tuple(order[:n]))
        ),
        st.integers(0, 20_000),
        st.integers(0, 20_000),
    )
)


@given(cases)
def test_it_is_what_walking_through_every_cause_comes_to(
    case: tuple[list[tuple[int, int]], set[int], tuple[int, ...], int, int],
) -> None:
    """Full enumeration: each cause in turn is the one, and the bench goes its way until it runs."""
    pairs, cured, tries, price_now, search = case
    whole = sum(weight for weight, _ in pairs)
    walked = [_walk(cause, pairs, cured, tries, price_now, search) for cause in range(len(pairs))]
    exactly = sum(weight * cents for (weight, _), cents in zip(pairs, walked, strict=True))
    suspects = _suspects(pairs)
    found = prospects(
        D(price_now) / 100,
        frozenset(str(n) for n in cured),
        suspects,
        GoingOn(tuple(str(n) for n in tries), D(search) / 100),
    )
    assert abs(found.expected - D(exactly) / whole / 100) <= D("0.0051")
    assert found.worst == D(max(walked)) / 100


@given(cases, st.integers(0, 1000))
def test_the_worst_is_no_less_than_the_average_and_that_no_less_than_the_price_now(
    case: tuple[list[tuple[int, int]], set[int], tuple[int, ...], int, int], worst_from: int
) -> None:
    pairs, cured, tries, price_now, search = case
    found = prospects(
        D(price_now) / 100,
        frozenset(str(n) for n in cured),
        _suspects(pairs),
        GoingOn(tuple(str(n) for n in tries), D(search) / 100),
        D(worst_from) / 1000,
    )
    assert found.worst >= found.expected >= D(price_now) / 100


def _suspects(pairs: list[tuple[int, int]]) -> list[Suspect]:
    whole = sum(weight for weight, _ in pairs)
    shares = [(D(weight) / whole).quantize(D("1E-12")) for weight, _ in pairs]
    shares[-1] += 1 - sum(shares)
    return [Suspect(str(n), shares[n], D(cents) / 100) for n, (_, cents) in enumerate(pairs)]


def _walk(
    cause: int,
    pairs: list[tuple[int, int]],
    cured: set[int],
    tries: tuple[int, ...],
    price_now: int,
    search: int,
) -> int:
    """What is paid, in cents, until the machine runs when `cause` is the one."""
    paid = price_now
    if cause in cured:
        return paid
    for fix in tries:
        if fix in cured:
            continue
        paid += pairs[fix][1]
        if fix == cause:
            return paid
    return paid + search + pairs[cause][1]


def test_the_order_that_is_handed_in_is_the_one_that_is_gone() -> None:
    suspects = [
        Suspect("a", D("0.5"), D(10)), Suspect("b", D("0.3"), D(2)), Suspect("c", D("0.2"), D(5))
    ]  # fmt: skip
    costs = {
        order: prospects(D(0), frozenset(), suspects, GoingOn(order)).expected
        for order in permutations("abc")
    }
    assert min(costs, key=costs.__getitem__) == ("b", "a", "c")

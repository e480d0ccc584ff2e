"""No float comes near money: each function of the pricing rooms that takes an amount refuses it."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal
from types import ModuleType
from typing import Any, get_type_hints

import pytest

import shopdesk.pricing
from shopdesk.pricing.allowance import ExcessRule
from shopdesk.pricing.labour import TenthRule
from shopdesk.pricing.money import round_money
from shopdesk.pricing.tax import LineKind, TaxBasis, TaxRate, TaxRule

NO_MONEY = {"typed_number", "basket", "basket_model", "basket_lack", "options", "market"}
"""Rooms whose amounts are tested where they are: what was typed, baskets and ways out."""
SAMPLES: dict[Any, Any] = {
    Decimal: Decimal("10.00"),
    TaxBasis: TaxBasis.LINE,
    TenthRule: TenthRule.UP,
    ExcessRule: ExcessRule(percent=Decimal(10)),
    LineKind: LineKind.PART,
    TaxRule: TaxRule(TaxBasis.LINE),
    TaxRate: TaxRate("State", Decimal(5)),
    str: "Electrical",
    bool: False,
}


def modules() -> Iterator[ModuleType]:
    for found in pkgutil.iter_modules(shopdesk.pricing.__path__):
        if not found.name.startswith(tuple(NO_MONEY)):
            yield importlib.import_module(f"shopdesk.pricing.{found.name}")


def takers() -> Iterator[tuple[str, Callable[..., Any], dict[str, Any], str]]:
    """Each public function and each amount that it takes, with the other arguments filled in."""
    for module in modules():
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if name.startswith("_") or function.__module__ != module.__name__:
                continue
            hints = get_type_hints(function)
            hints.pop("return", None)
            known = {one: SAMPLES[kind] for one, kind in hints.items() if kind in SAMPLES}
            for one, kind in hints.items():
                if kind is Decimal and known.keys() >= _needed(function):
                    yield f"{module.__name__}.{name}({one})", function, known, one


def _needed(function: Callable[..., Any]) -> set[str]:
    parameters = inspect.signature(function).parameters.values()
    return {one.name for one in parameters if one.default is inspect.Parameter.empty}


CASES = list(takers())


def test_the_walk_finds_the_functions_that_take_amounts() -> None:
    found = {case[0] for case in CASES}
    assert {
        "shopdesk.pricing.money.round_money(amount)",
        "shopdesk.pricing.tax.tax_on(base)",
        "shopdesk.pricing.tax.tax_on(percent)",
        "shopdesk.pricing.tax.tax_within(price)",
        "shopdesk.pricing.totals.line_net(quantity)",
        "shopdesk.pricing.totals.line_net(unit_price)",
        "shopdesk.pricing.percentages.percent_of(amount)",
        "shopdesk.pricing.allowance.most_allowed(approved)",
        "shopdesk.pricing.part_price.price_from_margin(cost)",
    } <= found


@pytest.mark.parametrize(
    ("function", "known", "one"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_a_float_is_refused(function: Callable[..., Any], known: dict[str, Any], one: str) -> None:
    function(**known)
    with pytest.raises(TypeError):
        function(**{**known, one: 10.0})


@pytest.mark.parametrize("value", [0.1, 1, "1", None])
def test_only_a_decimal_is_rounded(value: object) -> None:
    with pytest.raises(TypeError, match="Decimal needed"):
        round_money(value)  # type: ignore[arg-type]


def test_nothing_that_pricing_hands_out_is_typed_as_a_float() -> None:
    for module in modules():
        for name, kind in inspect.getmembers(module, is_dataclass):
            hints = get_type_hints(kind)
            assert all(hints[one.name] is not float for one in fields(kind)), name

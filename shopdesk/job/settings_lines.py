"""Settings of which there are several, typed one to a line: tax and labour rates, markups, prices.

Each has a function that reads what was typed, and one that writes it as it would be typed.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TypeVar

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shop import LabourRate
from shopdesk.job.units import KINDS
from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.part_price import MarkupBand, price_from_bands
from shopdesk.pricing.totals import LineKind, TaxRate
from shopdesk.pricing.typed_number import show_number

MOST_LINES = 40
MOST_MARKUP = 1000
TAX_RATES, LABOUR_RATES, MARKUPS, PRICES = "tax_rates", "labour_rates", "part_markups", "prices_new"
TAXABLE = {
    LineKind.PART: ("part", "parts"),
    LineKind.LABOUR: ("labour", "labor"),
    LineKind.FEE: ("fee", "fees"),
    LineKind.SUBLET: ("sublet", "sublet work"),
}
"""What a rate can be on, as people type it."""
_RATE = re.compile(
    r"(?P<name>.*?)[\s:]*(?P<percent>[-−–+]?\s*[\d.,]+\s*%?)(?:\s+on\s+(?P<kinds>.+))?", re.I
)
_NAMED_AMOUNT = re.compile(r"(?P<name>.*?\S)[\s:]+(?P<amount>\S+)")
_BAND = re.compile(
    r"(?:up\s+to\s+(?P<up_to>.+?)|(?:all|anything|everything)?\s*above)\s*[:\s]\s*"
    r"(?P<markup>[\d.,]+)\s*%?",
    re.I,
)
_AND = re.compile(r"\s*(?:,|;|&|\+|\band\b)\s*", re.I)
Kinds = Mapping[str, frozenset[LineKind]]
Named = TypeVar("Named")


def read_tax_rates(text: str) -> tuple[tuple[TaxRate, ...], dict[str, frozenset[LineKind]]]:
    """Return the rates, and by name what one is on where that is said: ``City 1.5 on part``."""
    read = [_tax_rate(line) for line in _lines(text, TAX_RATES, "The tax rates")]
    rates = tuple(rate for rate, _ in read)
    _refuse_twice([rate.name for rate in rates], TAX_RATES, "tax rates")
    if sum(rate.percent for rate in rates) > 100:
        raise JobError("The tax rates add up to more than 100 %: check them.", TAX_RATES)
    return rates, {rate.name: kinds for rate, kinds in read if kinds}


def show_tax_rates(rates: Iterable[TaxRate], kinds: Kinds) -> str:
    """Return the rates as they would be typed."""
    return "\n".join(
        " on ".join(filter(None, (f"{rate.name} {show_number(rate.percent)}", _kind_words(on))))
        for rate in rates
        for on in [kinds.get(rate.name, frozenset())]
    )


def read_labour_rates(text: str) -> tuple[LabourRate, ...]:
    """Return the rates beside the bench rate: ``Electrical 85.00``."""
    rates = _named_amounts(text, LABOUR_RATES, "The labour rates", "Electrical 85.00", LabourRate)
    _refuse_twice([rate.name for rate in rates], LABOUR_RATES, "labour rates")
    return rates


def show_labour_rates(rates: Iterable[LabourRate]) -> str:
    """Return the rates as they would be typed."""
    return "\n".join(f"{rate.name} {rate.hourly}" for rate in rates)


def read_markups(text: str) -> tuple[MarkupBand, ...]:
    """Return the bands: ``up to 10.00: 100 %``, the last of them ``all above: 30 %``."""
    bands = tuple(_band(line) for line in _lines(text, MARKUPS, "The markups"))
    if bands:
        try:
            price_from_bands(Decimal(0), bands)
        except MoneyError as error:
            raise JobError(str(error), MARKUPS) from error
    return bands


def show_markups(bands: Iterable[MarkupBand]) -> str:
    """Return the bands as they would be typed."""
    return "\n".join(
        f"{'all above' if band.up_to is None else f'up to {band.up_to}'}:"
        f" {show_number(band.markup)} %"
        for band in bands
    )


def read_prices_new(text: str) -> dict[str, Decimal]:
    """Return by kind of machine what a new one costs: ``string trimmer 189.00``."""
    pairs = _named_amounts(
        text, PRICES, "The prices of new machines", "string trimmer 189.00", _machine_price
    )
    _refuse_twice([kind for kind, _ in pairs], PRICES, "prices")
    return dict(pairs)


def show_prices_new(prices: Mapping[str, Decimal]) -> str:
    """Return the prices as they would be typed."""
    return "\n".join(f"{kind} {price}" for kind, price in prices.items())


def _tax_rate(line: str) -> tuple[TaxRate, frozenset[LineKind]]:
    match = _RATE.fullmatch(line)
    if match is None:
        raise JobError(
            f"“{line}” is no tax rate: type a name and a percentage, such as State 6.875, "
            "or City 1.5 on part, labour.",
            TAX_RATES,
        )
    name = typed.line(match["name"], TAX_RATES, "The name of the tax") or "Sales tax"
    return TaxRate(name, typed.percent(match["percent"], TAX_RATES)), _kinds(match["kinds"] or "")


def _kinds(words: str) -> frozenset[LineKind]:
    return frozenset(_kind(word) for word in _AND.split(words.strip()) if word)


def _kind(word: str) -> LineKind:
    for kind, names in TAXABLE.items():
        if word.casefold() in names:
            return kind
    known = ", ".join(TAXABLE)
    raise JobError(f"A tax can't be on “{word[:40]}”: name some of {known}.", TAX_RATES)


def _kind_words(kinds: frozenset[LineKind]) -> str:
    return ", ".join(kind for kind in TAXABLE if kind in kinds)


def _band(line: str) -> MarkupBand:
    match = _BAND.fullmatch(line)
    if match is None:
        raise JobError(
            f"“{line}” is no markup: type lines such as up to 10.00: 100 %, "
            "and last all above: 30 %.",
            MARKUPS,
        )
    up_to = None if match["up_to"] is None else typed.money(match["up_to"].rstrip(" :"), MARKUPS)
    return MarkupBand(up_to, _markup(match["markup"]))


def _markup(text: str) -> Decimal:
    """Return a markup, which unlike a tax may be over 100 percent."""
    markup = typed.quantity(text, MARKUPS) if text.strip("0.,") else Decimal(0)
    if markup > MOST_MARKUP:
        raise JobError(f"A markup of {text} % is over {MOST_MARKUP} %: check it.", MARKUPS)
    return markup


def _machine_price(kind: str, price: Decimal) -> tuple[str, Decimal]:
    known = next((one for one in KINDS if one == kind.casefold()), kind)
    return known, price


def _named_amounts(
    text: str, field: str, what: str, example: str, make: Callable[[str, Decimal], Named]
) -> tuple[Named, ...]:
    return tuple(
        _named_amount(line, field, what, example, make) for line in _lines(text, field, what)
    )


def _named_amount(
    line: str, field: str, what: str, example: str, make: Callable[[str, Decimal], Named]
) -> Named:
    match = _NAMED_AMOUNT.fullmatch(line)
    if match is None:
        raise JobError(f"“{line}” is no name with an amount: type lines such as {example}.", field)
    name = typed.line(match["name"].rstrip(" :"), field, f"A name in {what.lower()}", needed=True)
    return make(name, typed.money(match["amount"], field))


def _lines(text: str, field: str, what: str) -> list[str]:
    lines = [line.strip() for line in typed.text(text, field, what).splitlines() if line.strip()]
    if len(lines) > MOST_LINES:
        raise JobError(f"{what} are over {MOST_LINES} lines: keep the ones in use.", field)
    return lines


def _refuse_twice(names: Sequence[str], field: str, what: str) -> None:
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            raise JobError(f"Two {what} have the same name, “{name}”: give each its own.", field)
        seen.add(name.casefold())

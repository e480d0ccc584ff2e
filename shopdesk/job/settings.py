"""The shop's particulars as typed at the first run, and changed later in the settings."""

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal

from tzlocal import get_localzone_name

from shopdesk.bench.altitude import HIGHEST_M, LOWEST_M
from shopdesk.dates import DateError, as_utc
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shift import Shift, clock, save_shop
from shopdesk.job.shop import PAPERS, Shop
from shopdesk.pricing.allowance import PRESETS, ExcessRule
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import LineKind, TaxBasis, TaxRate
from shopdesk.pricing.typed_number import decimal_number, show_number, without_thousands

EXCESS_RULES = tuple(PRESETS)
DAY_ORDERS = ("month first", "day first")
_LETTER_ZONES = ("America/", "US/", "Pacific/Honolulu", "Canada/")
METRES_IN_A_FOOT = Decimal("0.3048")
_ALTITUDE = re.compile(
    r"(?P<below>[-−]?)\s*(?P<number>\d[\d., ]*?)\s*(?P<unit>m|metres?|meters?|ft|feet|foot|')?",
    re.I,
)
_RATE = re.compile(r"(?P<name>.*?)[\s:]*(?P<percent>[-−–+]?\s*[\d.,]+\s*%?)")


@dataclass(frozen=True, slots=True)
class ShopEntry:
    """The shop as typed. Tax rates one to a line: ``State 6.875``; altitude in ``m`` or ``ft``."""

    name: str
    address: str = ""
    phone: str = ""
    email: str = ""
    tax_number: str = ""
    currency: str = "$"
    paper: str = "letter"
    zone: str = "UTC"
    day_order: str = "month first"
    altitude: str = "0 m"
    bench_rate: str = "60.00"
    diagnosis_fee: str = "35.00"
    tax_rates: str = ""
    taxed: tuple[str, ...] = ("part", "labour", "fee", "discount")
    tax_basis: str = "invoice"
    excess: str = "10 percent"
    estimate_days: str = "30"
    warranty_days: str = "90"
    turnaround_days: str = "7"


def set_up_shop(shift: Shift, entry: ShopEntry) -> Shop:
    """Keep the shop's particulars, new or changed. Raises ``JobError`` at the wrong field."""
    return save_shop(
        shift,
        Shop(
            name=typed.line(entry.name, "name", "The shop's name", needed=True),
            address=typed.text(entry.address, "address", "The address"),
            phone=typed.line(entry.phone, "phone", "The phone number"),
            email=typed.email(entry.email, "email"),
            tax_number=typed.line(entry.tax_number, "tax_number", "The tax number"),
            currency=_currency(entry.currency),
            paper=typed.choice(entry.paper, "paper", PAPERS, "The paper size", needed=True),
            zone=_zone(entry.zone),
            day_first=_day_first(entry.day_order),
            altitude_m=_altitude(entry.altitude),
            bench_rate=typed.money(entry.bench_rate, "bench_rate"),
            diagnosis_fee=typed.money(entry.diagnosis_fee, "diagnosis_fee"),
            tax_rates=_tax_rates(entry.tax_rates),
            taxed=_taxed(entry.taxed),
            tax_basis=TaxBasis(
                typed.choice(
                    entry.tax_basis,
                    "tax_basis",
                    list(TaxBasis),
                    "Where tax is rounded",
                    needed=True,
                )
            ),
            excess=_excess(entry.excess),
            estimate_days=_days(entry.estimate_days, "estimate_days"),
            warranty_days=_days(entry.warranty_days, "warranty_days"),
            turnaround_days=_days(entry.turnaround_days, "turnaround_days"),
        ),
    )


def first_entry() -> ShopEntry:
    """Return what the first run offers, guessed from this computer's time zone."""
    zone = get_localzone_name() or "UTC"
    american = zone.startswith(_LETTER_ZONES)
    return ShopEntry(
        name="",
        zone=zone,
        paper="letter" if american else "A4",
        day_order=DAY_ORDERS[0] if american else DAY_ORDERS[1],
    )


def as_entry(shop: Shop) -> ShopEntry:
    """Return the shop as it would be typed, for changing it."""
    return ShopEntry(
        name=shop.name,
        address=shop.address,
        phone=shop.phone,
        email=shop.email,
        tax_number=shop.tax_number,
        currency=shop.currency,
        paper=shop.paper,
        zone=shop.zone,
        day_order=DAY_ORDERS[shop.day_first],
        altitude=f"{show_number(shop.altitude_m)} m",
        bench_rate=show_money(shop.bench_rate, ""),
        diagnosis_fee=show_money(shop.diagnosis_fee, ""),
        tax_rates="\n".join(f"{rate.name} {show_number(rate.percent)}" for rate in shop.tax_rates),
        taxed=tuple(kind.value for kind in LineKind if kind in shop.taxed),
        tax_basis=shop.tax_basis.value,
        excess=next(
            (name for name, rule in PRESETS.items() if rule == shop.excess), EXCESS_RULES[0]
        ),
        estimate_days=str(shop.estimate_days),
        warranty_days=str(shop.warranty_days),
        turnaround_days=str(shop.turnaround_days),
    )


def _currency(typed_sign: str) -> str:
    sign = typed.line(typed_sign, "currency", "The currency sign", needed=True)
    if len(sign) > 4 or not all(char in "." or _is_of_a_sign(char) for char in sign):
        raise JobError(f"“{sign}” is no currency sign: type one such as $, € or CHF.", "currency")
    return sign


def _is_of_a_sign(char: str) -> bool:
    return char.isalpha() or unicodedata.category(char) == "Sc"


def _zone(typed_zone: str) -> str:
    zone = typed.line(typed_zone, "zone", "The time zone", needed=True)
    try:
        as_utc(clock().replace(tzinfo=None), zone)
    except DateError as error:
        raise JobError(str(error), "zone") from error
    return zone


def _day_first(order: str) -> bool:
    chosen = typed.choice(order, "day_order", DAY_ORDERS, "The order of day and month", needed=True)
    return chosen == DAY_ORDERS[1]


def _altitude(typed_altitude: str) -> Decimal:
    altitude = typed.line(typed_altitude, "altitude", "The altitude") or "0"
    match = _ALTITUDE.fullmatch(altitude)
    number = decimal_number(without_thousands(match["number"])) if match else None
    if match is None or number is None:
        raise JobError(f"“{altitude}” is no altitude: type it like 1609 m or 5280 ft.", "altitude")
    feet = (match["unit"] or "m").casefold()[0] in "f'"
    height = number * METRES_IN_A_FOOT if feet else number
    metres = (-height if match["below"] else height).quantize(Decimal("0.1"))
    if not LOWEST_M <= metres <= HIGHEST_M:
        raise JobError(
            f"Readings can't be judged at {metres:,} m: type the shop's height above the sea, "
            f"{LOWEST_M} to {HIGHEST_M} m.",
            "altitude",
        )
    return metres


def _tax_rates(typed_rates: str) -> tuple[TaxRate, ...]:
    lines = typed.text(typed_rates, "tax_rates", "The tax rates").splitlines()
    rates = tuple(_tax_rate(line) for line in lines if line.strip())
    if len({rate.name for rate in rates}) < len(rates):
        raise JobError("Two tax rates have the same name: give each its own.", "tax_rates")
    if sum(rate.percent for rate in rates) > 100:
        raise JobError("The tax rates add up to more than 100 %: check them.", "tax_rates")
    return rates


def _tax_rate(line: str) -> TaxRate:
    match = _RATE.fullmatch(line.strip())
    if match is None:
        raise JobError(
            f"“{line.strip()}” is no tax rate: type a name and a percentage, such as State 6.875.",
            "tax_rates",
        )
    name = typed.line(match["name"], "tax_rates", "The name of the tax") or "Sales tax"
    return TaxRate(name, typed.percent(match["percent"], "tax_rates"))


def _taxed(kinds: tuple[str, ...]) -> frozenset[LineKind]:
    chosen = [
        typed.choice(kind, "taxed", list(LineKind), "What is taxed", needed=True) for kind in kinds
    ]
    return frozenset(LineKind(kind) for kind in chosen)


def _excess(name: str) -> ExcessRule:
    return PRESETS[
        typed.choice(
            name, "excess", EXCESS_RULES, "The rule for going over an estimate", needed=True
        )
    ]


def _days(typed_days: str, field: str) -> int:
    days = typed.line(typed_days, field, "The number of days")
    if not (days.isascii() and days.isdecimal()) or int(days) > 3650:
        raise JobError(f"“{days}” is no number of days: type a whole number up to 3650.", field)
    return int(days)

"""The shop's particulars and rules as typed at the first run, and changed later in the settings."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields
from decimal import Decimal

from tzlocal import get_localzone_name

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.invoices.e_invoicing import refuse_unfit
from shopdesk.job.settings_excess import EXCESS_RULES as EXCESS_RULES
from shopdesk.job.settings_excess import TypedExcess, read_excess, show_excess
from shopdesk.job.settings_lines import (
    read_labour_rates,
    read_markups,
    read_prices_new,
    read_tax_rates,
    show_labour_rates,
    show_markups,
    show_prices_new,
    show_tax_rates,
)
from shopdesk.job.settings_place import (
    DAY_ORDERS,
    read_altitude,
    read_code,
    read_currency,
    read_day_first,
    read_zone,
)
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import PAPERS, Shop, Supplies
from shopdesk.pricing.labour import TenthRule
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import LineKind, TaxBasis
from shopdesk.pricing.typed_number import show_number

SUPPLIES_OF = (LineKind.PART, LineKind.LABOUR)
"""What the shop supplies can be a percentage of: never of a fee, so that a no costs no more."""
_LETTER_ZONES = ("America/", "US/", "Pacific/Honolulu", "Canada/")


@dataclass(frozen=True, slots=True)
class ShopEntry:
    """The shop as typed; ``settings_lines`` says how the fields of several lines are typed."""

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
    labour_rates: str = ""
    tenths: str = "nearest"
    credit_diagnosis: bool = False
    supplies_percent: str = ""
    supplies_cap: str = ""
    supplies_of: tuple[str, ...] = ("labour",)
    disposal_fee: str = ""
    part_margin: str = ""
    part_markups: str = ""
    tax_included: bool = False
    currency_code: str = "USD"
    country: str = "US"
    e_invoice: bool = False
    part_warranty_days: str = ""
    storage_per_day: str = ""
    storage_after_days: str = "30"
    prices_new: str = ""
    bench_hours_per_day: str = "6"
    southern: bool = False
    excess_percent: str = ""
    """Of an own rule, as the three after it."""
    excess_fixed: str = ""
    excess_which: str = ""
    excess_cap: str = ""


def set_up_shop(shift: Shift, entry: ShopEntry) -> Shop:
    """Keep the shop's particulars, new or changed. Raises ``JobError`` at the wrong field."""
    shop = read_shop(entry)
    refuse_unfit(shop)
    return save_shop(shift, shop)


def read_shop(entry: ShopEntry) -> Shop:
    """Return what is typed as the shop; raises ``JobError`` at the wrong field."""
    rates, tax_kinds = read_tax_rates(entry.tax_rates)
    return Shop(
        name=typed.line(entry.name, "name", "The shop's name", needed=True),
        address=typed.text(entry.address, "address", "The address"),
        phone=typed.line(entry.phone, "phone", "The phone number"),
        email=typed.email(entry.email, "email"),
        tax_number=typed.line(entry.tax_number, "tax_number", "The tax number"),
        currency=read_currency(entry.currency),
        paper=typed.choice(entry.paper, "paper", PAPERS, "The paper size", needed=True),
        zone=read_zone(entry.zone),
        day_first=read_day_first(entry.day_order),
        altitude_m=read_altitude(entry.altitude),
        bench_rate=typed.money(entry.bench_rate, "bench_rate"),
        diagnosis_fee=typed.money(entry.diagnosis_fee, "diagnosis_fee"),
        tax_rates=rates,
        taxed=_kinds(entry.taxed, "taxed", "What is taxed", LineKind),
        tax_basis=_basis(entry.tax_basis),
        excess=read_excess(_excess(entry)),
        estimate_days=_days(entry.estimate_days, "estimate_days"),
        warranty_days=_days(entry.warranty_days, "warranty_days"),
        turnaround_days=_days(entry.turnaround_days, "turnaround_days"),
        bench_hours_per_day=_hours_a_day(entry.bench_hours_per_day),
        labour_rates=read_labour_rates(entry.labour_rates),
        tenths=_tenths(entry.tenths),
        credit_diagnosis=entry.credit_diagnosis,
        supplies=_supplies(entry),
        disposal_fee=_money_or_none(entry.disposal_fee, "disposal_fee"),
        part_margin=_margin(entry.part_margin),
        part_markups=read_markups(entry.part_markups),
        tax_kinds=tax_kinds,
        tax_included=entry.tax_included,
        currency_code=read_code(
            entry.currency_code, "currency_code", "The currency's code", 3, "USD or EUR"
        ),
        country=read_code(entry.country, "country", "The country's code", 2, "US or DE"),
        e_invoice=entry.e_invoice,
        part_warranty_days=_days(entry.part_warranty_days, "part_warranty_days")
        if entry.part_warranty_days.strip()
        else None,
        storage_per_day=_money_or_none(entry.storage_per_day, "storage_per_day"),
        storage_after_days=_days(entry.storage_after_days, "storage_after_days"),
        prices_new=read_prices_new(entry.prices_new),
        southern=entry.southern,
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
        tax_rates=show_tax_rates(shop.tax_rates, shop.tax_kinds),
        taxed=_named(shop.taxed),
        tax_basis=shop.tax_basis.value,
        **asdict(show_excess(shop.excess)),
        estimate_days=str(shop.estimate_days),
        warranty_days=str(shop.warranty_days),
        turnaround_days=str(shop.turnaround_days),
        labour_rates=show_labour_rates(shop.labour_rates),
        tenths=shop.tenths.value,
        credit_diagnosis=shop.credit_diagnosis,
        supplies_percent=show_number(shop.supplies.percent) if shop.supplies.percent else "",
        supplies_cap="" if shop.supplies.cap is None else show_money(shop.supplies.cap, ""),
        supplies_of=_named(shop.supplies.of),
        disposal_fee=_shown(shop.disposal_fee),
        part_margin="" if shop.part_margin is None else show_number(shop.part_margin),
        part_markups=show_markups(shop.part_markups),
        tax_included=shop.tax_included,
        currency_code=shop.currency_code,
        country=shop.country,
        e_invoice=shop.e_invoice,
        part_warranty_days="" if shop.part_warranty_days is None else str(shop.part_warranty_days),
        storage_per_day=_shown(shop.storage_per_day),
        storage_after_days=str(shop.storage_after_days),
        prices_new=show_prices_new(shop.prices_new),
        bench_hours_per_day=show_number(shop.bench_hours_per_day),
        southern=shop.southern,
    )


def _excess(entry: ShopEntry) -> TypedExcess:
    return TypedExcess(**{one.name: getattr(entry, one.name) for one in fields(TypedExcess)})


def _basis(basis: str) -> TaxBasis:
    return TaxBasis(
        typed.choice(basis, "tax_basis", list(TaxBasis), "Where tax is rounded", needed=True)
    )


def _tenths(rule: str) -> TenthRule:
    return TenthRule(
        typed.choice(rule, "tenths", list(TenthRule), "Which tenth is billed", needed=True)
    )


def _supplies(entry: ShopEntry) -> Supplies:
    percent = (
        typed.percent(entry.supplies_percent, "supplies_percent")
        if entry.supplies_percent.strip()
        else Decimal(0)
    )
    of = _kinds(entry.supplies_of, "supplies_of", "What supplies are taken of", SUPPLIES_OF)
    if percent and not of:
        raise JobError(
            "Shop supplies are a percentage of nothing: tick parts, labour, or both.",
            "supplies_percent",
        )
    return Supplies(percent, of, typed.optional_money(entry.supplies_cap, "supplies_cap"))


def _margin(margin: str) -> Decimal | None:
    if not margin.strip():
        return None
    percent = typed.percent(margin, "part_margin")
    if percent == 100:
        raise JobError("A margin of 100 % has no price: type less than 100.", "part_margin")
    return percent


def _kinds(
    kinds: Iterable[str], field: str, what: str, choices: Iterable[str]
) -> frozenset[LineKind]:
    known = list(choices)
    return frozenset(
        LineKind(typed.choice(kind, field, known, what, needed=True)) for kind in kinds
    )


def _named(kinds: frozenset[LineKind]) -> tuple[str, ...]:
    return tuple(kind.value for kind in LineKind if kind in kinds)


def _money_or_none(amount: str, field: str) -> Decimal:
    return typed.optional_money(amount, field) or Decimal("0.00")


def _shown(amount: Decimal) -> str:
    return show_money(amount, "") if amount else ""


def _hours_a_day(hours: str) -> Decimal:
    number = typed.quantity(hours, "bench_hours_per_day")
    if number > 24:
        raise JobError(f"A day has 24 hours, not {hours.strip()}.", "bench_hours_per_day")
    return number


def _days(typed_days: str, field: str) -> int:
    days = typed.line(typed_days, field, "The number of days")
    if not (days.isascii() and days.isdecimal()) or int(days) > 3650:
        raise JobError(f"“{days}” is no number of days: type a whole number up to 3650.", field)
    return int(days)

"""The shop's particulars and its rules: what the first run asks for and the settings change."""

from dataclasses import dataclass, field
from decimal import Decimal

from shopdesk.pricing.allowance import ExcessRule
from shopdesk.pricing.labour import TenthRule
from shopdesk.pricing.part_price import MarkupBand
from shopdesk.pricing.totals import LineKind, TaxBasis, TaxRate

TAXED = frozenset({LineKind.PART, LineKind.LABOUR, LineKind.FEE, LineKind.DISCOUNT})
"""What is taxed until the shop says otherwise; a taxed discount lowers what the tax is taken on."""
PAPERS = ("letter", "A4")


@dataclass(frozen=True, slots=True)
class LabourRate:
    """A further rate for an hour at the bench, such as for electrical work."""

    name: str
    hourly: Decimal


@dataclass(frozen=True, slots=True)
class Supplies:
    """Small stuff that no line counts, charged as a percentage of labour or parts up to a cap."""

    percent: Decimal = Decimal(0)
    of: frozenset[LineKind] = frozenset({LineKind.LABOUR})
    cap: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything the shop decides for itself. Money in its currency, altitude in metres."""

    name: str
    address: str = ""
    phone: str = ""
    email: str = ""
    tax_number: str = ""
    currency: str = "$"
    paper: str = "letter"
    zone: str = "UTC"
    day_first: bool = False
    altitude_m: Decimal = Decimal(0)
    bench_rate: Decimal = Decimal("60.00")
    """Price of one hour at the bench."""
    diagnosis_fee: Decimal = Decimal("35.00")
    """Owed when the owner declines the repair; the owner hears of it at intake."""
    tax_rates: tuple[TaxRate, ...] = ()
    taxed: frozenset[LineKind] = TAXED
    tax_basis: TaxBasis = TaxBasis.INVOICE
    excess: ExcessRule = field(default_factory=lambda: ExcessRule(percent=Decimal(10)))
    """How far an invoice may go over an approved estimate."""
    estimate_days: int = 30
    warranty_days: int = 90
    turnaround_days: int = 7
    """How many days from intake a machine is promised when nothing else is said."""
    bench_hours_per_day: Decimal = Decimal(6)
    """How many hours of bench work get done on a working day."""
    labour_rates: tuple[LabourRate, ...] = ()
    """Rates beside ``bench_rate``."""
    tenths: TenthRule = TenthRule.NEAREST
    """Which tenth of an hour a part of one at the bench is billed as."""
    credit_diagnosis: bool = False
    """Whether the diagnosis fee is credited to an owner who has the repair done."""
    supplies: Supplies = field(default_factory=Supplies)
    disposal_fee: Decimal = Decimal("0.00")
    """Added when a machine, or what came out of it, is got rid of for the owner; 0 for none."""
    part_margin: Decimal | None = None
    """What is kept of a part's price, in percent; used where no ``part_markups`` are set."""
    part_markups: tuple[MarkupBand, ...] = ()
    """The markup by what a part costs, lowest band first."""
    tax_kinds: dict[str, frozenset[LineKind]] = field(default_factory=dict)
    """By the name of a rate what it is on, where that is not ``taxed``."""
    tax_included: bool = False
    """Whether prices are written with their tax in them."""
    currency_code: str = "USD"
    """ISO 4217."""
    country: str = "US"
    """ISO 3166-1 alpha-2."""
    e_invoice: bool = False
    """Whether invoices carry an EN 16931 XML inside (Factur-X)."""
    part_warranty_days: int | None = None
    """For parts, where it is not ``warranty_days``."""
    storage_per_day: Decimal = Decimal("0.00")
    """Asked for each day that a machine stands ready past ``storage_after_days``."""
    storage_after_days: int = 30
    prices_new: dict[str, Decimal] = field(default_factory=dict)
    """By kind of machine what a sound new one costs, as a guide; a unit may have its own."""
    southern: bool = False
    """Whether the seasons are those of the southern hemisphere."""

"""The shop's particulars and its rules: what the first run asks for and the settings change."""

from dataclasses import dataclass, field
from decimal import Decimal

from shopdesk.pricing.allowance import ExcessRule
from shopdesk.pricing.totals import LineKind, TaxBasis, TaxRate

TAXED = frozenset({LineKind.PART, LineKind.LABOUR, LineKind.FEE, LineKind.DISCOUNT})
"""What is taxed until the shop says otherwise; a taxed discount lowers what the tax is taken on."""
PAPERS = ("letter", "A4")


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

"""What a shop needs before its invoices may carry an EN 16931 XML."""

import re

from shopdesk.errors import JobError
from shopdesk.job.shop import Shop
from shopdesk.pricing.totals import TaxBasis

_VAT_NUMBER = re.compile(r"[A-Z]{2}[0-9A-Z]{2,13}")
_PREFIXES = {"GR": "EL"}
"""Greece has a prefix of its own for VAT."""


def is_vat_number(tax_number: str, country: str) -> bool:
    """Whether it is a VAT number, which begins with its country (EN 16931-1 BR-CO-9)."""
    number = tax_number.replace(" ", "")
    prefix = _PREFIXES.get(country, country)
    return number.startswith(prefix) and _VAT_NUMBER.fullmatch(number) is not None


def refuse_unfit(shop: Shop) -> None:
    """Raise ``JobError`` at the setting that keeps invoices from carrying an XML."""
    if not shop.e_invoice:
        return
    if not shop.tax_number:
        raise JobError("An e-invoice names the shop's tax number: type it first.", "tax_number")
    if shop.tax_basis is not TaxBasis.INVOICE:
        raise JobError(
            "An e-invoice rounds tax once on the invoice (EN 16931 BR-CO-17): "
            "choose that, or turn e-invoices off.",
            "tax_basis",
        )
    if not re.fullmatch("[A-Z]{3}", shop.currency_code):
        raise JobError(
            "An e-invoice names the currency by three letters: such as EUR.", "currency_code"
        )
    if not re.fullmatch("[A-Z]{2}", shop.country):
        raise JobError("An e-invoice names the country by two letters: such as DE.", "country")

"""What an e-invoice needs of the shop is asked for in its settings, and before one is issued."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.errors import JobError
from shopdesk.job.invoices.e_invoicing import is_vat_number, refuse_unfit
from shopdesk.job.opened import open_ticket
from shopdesk.job.pickup import invoice_as_issued, issue_invoice
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.pricing.totals import TaxBasis
from tests.job.workshop import SHOP, at_stage, refused

GERMAN = replace(
    SHOP, tax_number="DE123456789", currency="€", currency_code="EUR", country="DE", e_invoice=True
)
UNFIT: list[tuple[dict[str, Any], str, str]] = [
    ({"tax_number": ""}, "tax_number", "names the shop's tax number: type it first"),
    ({"tax_basis": TaxBasis.LINE}, "tax_basis", "rounds tax once on the invoice"),
    ({"currency_code": "euro"}, "currency_code", "by three letters: such as EUR"),
    ({"country": "Germany"}, "country", "by two letters: such as DE"),
]


@pytest.mark.parametrize(("change", "field", "words"), UNFIT)
def test_what_is_missing_is_said_at_its_setting(
    change: dict[str, Any], field: str, words: str
) -> None:
    with pytest.raises(JobError, match=words) as caught:
        refuse_unfit(replace(GERMAN, **change))
    assert caught.value.field == field
    refuse_unfit(replace(GERMAN, e_invoice=False, **change))
    refuse_unfit(GERMAN)


def test_an_invoice_that_could_not_be_drawn_is_not_issued(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    save_shop(shift, replace(GERMAN, tax_number=""))
    with refused(shift, "tax_number", "type it first"):
        issue_invoice(shift, ticket.id)
    assert open_ticket(shift, ticket.id).invoices == ()
    save_shop(shift, GERMAN)
    bill = issue_invoice(shift, ticket.id).invoices[-1]
    content = invoice_as_issued(shift, bill.id)
    assert (content.e_invoice, content.currency_code, content.country) == (True, "EUR", "DE")


@pytest.mark.parametrize(
    ("number", "country", "is_vat"),
    [
        ("DE123456789", "DE", True),
        ("DE 123 456 789", "DE", True),
        ("EL123456789", "GR", True),
        ("12-3456789", "US", False),
        ("TX123456", "US", False),
        ("43/815/08151", "DE", False),
        ("", "DE", False),
    ],
)
def test_a_vat_number_begins_with_its_country(number: str, country: str, is_vat: bool) -> None:
    assert is_vat_number(number, country) is is_vat

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.paper_content import InvoiceContent, Letterhead, PaymentRow
from shopdesk.papers.invoice import draw_invoice
from tests.papers.reading import page_texts, text_of
from tests.papers.samples import (
    AS_IS,
    CHARGES,
    CREDIT,
    INVOICE,
    PAID,
    SHOP,
    SHOP_A4,
    WORDS,
    totals,
)


def said(content: InvoiceContent) -> str:
    return text_of(draw_invoice(content, WORDS))


@pytest.mark.parametrize(
    "item",
    [
        "Tax number FH-0042",
        "Engine: two-stroke, 26 cc",
        "Why: worn. Cracked at the tank end when bent.",
        "No finding supports this part.",
        "Neighbour's discount",
        "Deposit, card, Tue 9 Mar 2027 -$40.00",
        "Balance due $84.00",
        "90 days, until Fri 11 Jun 2027",
        "said yes to $124.00 with tax, by phone (555-0117), Tue 9 Mar 2027 10:12",
        "You asked for the replaced parts: they come with this paper",
    ],
)
def test_the_invoice_says(item: str) -> None:
    assert item in said(INVOICE)


def test_an_ordinary_invoice_is_one_page() -> None:
    assert draw_invoice(INVOICE, WORDS).pages == 1


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_eight_lines_with_their_whys_are_one_page(shop: Letterhead) -> None:
    evidence = "Fuel lines and grommet: hard or cracked (should be sound and supple)"
    parts = tuple(replace(CHARGES[0], evidence=evidence) for _ in range(6))
    labour = replace(CHARGES[3], evidence=evidence)
    rows = (*parts, labour, labour)
    content = replace(INVOICE, shop=shop, rows=rows, totals=totals(rows, "40"))
    assert draw_invoice(content, WORDS).pages == 1


def test_what_is_promised_stays_together_on_the_last_page() -> None:
    for count in range(9, 26):
        rows = tuple(replace(CHARGES[0], description=f"Line {n}.") for n in range(count))
        *_, last = page_texts(draw_invoice(replace(INVOICE, rows=rows), WORDS))
        assert all(label in last for label in ("said yes", "On our work", "No storage"))


def test_a_long_why_wraps_before_the_amounts() -> None:
    why = replace(CHARGES[0], why="failed", evidence="word " * 60)
    text = said(replace(INVOICE, rows=(why,), totals=totals((why,))))
    assert text.count("word") == 60


def test_a_line_without_words_keeps_its_amount() -> None:
    blank = replace(CHARGES[0], description="\n \n" * 80, part_number="", why="")
    assert "$18.40" in said(replace(INVOICE, rows=(blank,), payments=()))


def test_a_settled_invoice_says_so_in_words() -> None:
    text = said(PAID)
    assert "PAID IN FULL" in text
    assert "Paid, cash, Sat 13 Mar 2027 -$84.00" in text
    assert "Balance due" not in text


def test_an_overpaid_invoice_says_what_we_owe() -> None:
    paid = (PaymentRow(date(2027, 3, 9), "card", Decimal("130.00"), True),)
    text = said(replace(INVOICE, payments=paid, totals=totals(CHARGES, "130")))
    assert "We owe you $6.00" in text


def test_a_refund_adds_again() -> None:
    paid = (
        PaymentRow(date(2027, 3, 9), "card", Decimal("130.00"), True),
        PaymentRow(date(2027, 3, 10), "card", Decimal("-6.00"), False),
    )
    text = said(replace(INVOICE, payments=paid, totals=totals(CHARGES, "124")))
    assert "Paid back, card, Wed 10 Mar 2027 $6.00" in text
    assert "PAID IN FULL" in text


def test_returned_as_it_came() -> None:
    text = said(AS_IS)
    assert "Caution: The repair was declined. The machine goes back as it came" in text
    assert "said no to $124.00 with tax, at the counter" in text
    assert "Certificate number EX-77" in text
    assert "None was given" in text
    assert "$30.00" in text


def test_a_credit_note_names_its_invoice_and_why() -> None:
    text = said(CREDIT)
    assert "Credit note C2027-0004" in text
    assert "Takes back invoice 2027-0031" in text
    assert "The kit came under the supplier's warranty." in text
    assert "Credited to you $31.00" in text
    assert "Warranty" not in text


def test_a_credit_note_that_was_paid_out_says_so() -> None:
    refund = PaymentRow(date(2027, 3, 20), "cash", Decimal("-31.00"), False)
    settled = replace(CREDIT.totals, paid=Decimal("-31.00"), due=Decimal("0.00"))
    assert "Given back to you" in said(replace(CREDIT, payments=(refund,), totals=settled))


def test_old_parts_not_asked_for_and_no_approval() -> None:
    text = said(replace(INVOICE, old_parts_back=False, approvals=(), approved=Decimal("0.00")))
    assert "You did not ask for the replaced parts back" in text
    assert "No approval is on record" in text


def test_another_currency() -> None:
    shop = replace(INVOICE.shop, currency="CHF")
    assert "CHF 84.00" in said(replace(INVOICE, shop=shop))


def test_totals_never_stand_without_a_line() -> None:
    for count in range(16, 26):
        rows = tuple(replace(CHARGES[0], description=f"Line {n}.") for n in range(count))
        content = replace(INVOICE, rows=rows, totals=totals(rows), payments=())
        summing = next(page for page in page_texts(draw_invoice(content, WORDS)) if "Total" in page)
        assert f"Line {count - 1}." in summing
        assert "Balance due" in summing
        assert "Condition" in summing


def test_a_tax_with_a_long_name_is_not_cut() -> None:
    name = "Regional levy for the upkeep of waters, woods and ways, with its surcharge for the year"
    long_tax = replace(
        INVOICE.totals.taxes[0], rates=(replace(INVOICE.totals.taxes[0].rates[0], name=name * 2),)
    )
    text = said(replace(INVOICE, totals=replace(INVOICE.totals, taxes=(long_tax,))))
    assert name in text


def test_a_part_credit_and_the_rest_say_so() -> None:
    assert "Credits a part of invoice 2027-0031" in said(replace(CREDIT, credits_how="part"))
    assert "Takes back the rest of invoice 2027-0031" in said(replace(CREDIT, credits_how="rest"))


def test_parts_may_have_a_warranty_of_their_own() -> None:
    text = said(replace(INVOICE, part_warranty_days=30))
    assert "On our work: 90 days, until Fri 11 Jun 2027." in text
    assert "On the parts we fitted: 30 days, until Mon 12 Apr 2027." in text
    assert "On the parts we fitted" not in said(replace(INVOICE, part_warranty_days=90))


def test_what_storage_costs_is_said_where_it_is_asked_for() -> None:
    text = said(replace(INVOICE, storage_per_day=Decimal("2.50"), storage_after_days=14))
    assert "$2.50 a day is asked for from the day after 14 days from our word" in text
    assert "No storage is charged" not in text


def test_the_way_out_that_was_chosen_is_named() -> None:
    word = replace(INVOICE.approvals[0], option="Renew what wears")
    text = said(replace(INVOICE, approvals=(word,)))
    assert "said yes to “Renew what wears”, up to $124.00 with tax, by phone" in text

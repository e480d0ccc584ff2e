from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.papers.estimate import draw_estimate
from tests.papers.reading import page_texts, text_of
from tests.papers.samples import CHARGES, COMPLAINT, ESTIMATE, WORDS, totals


@pytest.mark.parametrize(
    "item",
    [
        "Estimate E2027-0031",
        "Tue 9 Mar 2027",
        "Valid until Thu 8 Apr 2027",
        "Ready by Sat 13 Mar 2027",
        COMPLAINT,
        "needle leaks: it let go at 6 psi",
        "Compression is good: 126 psi",
        "Carburettor kit · part CK-2201",
        "Why: failed. The diaphragm is stiff",
        "0.8 h",
        "Sales tax 7.25% on $28.90",
        "$124.00",
        "$136.40 with tax",
        "check your local law",
        "You owe $30.00 with tax for finding the trouble",
        "No storage is charged",
        "Yes, do the work above on the string trimmer, Tarnbeck TB-26, up to $124.00",
        "No, do not do this work",
        "I want the replaced parts back",
        "Signature",
        "By telephone or message: who, how, when",
    ],
)
def test_the_estimate_says(item: str) -> None:
    assert item in text_of(draw_estimate(ESTIMATE, WORDS))


def test_no_ready_date_no_line() -> None:
    assert "Ready by" not in text_of(draw_estimate(replace(ESTIMATE, ready_by=None), WORDS))


def test_a_short_estimate_is_one_page_and_the_decision_stays_whole() -> None:
    assert draw_estimate(replace(ESTIMATE, rows=CHARGES[:1], found=()), WORDS).pages == 1
    pages = page_texts(draw_estimate(ESTIMATE, WORDS))
    deciding = [page for page in pages if "Your decision" in page]
    assert len(deciding) == 1
    assert "Most it may come to" in deciding[0]
    assert "By telephone" in deciding[0]


def test_rows_of_a_kind_stand_together() -> None:
    rows = (CHARGES[3], CHARGES[0], CHARGES[4], CHARGES[1])
    text = text_of(draw_estimate(replace(ESTIMATE, rows=rows, totals=totals(rows)), WORDS))
    places = [text.index(word) for word in ("CK-2201", "FL-090", "cleaned, kit", "diagnosis fee")]
    assert places == sorted(places)


def test_no_tax_is_said_too() -> None:
    untaxed = tuple(replace(row, taxed=False) for row in CHARGES)
    text = text_of(draw_estimate(replace(ESTIMATE, rows=untaxed, totals=totals(untaxed)), WORDS))
    assert "Tax $0.00" in text
    assert "T: taxed" not in text


def test_an_amount_of_zero_and_of_many_digits_print() -> None:
    dear = replace(CHARGES[0], net=Decimal("1234567.89"), unit_price=Decimal("1234567.89"))
    text = text_of(draw_estimate(replace(ESTIMATE, rows=(dear,), totals=totals((dear,))), WORDS))
    assert "$1,234,567.89" in text

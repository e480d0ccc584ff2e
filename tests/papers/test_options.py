from dataclasses import replace
from decimal import Decimal

import msgspec
import pytest

from shopdesk.job.paper_content import EstimateContent, Letterhead, WaysOut
from shopdesk.papers.estimate import draw_estimate
from shopdesk.papers.options import draw_options
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import CHARGES, ESTIMATE, SHOP, SHOP_A4, WORDS, totals
from tests.papers.ways_out import FAILED, KIT, SHEET, USUAL_WAYS, WAYS_OUT

BESIDE = replace(ESTIMATE, ways_out=WAYS_OUT)


@pytest.mark.parametrize(
    "item",
    [
        "Your ways out",
        "Valid until Thu 8 Apr 2027",
        "needle leaks",
        "Only what failed",
        "$61.56",
        "75 in 100",
        "$91",
        "$310",
        "Tue 16 Mar 2027",
        "0.6 h",
        "76 h",
        "$1.77",
        "a new one",
        "takes in the fuel line as well",
        "We would take “The kit”",
        "All prices are with tax",
        "Hours of life are a guide, no promise: 40 CFR 1054.107(a)(1)",
        "Tick one way in the table and sign",
        "Check your local law",
        "Signature",
        "by telephone or message",
    ],
)
def test_the_sheet_says(item: str) -> None:
    assert item in text_of(draw_options(SHEET, WORDS))


def test_table_and_signature_stand_on_one_page() -> None:
    first = page_texts(draw_options(SHEET, WORDS))[0]
    assert "Price now" in first
    assert "Signature" in first


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_five_ways_in_usual_sentences_are_one_page_with_the_place_to_sign(shop: Letterhead) -> None:
    (page,) = page_texts(draw_options(replace(SHEET, shop=shop, ways_out=USUAL_WAYS), WORDS))
    assert "Signature" in page
    assert "over the hours left" in page


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
@pytest.mark.parametrize("lines", range(1, 7))
def test_an_estimate_of_up_to_six_lines_with_its_ways_is_two_full_pages(
    shop: Letterhead, lines: int
) -> None:
    rows = CHARGES[:lines]
    content = replace(ESTIMATE, shop=shop, rows=rows, totals=totals(rows), ways_out=USUAL_WAYS)
    first, second = page_texts(draw_estimate(content, WORDS))
    assert "What the figures rest on" in first
    assert "Your decision" in second
    assert "Most it may come to" in second


def test_there_is_a_box_under_each_way() -> None:
    text = text_of(draw_options(SHEET, WORDS))
    assert text.count("I choose this") == len(WAYS_OUT.columns)


def test_the_way_we_would_take_is_said_at_its_column_too() -> None:
    assert text_of(draw_options(SHEET, WORDS)).count("we would take this") == 1


def test_more_ways_than_fit_go_into_tables_of_their_own() -> None:
    ways = replace(WAYS_OUT, columns=(FAILED,) * 8)
    printed = draw_options(replace(SHEET, ways_out=ways), WORDS)
    text = text_of(printed)
    assert text.count("I choose this") == 8
    assert text.count("Price now") == 2
    assert letters_outside(printed, 20) == []


def test_what_was_left_out_and_typical_prices_are_explained() -> None:
    ways = replace(
        WAYS_OUT,
        columns=(replace(FAILED, typical=True), KIT),
        left_out=(("Another machine", "What a new one costs is not known."),),
    )
    text = text_of(draw_options(replace(SHEET, ways_out=ways), WORDS))
    assert "about $61.56" in text
    assert "our catalogue has no price for a part of it" in text
    assert "Another machine: What a new one costs is not known." in text


def test_the_estimate_has_the_ways_beside_its_lines() -> None:
    printed = draw_estimate(BESIDE, WORDS)
    text = text_of(printed)
    assert "Your ways out, side by side" in text
    assert "“The kit”, line by line" in text
    assert text.count("itemised below") == 1
    assert "Carburettor kit · part CK-2201" in text
    assert "Yes, do the work above" not in text
    deciding = [page for page in page_texts(printed) if "Your decision" in page]
    assert len(deciding) == 1
    assert "Signature" in deciding[0]


def test_lines_that_are_of_no_way_keep_their_yes_and_no() -> None:
    columns = tuple(replace(way, itemised=False) for way in WAYS_OUT.columns)
    text = text_of(
        draw_estimate(replace(BESIDE, ways_out=replace(WAYS_OUT, columns=columns)), WORDS)
    )
    assert "Yes, do the work above" in text
    assert "What is on the ticket now, line by line" in text


def test_an_estimate_without_ways_is_as_it_was() -> None:
    text = text_of(draw_estimate(ESTIMATE, WORDS))
    assert "ways out" not in text
    assert "Yes, do the work above" in text


def test_an_estimate_that_was_kept_before_there_were_ways_is_still_read() -> None:
    kept = msgspec.to_builtins(ESTIMATE)
    del kept["ways_out"]
    assert msgspec.convert(kept, EstimateContent, strict=False) == ESTIMATE
    again = msgspec.json.decode(msgspec.json.encode(BESIDE), type=EstimateContent)
    assert again == BESIDE


def test_a_currency_in_letters_and_a4_hold_five_columns() -> None:
    shop = replace(SHOP_A4, currency="CHF")
    columns = tuple(replace(way, price_now=Decimal("1234.50")) for way in WAYS_OUT.columns)
    ways: WaysOut = replace(WAYS_OUT, columns=columns)
    printed = draw_options(replace(SHEET, shop=shop, ways_out=ways), WORDS)
    assert letters_outside(printed, 20) == []
    assert "1,234.50" in text_of(printed)


def test_storage_and_a_certificate_are_said_on_the_estimate() -> None:
    content = replace(
        ESTIMATE, tax_exempt_number="EX-77", storage_per_day=Decimal("2.00"), storage_after_days=30
    )
    text = text_of(draw_estimate(content, WORDS))
    assert "Certificate number EX-77" in text
    assert "$2.00 a day is asked for from the day after 30 days" in text
    assert "No storage is charged" not in text

"""Margin over cost; what has no cost is said and left out."""

from dataclasses import replace

from shopdesk.job.lines import LineEntry
from shopdesk.job.pickup import credit_invoice
from shopdesk.job.reports import margin as margins
from shopdesk.job.reports.margin import margin
from shopdesk.job.shift import Shift, save_shop
from tests.job.reports.books import APRIL, HOUR, PART, cells, money, sold
from tests.job.workshop import SHOP

PLUG = LineEntry(
    *("part", "Spark plug", "2"), unit_price="4.50", reason="worn", part_number="SP-7", cost="1.80"
)
UNKNOWN = replace(PART, description="Old pulley", unit_price="15.00", cost="", condition="used")


def test_part_by_part(shift: Shift) -> None:
    sold(shift, PART, PLUG, UNKNOWN)
    sold(shift, PLUG)
    kit, plug, pulley = margin(shift, APRIL).by_part
    assert (kit.name, kit.sold, kit.cost, kit.margin) == (
        *("Carburettor kit", money("20.00"), money("12.00"), money("8.00")),
    )
    assert kit.percent == money("40.0")
    assert (plug.number, plug.quantity, plug.sold, plug.cost) == (
        *("SP-7", money("4"), money("18.00"), money("7.20")),
    )
    assert plug.percent == money("60.0")
    assert (pulley.name, pulley.unknown, pulley.margin, pulley.percent) == (
        *("Old pulley, used", money("15.00"), None, None),
    )


def test_by_kind(shift: Shift) -> None:
    sold(shift, PART, UNKNOWN, HOUR)
    parts, labour = margin(shift, APRIL).by_kind
    assert (parts.sold, parts.unknown, parts.margin) == (
        *(money("35.00"), money("15.00"), money("8.00")),
    )
    assert parts.percent == money("40.0"), "of the 20.00 whose cost is known"
    assert (labour.sold, labour.margin) == (money("60.00"), None)


def test_a_credit_note_takes_price_and_cost_away(shift: Shift) -> None:
    ticket = sold(shift, PART)
    credit_invoice(shift, ticket.id, "charged twice")
    (kit,) = margin(shift, APRIL).by_part
    assert kit.quantity == kit.sold == kit.cost == kit.margin == 0
    assert kit.percent is None


def test_prices_with_their_tax_in_them_count_before_tax(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, tax_included=True))
    ticket = sold(shift, replace(PART, unit_price="21.60"))
    assert margin(shift, APRIL).by_part[0].sold == money("20.00")
    credit_invoice(shift, ticket.id, "charged twice")
    (kit,) = margin(shift, APRIL).by_part
    assert kit.sold == kit.cost == 0


def test_a_comeback_costs(shift: Shift) -> None:
    sold(shift, replace(PART, reason="comeback", unit_price=""), HOUR)
    (kit,) = margin(shift, APRIL).by_part
    assert (kit.sold, kit.margin) == (money("0.00"), money("-12.00"))


def test_the_report_says_what_it_leaves_out(shift: Shift) -> None:
    sold(shift, PART, UNKNOWN, HOUR)
    report = margins.report(shift, APRIL)
    assert report.notes == (
        "No cost is known of $15.00 of parts and work done by others: that is left out of the "
        "margin and of the percentage.",
    )
    assert cells(report, "By kind") == [
        (
            *("Parts", money("35.00"), money("15.00"), money("12.00"), money("8.00")),
            money("40.0"),
        ),
        ("Labour", money("60.00"), money("60.00"), None, None, None),
        ("All", money("95.00"), money("75.00"), money("12.00"), money("8.00"), None),
    ]
    (bars,) = report.pictures
    assert [bar.words for bar in bars.bars] == ["$8.00, 40% of the price"]  # type: ignore[union-attr]

"""Tax by rate and month, against sums done by hand and a plain sum over the invoices."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.job.bad_debts import write_off
from shopdesk.job.invoices.crediting import PartCredit, credit_part
from shopdesk.job.pickup import credit_invoice
from shopdesk.job.reports import tax
from shopdesk.job.reports.tax import TaxSum, shared_out, tax_report
from shopdesk.job.shift import Shift, save_shop
from shopdesk.pricing.totals import LineKind, TaxLine, TaxRate
from tests.job.reports.books import APRIL, FEE, HOUR, MAY, PART, SPRING, cells, money, sold
from tests.job.workshop import SHOP, Clock

STATE, CITY = TaxRate("State", Decimal("6.25")), TaxRate("City", Decimal(1))
RATE = "Sales tax 8%"


def test_one_rate(shift: Shift) -> None:
    sold(shift, PART, HOUR)
    sold(shift, HOUR)
    found = tax_report(shift, APRIL)
    assert found.by_rate == (
        TaxSum(RATE, money("140.00"), money("0.00"), money("11.20"), money("0.00")),
    )
    assert (found.net, found.tax, found.total) == (
        money("140.00"),
        money("11.20"),
        money("151.20"),
    )
    assert (found.alone, found.exempt, found.given_up) == ((), (), ())


def test_an_invoice_and_its_credit_note_in_different_months(shift: Shift, clock: Clock) -> None:
    ticket = sold(shift, PART, HOUR)
    clock.forward(30)
    credit_invoice(shift, ticket.id, "charged twice")
    april, may = tax_report(shift, APRIL).by_rate, tax_report(shift, MAY).by_rate
    assert april == (TaxSum(RATE, money("80.00"), tax_invoiced=money("6.40")),)
    assert may == (TaxSum(RATE, credited=money("80.00"), tax_credited=money("6.40")),)
    assert (may[0].net, may[0].tax) == (money("-80.00"), money("-6.40"))
    assert tax_report(shift, SPRING).tax == 0
    assert cells(tax.report(shift, SPRING), "By month and rate") == [
        ("Apr 2031", RATE, money("80.00"), 0, money("80.00"), money("6.40")),
        ("May 2031", RATE, 0, money("80.00"), money("-80.00"), money("-6.40")),
        ("All", None, money("80.00"), money("80.00"), 0, 0),
    ]


def test_what_was_credited_in_part(shift: Shift, clock: Clock) -> None:
    ticket = sold(shift, PART, HOUR)
    clock.forward(30)
    credit_part(shift, ticket.id, PartCredit("the old kit did it", quantities=((1, "1"),)))
    credit_part(shift, ticket.id, PartCredit("for the wait", amount="10.80"))
    (may,) = tax_report(shift, MAY).by_rate
    assert (may.credited, may.tax_credited) == (money("30.00"), money("2.40"))
    assert tax_report(shift, SPRING).total == money("54.00")


def test_what_is_not_taxed_and_who_is_exempt_stand_apart(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, taxed=frozenset({LineKind.PART})))
    sold(shift, PART, FEE)
    exempt = sold(shift, PART, owner="Wrenmoor School", exempt="EX-77")
    report = tax.report(shift, APRIL)
    assert [row[0] for row in cells(report, "By rate")] == [
        *(RATE, "Exempt, with certificate", "Not taxed", "All"),
    ]
    assert [row[3:] for row in cells(report, "By rate")] == [
        (money("20.00"), money("1.60")),
        (money("20.00"), 0),
        (money("35.00"), 0),
        (money("75.00"), money("1.60")),
    ]
    number = exempt.invoices[0].number
    assert cells(report, "Exempt sales") == [
        (date(2031, 4, 7), number, "Wrenmoor School", "EX-77", money("20.00")),
        ("All", None, None, None, money("20.00")),
    ]


def test_rates_charged_together_are_taken_apart(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, tax_rates=(STATE, CITY)))
    sold(shift, PART, HOUR)
    found = tax_report(shift, APRIL)
    (together,) = found.by_rate
    assert together.label == "City 1% + State 6.25% = 7.25%"
    assert together.tax == money("5.80")
    assert [(one.label, one.net, one.tax) for one in found.alone] == [
        ("City 1%", money("80.00"), money("0.80")),
        ("State 6.25%", money("80.00"), money("5.00")),
    ]
    assert "in proportion" in tax.report(shift, APRIL).notes[0]


def _line(*percents: Decimal) -> TaxLine:
    rates = tuple(TaxRate(f"R{at}", percent) for at, percent in enumerate(percents))
    return TaxLine("", sum(percents, Decimal(0)), Decimal(0), Decimal(0), rates)


@pytest.mark.parametrize(
    ("tax_sum", "percents", "shares"),
    [
        ("0.01", ("5", "5"), ["0.01", "0.00"]),
        ("0.10", ("1", "1", "1"), ["0.04", "0.03", "0.03"]),
        ("-0.10", ("1", "1", "1"), ["-0.04", "-0.03", "-0.03"]),
        ("1.45", ("6.25", "1"), ["1.25", "0.20"]),
        ("0.00", ("0", "0"), ["0.00", "0.00"]),
    ],
)
def test_a_tax_is_shared_out_to_the_cent(
    tax_sum: str, percents: tuple[str, ...], shares: list[str]
) -> None:
    line = _line(*map(Decimal, percents))
    assert shared_out(Decimal(tax_sum), line) == list(map(Decimal, shares))


@given(
    st.decimals(-1000, 1000, places=2),
    st.lists(st.decimals(0, 20, places=3), min_size=1, max_size=5).filter(any),
)
def test_shares_come_to_the_whole_and_none_is_off_by_a_cent(
    tax_sum: Decimal, percents: list[Decimal]
) -> None:
    line = _line(*percents)
    shares = shared_out(tax_sum, line)
    assert sum(shares) == tax_sum
    for share, percent in zip(shares, percents, strict=True):
        assert abs(share - tax_sum * percent / line.percent) < Decimal("0.01")


def test_debts_given_up_stand_apart(shift: Shift) -> None:
    ticket = sold(shift, PART, HOUR)
    write_off(shift, ticket.id, "moved away, no address")
    report = tax.report(shift, APRIL)
    assert cells(report, "By rate")[0][-1] == money("6.40")
    assert cells(report, "Debts given up")[0] == (
        *(date(2031, 4, 7), ticket.tag, "Mara Quill"),
        *(money("86.40"), money("6.40")),
    )
    assert "stand apart" in report.notes[-1]

"""The shop's particulars, typed at the first run and changed later."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.judging import Engine, Machine, Place, judge
from shopdesk.errors import JobError
from shopdesk.job.intake import take_in
from shopdesk.job.lines import add_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.reference import catalogue
from shopdesk.job.settings import EXCESS_RULES, ShopEntry, as_entry, set_up_shop
from shopdesk.job.settings_excess import OWN_RULE
from shopdesk.job.settings_lines import read_labour_rates, show_labour_rates
from shopdesk.job.shift import Shift, has_shop
from shopdesk.job.shop import LabourRate, Shop, Supplies
from shopdesk.pricing.allowance import PRESETS, Combine, ExcessRule
from shopdesk.pricing.labour import TenthRule
from shopdesk.pricing.part_price import MarkupBand
from shopdesk.pricing.totals import LineKind, TaxBasis, TaxRate
from shopdesk.records.store import open_records
from tests.job.workshop import HOUR, INTAKE, KIT, OWNER, SHOP, TRIMMER, Clock, refused, taken_in

ENTRY = ShopEntry(
    name=" Fernhollow  Small Engines ",
    address="14 Millrace Lane\nFernhollow",
    phone="555-0100",
    email="bench@example.com",
    tax_number="FH-0042",
    currency="CHF",
    paper="a4",
    zone="Europe/Zurich",
    day_order="Day first",
    altitude="5280 ft",
    bench_rate="72.50",
    diagnosis_fee="40",
    tax_rates="State 6.875\nCity: 1 %",
    taxed=("part", "Labour"),
    tax_basis="line",
    excess="nothing over",
    estimate_days="14",
    warranty_days="30",
    turnaround_days="5",
    labour_rates="Electrical 85.00\nChain: 70",
    tenths="up",
    credit_diagnosis=True,
    supplies_percent="5 %",
    supplies_cap="15",
    supplies_of=("part", "labour"),
    disposal_fee="8",
    part_margin="40",
    part_markups="up to 10.00: 100 %\nup to 50: 60\nall above: 30 %",
    tax_included=True,
    currency_code="chf",
    country="ch",
    part_warranty_days="365",
    storage_per_day="1.50",
    storage_after_days="45",
    prices_new="String Trimmer 189\nlog splitter: 1,290.00",
    bench_hours_per_day="5.5",
)
OWN: dict[str, Any] = {"excess_percent": "12.5", "excess_fixed": "20", "excess_cap": "60"}
"""A rule of the shop's own, but for which of the two holds."""
GREATER = replace(ENTRY, excess_which="whichever is greater", **OWN)


@pytest.fixture
def bare(tmp_path: Path, clock: Clock) -> Iterator[Shift]:
    """Records that have no shop yet."""
    shift = Shift(open_records(tmp_path / "bare.db", clock()), "Sam", clock)
    yield shift
    shift.records.close()


def test_before_the_first_run_everything_asks_for_the_shop(bare: Shift) -> None:
    assert not has_shop(bare)
    with pytest.raises(JobError, match="no shop yet: fill in the shop's name and rates first"):
        take_in(bare, OWNER, TRIMMER, INTAKE)
    with pytest.raises(JobError, match="no shop yet"):
        bare.shop  # noqa: B018


def test_the_shop_is_kept_as_typed(bare: Shift) -> None:
    shop = set_up_shop(bare, ENTRY)
    assert has_shop(bare)
    assert bare.shop == shop
    assert (shop.name, shop.currency, shop.paper) == ("Fernhollow Small Engines", "CHF", "A4")
    assert (shop.zone, shop.day_first) == ("Europe/Zurich", True)
    assert shop.altitude_m == Decimal("1609.3")
    assert (shop.bench_rate, shop.diagnosis_fee) == (Decimal("72.50"), Decimal("40.00"))
    assert shop.tax_rates == (TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal(1)))
    assert shop.taxed == {LineKind.PART, LineKind.LABOUR}
    assert (shop.tax_basis, shop.excess) == (TaxBasis.LINE, PRESETS["nothing over"])
    assert (shop.estimate_days, shop.warranty_days, shop.turnaround_days) == (14, 30, 5)
    assert shop.labour_rates == (
        LabourRate("Electrical", Decimal("85.00")),
        LabourRate("Chain", Decimal("70.00")),
    )
    assert (shop.tenths, shop.credit_diagnosis) == (TenthRule.UP, True)
    assert shop.supplies == Supplies(
        Decimal(5), frozenset({LineKind.PART, LineKind.LABOUR}), Decimal("15.00")
    )
    assert (shop.disposal_fee, shop.part_margin) == (Decimal("8.00"), Decimal(40))
    assert shop.part_markups == (
        MarkupBand(Decimal("10.00"), Decimal(100)),
        MarkupBand(Decimal("50.00"), Decimal(60)),
        MarkupBand(None, Decimal(30)),
    )
    assert (shop.tax_included, shop.currency_code, shop.country) == (True, "CHF", "CH")
    assert (shop.part_warranty_days, shop.bench_hours_per_day) == (365, Decimal("5.5"))
    assert (shop.storage_per_day, shop.storage_after_days) == (Decimal("1.50"), 45)
    assert shop.prices_new == {
        "string trimmer": Decimal("189.00"),
        "log splitter": Decimal("1290.00"),
    }


@pytest.mark.parametrize("rule", EXCESS_RULES)
def test_what_is_kept_is_typed_again_as_it_was(shift: Shift, rule: str) -> None:
    own = GREATER if rule == OWN_RULE else ENTRY
    shop = set_up_shop(shift, replace(own, excess=rule))
    assert set_up_shop(shift, as_entry(shop)) == shop
    assert as_entry(shop).excess == rule


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("1,5 m", "1.5"),
        ("1.609,3", "1609.3"),
        ("1,609.3 m", "1609.3"),
        ("5,280 ft", "1609.3"),
        ("5280'", "1609.3"),
        ("-12", "-12.0"),
        ("\u2212430 m", "-430"),
        ("5500 m", "5500.0"),
        ("", "0.0"),
    ],
)
def test_an_altitude_is_read_as_it_is_typed(shift: Shift, typed: str, metres: str) -> None:
    shop = set_up_shop(shift, replace(ENTRY, altitude=typed))
    assert shop.altitude_m == Decimal(metres)
    machine = Machine("string trimmer", Engine.TWO_STROKE)
    check = catalogue().check("compression")
    assert judge(check, "142 psi", machine, Place(shop.altitude_m)).limit


@pytest.mark.parametrize("sign", ["$", "€", "CHF", "kr.", "R$", "zł", "£"])
def test_a_currency_sign_is_letters_or_a_sign(shift: Shift, sign: str) -> None:
    assert set_up_shop(shift, replace(ENTRY, currency=sign)).currency == sign


def test_a_name_is_all_that_is_needed(bare: Shift) -> None:
    shop = set_up_shop(bare, ShopEntry("Fernhollow"))
    assert (shop.bench_rate, shop.tax_rates, shop.paper) == (Decimal("60.00"), (), "letter")


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("name", " ", "The shop's name is empty"),
        ("address", "x" * 10_001, "10,001 characters"),
        ("phone", "x" * 201, "201 characters"),
        ("email", "bench", "is no e-mail address"),
        ("tax_number", "x" * 201, "201 characters"),
        ("currency", "", "The currency sign is empty"),
        ("currency", "money", "is no currency sign: type one such as $"),
        ("currency", "5", "is no currency sign"),
        ("currency", "<b>", "is no currency sign"),
        ("currency", "$/", "is no currency sign"),
        ("name", "\u3164\u2800", "The shop's name is empty"),
        ("paper", "A5", "choose one of letter, A4"),
        ("zone", "Fernhollow", "is not a time zone. Type it like America/Denver"),
        ("zone", "../../etc/passwd", "is not a time zone"),
        ("day_order", "year first", "choose one of month first, day first"),
        ("altitude", "high", "is no altitude: type it like 1609 m or 5280 ft"),
        ("altitude", "1.2.3 m", "is no altitude"),
        (
            "altitude",
            "5501 m",
            "judged at 5,501.0 m: type the shop's height above the sea",
        ),
        ("altitude", "-431 m", "can't be judged at -431.0 m"),
        ("bench_rate", "-1", "below zero"),
        ("bench_rate", "dear", "is not an amount"),
        ("diagnosis_fee", "", "Nothing is typed"),
        ("tax_rates", "State", "is no tax rate: type a name and a percentage"),
        ("tax_rates", "State 5\nState 6", "Two tax rates have the same name"),
        ("tax_rates", "State 60\nCity 41", "add up to more than 100 %"),
        ("tax_rates", "State 101", "is not a rate"),
        ("tax_rates", "State -5", "“-5” is not a rate"),
        ("tax_rates", "State \u2212 5", "is not a rate"),
        ("taxed", ("tips",), "choose one of part"),
        ("tax_basis", "guess", "choose one of line, invoice"),
        ("excess", "as much as we like", "choose one of nothing over"),
        ("estimate_days", "-1", "is no number of days"),
        ("warranty_days", "ninety", "type a whole number up to 3650"),
        ("turnaround_days", "3651", "is no number of days"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, field: str, typed: object, words: str
) -> None:
    with refused(shift, field, words):
        set_up_shop(shift, replace(ENTRY, **{field: typed}))  # type: ignore[arg-type]
    assert shift.shop == SHOP


def test_today_is_the_shops_day(shift: Shift, clock: Clock) -> None:
    assert shift.today == date(2031, 4, 7)
    clock.forward(days=0.5)
    assert clock.moment.date() == date(2031, 4, 8)
    assert shift.today == date(2031, 4, 7)


def test_a_new_rate_counts_for_new_lines_only(shift: Shift) -> None:
    ticket = taken_in(shift)
    add_line(shift, ticket.id, HOUR)
    set_up_shop(shift, replace(as_entry(SHOP), bench_rate="80"))
    add_line(shift, ticket.id, HOUR)
    rates = [line.unit_price for line in open_ticket(shift, ticket.id).lines]
    assert rates == [Decimal("60.00"), Decimal("80.00")]


@pytest.mark.parametrize(
    ("typed", "kinds"),
    [
        ("City 1.5 on part, labour", {LineKind.PART, LineKind.LABOUR}),
        ("City: 1.5 % on Parts and fees", {LineKind.PART, LineKind.FEE}),
        ("City 1.5 on labor", {LineKind.LABOUR}),
        ("City 1.5 on sublet", {LineKind.SUBLET}),
    ],
)
def test_a_rate_may_be_on_some_kinds_alone(shift: Shift, typed: str, kinds: set[LineKind]) -> None:
    shop = set_up_shop(shift, replace(ENTRY, tax_rates=f"State 6.875\n{typed}"))
    assert shop.tax_rates == (TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal("1.5")))
    assert shop.tax_kinds == {"City": kinds}
    assert set_up_shop(shift, as_entry(shop)) == shop


def test_parts_and_labour_are_taxed_by_what_is_on_them(shift: Shift) -> None:
    set_up_shop(
        shift,
        replace(
            ENTRY,
            tax_included=False,
            tax_rates="State 6\nCity 1 on labour",
            excess=OWN_RULE,
            **OWN,
            excess_which="whichever is less",
        ),
    )
    ticket = taken_in(shift)
    add_line(shift, ticket.id, KIT)
    totals = add_line(shift, ticket.id, replace(HOUR, unit_price="60")).totals
    assert [(row.label, str(row.base)) for row in totals.taxes] == [
        ("City 1% + State 6% = 7%", "60.00"),
        ("State 6%", "18.40"),
    ]


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        ({"excess_percent": "5"}, ExcessRule(percent=Decimal(5))),
        ({"excess_fixed": "25"}, ExcessRule(fixed=Decimal("25.00"))),
        (
            {**OWN, "excess_which": "whichever is greater"},
            ExcessRule(Decimal("12.5"), Decimal("20.00"), Combine.GREATER, Decimal("60.00")),
        ),
        (
            {**OWN, "excess_cap": "", "excess_which": "Whichever is less"},
            ExcessRule(Decimal("12.5"), Decimal("20.00"), Combine.LESS),
        ),
    ],
)
def test_a_rule_of_the_shops_own(shift: Shift, typed: dict[str, Any], rule: ExcessRule) -> None:
    shop = set_up_shop(shift, replace(ENTRY, excess=OWN_RULE, **typed))
    assert shop.excess == rule
    assert set_up_shop(shift, as_entry(shop)) == shop


@pytest.mark.parametrize(
    ("field", "change", "words"),
    [
        ("excess", {"excess_percent": "5"}, "A rule of your own is typed as well: choose"),
        ("excess_percent", {"excess": OWN_RULE}, "The rule is empty"),
        ("excess_which", {"excess": OWN_RULE, **OWN}, "Which of the two holds is empty"),
        ("excess_percent", {"excess": OWN_RULE, "excess_percent": "101"}, "is not a rate"),
        ("tax_rates", {"tax_rates": "City 1 on grass"}, "A tax can't be on “grass”: name some of"),
        ("tax_rates", {"tax_rates": "State 60\nCity 41"}, "more than 100 %"),
        ("labour_rates", {"labour_rates": "Electrical"}, "is no name with an amount"),
        ("labour_rates", {"labour_rates": "Electrical lots"}, "is not an amount"),
        ("labour_rates", {"labour_rates": "A 1\na 2"}, "Two labour rates have the same name, “a”"),
        ("part_markups", {"part_markups": "100 %"}, "is no markup: type lines such as up to 10.00"),
        ("part_markups", {"part_markups": "up to 10: 100 %"}, "need one last band"),
        ("part_markups", {"part_markups": "up to 9: 1\nup to 8: 1\nall above: 1"}, "must rise"),
        ("part_markups", {"part_markups": "all above: 1001 %"}, "over 1000 %: check it"),
        ("part_markups", {"part_markups": "up to lots: 5\nall above: 1"}, "is not an amount"),
        ("prices_new", {"prices_new": "saw 1\nSaw 2"}, "Two prices have the same name"),
        ("prices_new", {"prices_new": "\n".join(f"k{n} 1" for n in range(41))}, "over 40 lines"),
        ("part_margin", {"part_margin": "100"}, "A margin of 100 % has no price"),
        ("supplies_percent", {"supplies_of": ()}, "a percentage of nothing: tick parts, labour"),
        ("supplies_of", {"supplies_of": ("fee",)}, "choose one of part, labour"),
        ("supplies_cap", {"supplies_cap": "-1"}, "is below zero"),
        ("currency_code", {"currency_code": "dollars"}, "no code of 3 letters"),
        ("country", {"country": "USA"}, "no code of 2 letters"),
        ("tenths", {"tenths": "down"}, "choose one of nearest, up"),
        ("part_warranty_days", {"part_warranty_days": "long"}, "no number of days"),
        ("storage_per_day", {"storage_per_day": "much"}, "is not an amount"),
        ("bench_hours_per_day", {"bench_hours_per_day": "25"}, "A day has 24 hours, not 25"),
        ("tax_basis", {"e_invoice": True}, "rounds tax once on the invoice"),
    ],
)
def test_what_is_wrong_with_a_rule_is_said_at_its_field(
    shift: Shift, field: str, change: dict[str, object], words: str
) -> None:
    with refused(shift, field, words):
        set_up_shop(shift, replace(ENTRY, **change))  # type: ignore[arg-type]


def test_what_is_not_used_is_left_empty(shift: Shift) -> None:
    shop = set_up_shop(shift, ShopEntry("Fernhollow"))
    assert shop == Shop("Fernhollow")
    entry = as_entry(shop)
    assert (entry.supplies_percent, entry.disposal_fee, entry.part_margin) == ("", "", "")
    assert set_up_shop(shift, entry) == shop


@given(
    st.dictionaries(
        st.sampled_from(["Electrical", "Chain 2", "Two: stroke", "X"]),
        st.integers(0, 99_999),
        max_size=4,
    )
)
def test_labour_rates_are_read_as_they_are_written(cents: dict[str, int]) -> None:
    rates = tuple(LabourRate(name, Decimal(one).scaleb(-2)) for name, one in cents.items())
    assert read_labour_rates(show_labour_rates(rates)) == rates

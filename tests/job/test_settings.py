"""The shop's particulars, typed at the first run and changed later."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.bench.judging import Engine, Machine, Place, judge
from shopdesk.errors import JobError
from shopdesk.job.intake import take_in
from shopdesk.job.lines import add_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.reference import catalogue
from shopdesk.job.settings import EXCESS_RULES, ShopEntry, as_entry, set_up_shop
from shopdesk.job.shift import Shift, has_shop
from shopdesk.pricing.allowance import PRESETS
from shopdesk.pricing.totals import LineKind, TaxBasis, TaxRate
from shopdesk.records.store import open_records
from tests.job.workshop import HOUR, INTAKE, OWNER, SHOP, TRIMMER, Clock, refused, taken_in

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
)


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


@pytest.mark.parametrize("rule", EXCESS_RULES)
def test_what_is_kept_is_typed_again_as_it_was(shift: Shift, rule: str) -> None:
    shop = set_up_shop(shift, replace(ENTRY, excess=rule))
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

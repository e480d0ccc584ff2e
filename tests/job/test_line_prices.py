"""What a line costs: labour rates, catalogue parts, what comes off, and what is free of charge."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.job.lines import LineEntry, add_line, change_line, faults
from shopdesk.job.paperwork import charge_rows
from shopdesk.job.parts.catalogue import PartEntry, add_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.views import PartView
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import LabourRate
from shopdesk.job.stages import Stage
from shopdesk.job.standing import find_ticket, net_of, rows_of
from shopdesk.job.views import LineView, TicketView
from shopdesk.job.what_if import PlainLine, price_lines
from shopdesk.pricing.totals import ZERO, LineKind, TaxRate
from shopdesk.records.tables import Line
from tests.job.workshop import HOUR, KIT, SHOP, Clock, at_stage, kept, open_shop, refused

RATED = replace(SHOP, labour_rates=(LabourRate("Electrical", Decimal("85.00")),))


@pytest.fixture
def shift(tmp_path: Path, clock: Clock) -> Iterator[Shift]:
    opened = open_shop(tmp_path, clock, RATED)
    yield opened
    opened.records.close()


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def added(shift: Shift, ticket: TicketView, entry: LineEntry) -> LineView:
    return kept(shift, add_line(shift, ticket.id, entry)).lines[-1]


@pytest.mark.parametrize(
    ("rate", "price", "kept_rate", "each"),
    [
        ("", "", "", "60.00"),
        ("electrical", "", "Electrical", "85.00"),
        ("Electrical", "90", "Electrical", "90.00"),
        ("bench rate", "", "", "60.00"),
    ],
)
def test_an_hour_costs_what_its_rate_says_unless_a_price_is_typed(
    shift: Shift, ticket: TicketView, rate: str, price: str, kept_rate: str, each: str
) -> None:
    line = added(shift, ticket, replace(HOUR, rate=rate, unit_price=price))
    assert (line.rate, line.unit_price) == (kept_rate, Decimal(each))


def test_a_rate_that_is_not_there_is_said(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "rate", "choose one of Electrical"):
        add_line(shift, ticket.id, replace(HOUR, rate="Plumbing"))


@pytest.fixture
def plug(shift: Shift) -> PartView:
    part = add_part(shift, PartEntry("SP-7", "Spark plug", price="6.50"))
    count_part(shift, part.id, "2")
    return part


def test_a_catalogue_part_fills_what_is_left_empty(
    shift: Shift, ticket: TicketView, plug: PartView
) -> None:
    entry = LineEntry("part", "", reason="failed", part_id=plug.id)
    assert faults(entry) == ()
    line = added(shift, ticket, entry)
    assert (line.description, line.part_number, line.part_id) == ("Spark plug", "SP-7", plug.id)
    assert (line.unit_price, line.condition, line.supply) == (Decimal("6.50"), "new", "on hand")
    more = added(shift, ticket, replace(entry, description="Plug", unit_price="7", quantity="2"))
    assert (more.description, more.unit_price, more.supply) == (
        "Plug",
        Decimal("7.00"),
        "to order",
    ), "one of the two in the bin is kept for the first line"


def test_a_catalogue_part_without_a_price_asks_for_one(shift: Shift, ticket: TicketView) -> None:
    part = add_part(shift, PartEntry("GR-1", "Grommet"))
    entry = LineEntry("part", "", reason="failed", part_id=part.id)
    with refused(shift, "unit_price", "The price is empty: type it"):
        add_line(shift, ticket.id, entry)
    assert added(shift, ticket, replace(entry, reason="goodwill")).value is None


def test_a_line_made_into_labour_lets_the_part_go(
    shift: Shift, ticket: TicketView, plug: PartView
) -> None:
    line = added(shift, ticket, LineEntry("part", "", reason="failed", part_id=plug.id))
    changed = kept(shift, change_line(shift, line.id, HOUR)).lines[-1]
    assert (changed.part_id, changed.supply) == (None, "")


@pytest.mark.parametrize(
    ("off", "taken", "net", "typed"),
    [
        ("5", "5.00", "31.80", "5.00"),
        ("10 %", "3.68", "33.12", "10 %"),
        ("12.5%", "4.60", "32.20", "12.5 %"),
        ("36.80", "36.80", "0.00", "36.80"),
        ("0", "0.00", "36.80", ""),
        ("", "0.00", "36.80", ""),
    ],
)
def test_what_comes_off_one_line(
    shift: Shift, ticket: TicketView, off: str, taken: str, net: str, typed: str
) -> None:
    line = added(shift, ticket, replace(KIT, quantity="2", off=off))
    assert (line.off, line.net, line.off_typed) == (Decimal(taken), Decimal(net), typed)
    again = kept(shift, change_line(shift, line.id, replace(KIT, quantity="2", off=line.off_typed)))
    assert again.lines[-1].net == Decimal(net)


def test_what_comes_off_in_percent_follows_the_price(shift: Shift, ticket: TicketView) -> None:
    line = added(shift, ticket, replace(HOUR, off="10 %"))
    changed = change_line(shift, line.id, replace(HOUR, quantity="2", off="10 %"))
    assert changed.lines[-1].net == Decimal("108.00")


@pytest.mark.parametrize(
    ("off", "words"),
    [("18.41", "comes to $18.40: $18.41 can't come off it"), ("lots", "is not an amount")],
)
def test_no_more_comes_off_than_it_costs(
    shift: Shift, ticket: TicketView, off: str, words: str
) -> None:
    with refused(shift, "off", words):
        add_line(shift, ticket.id, replace(KIT, off=off))


@pytest.mark.parametrize("reason", ["comeback", "warranty", "goodwill"])
def test_what_is_free_keeps_what_it_is_worth(shift: Shift, ticket: TicketView, reason: str) -> None:
    part = added(shift, ticket, replace(KIT, reason=reason, off="5"))
    assert (part.net, part.unit_price, part.value, part.off) == (ZERO, ZERO, Decimal("18.40"), ZERO)
    assert part.price_typed == "18.40"
    hour = added(shift, ticket, replace(HOUR, reason=reason))
    assert (hour.net, hour.value) == (ZERO, Decimal("60.00"))
    bare = added(shift, ticket, replace(KIT, reason=reason, unit_price=""))
    assert (bare.net, bare.value) == (ZERO, None)
    charged = change_line(shift, part.id, replace(KIT, reason="failed"))
    line = next(line for line in charged.lines if line.id == part.id)
    assert (line.net, line.value) == (Decimal("18.40"), None)


def test_papers_are_told_all_of_it(shift: Shift, ticket: TicketView) -> None:
    save_shop(shift, replace(RATED, tax_rates=(TaxRate("State", Decimal(5)),), tax_included=True))
    add_line(shift, ticket.id, replace(KIT, reason="warranty"))
    add_line(shift, ticket.id, replace(HOUR, rate="Electrical", off="10 %"))
    add_line(shift, ticket.id, LineEntry("discount", "Neighbour", unit_price="10 %"))
    with shift.records.reading():
        rows = charge_rows(rows_of(find_ticket(ticket.id)), shift.shop)
    free, hour, discount = rows
    assert (free.value, free.net, free.before_tax) == (Decimal("18.40"), ZERO, ZERO)
    assert (hour.rate, hour.off, hour.percent) == ("Electrical", Decimal("8.50"), Decimal(10))
    assert (hour.net, hour.before_tax) == (Decimal("76.50"), Decimal("72.86"))
    assert [rate.label for rate in hour.rates] == ["State 5%"]
    assert (discount.percent, discount.net, discount.rates) == (Decimal(10), Decimal("-7.65"), ())
    assert (discount.taxed, discount.before_tax) == (True, Decimal("-7.29"))


@pytest.mark.parametrize("column", ["quantity", "unit_price", "off"])
def test_no_float_comes_near_what_a_line_comes_to(column: str) -> None:
    line = Line(kind="part", quantity=Decimal(1), unit_price=Decimal("2.00"), off=Decimal("0.10"))
    assert net_of(line) == Decimal("1.90")
    setattr(line, column, 0.1)
    with pytest.raises(TypeError):
        net_of(line)


def test_a_line_that_is_thought_of_takes_no_float(shift: Shift, ticket: TicketView) -> None:
    line = PlainLine(LineKind.PART, Decimal(1), 2.0)  # type: ignore[arg-type]
    with shift.records.reading(), pytest.raises(TypeError, match="Decimal needed"):
        price_lines(rows_of(find_ticket(ticket.id)), shift.shop, [line])

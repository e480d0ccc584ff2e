"""Credit notes on any invoice add up, and together they come to the invoice: no more, no less."""

import json
from dataclasses import replace
from decimal import Decimal

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.job.invoices.audit import adds_up
from shopdesk.job.invoices.credit_content import Note
from shopdesk.job.paper_content import ChargeRow, InvoiceContent
from shopdesk.pricing.before_tax import before_tax
from shopdesk.pricing.money import MoneyError, round_money
from shopdesk.pricing.totals import (
    LineKind,
    PricedLine,
    TaxBasis,
    TaxRate,
    TaxRule,
    line_net,
    total,
)
from tests.papers.samples import INVOICE

STATE, CITY = TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal("1.5"))
CENTS = st.integers(0, 20_000).map(lambda cents: Decimal(cents).scaleb(-2))
QUANTITIES = st.integers(1, 9000).map(lambda number: Decimal(number) / 1000) | st.integers(
    1, 12
).map(Decimal)


@st.composite
def rows(draw: st.DrawFn) -> ChargeRow:
    quantity, each = draw(QUANTITIES), draw(CENTS)
    gross = line_net(quantity, each)
    off = round_money(gross * draw(st.sampled_from([0, 0, 5, 100])) / 100)
    rates = draw(st.sampled_from([(), (STATE,), (CITY, STATE)]))
    kind = draw(st.sampled_from(["part", "labour", "fee", "sublet"]))
    return replace(
        INVOICE.rows[0],
        kind=kind,
        quantity=quantity,
        unit_price=each,
        net=gross - off,
        off=off,
        taxed=bool(rates),
        rates=rates,
    )


@st.composite
def invoices(draw: st.DrawFn) -> InvoiceContent:
    """Any invoice: prices with or without their tax, rounded on lines or on the whole."""
    charged = draw(st.lists(rows(), min_size=1, max_size=5))
    whole = sum((row.net for row in charged), Decimal(0))
    left = whole
    for share in draw(st.lists(st.integers(0, 49), max_size=2)):
        off = min(round_money(whole * share / 100), left)
        left -= off
        charged.append(
            replace(
                INVOICE.rows[-1], kind="discount", quantity=Decimal(1), unit_price=-off, net=-off
            )
        )
    lines = [
        PricedLine(LineKind(row.kind), row.net, row.rates, row.kind == "discount")
        for row in charged
    ]
    rule = TaxRule(draw(st.sampled_from(TaxBasis)), draw(st.booleans()))
    nets = before_tax(lines, rule)
    kept = tuple(replace(row, before_tax=net) for row, net in zip(charged, nets, strict=True))
    return replace(INVOICE, rows=kept, totals=total(lines, rule), payments=())


@given(invoice=invoices(), data=st.data())
def test_parts_and_the_rest_come_to_the_invoice(
    invoice: InvoiceContent, data: st.DataObject
) -> None:
    assert adds_up(invoice)
    notes: list[InvoiceContent] = []
    for number in range(data.draw(st.integers(0, 4))):
        note = Note(f"C{number}", invoice.on, "x", invoice, tuple(notes))
        made = part(note, data)
        if made is not None:
            assert adds_up(made)
            assert made.totals.total <= 0
            notes.append(made)
    assert invoice.totals.total + sum(note.totals.total for note in notes) >= 0
    rest = Note("C9", invoice.on, "x", invoice, tuple(notes)).of_rest()
    assert adds_up(rest)
    notes.append(rest)
    for name in ("net", "tax", "total", "parts", "labour", "fees", "sublet", "discount"):
        came = sum(getattr(note.totals, name) for note in notes)
        assert getattr(invoice.totals, name) + came == 0
    nothing = Note("C10", invoice.on, "x", invoice, tuple(notes))
    assert not any(row.quantity or row.net for row in nothing.left_rows().values())


def part(note: Note, data: st.DataObject) -> InvoiceContent | None:
    left = {number: row for number, row in note.left_rows().items() if row.net > 0}
    try:
        by_line: bool = data.draw(st.booleans())
        if left and by_line:
            number = data.draw(st.sampled_from(sorted(left)))
            quantity = left[number].quantity
            whole = data.draw(st.booleans())
            some = (quantity / 2).quantize(Decimal("0.001"))
            return note.of_lines({number: quantity if whole or not some else some})
        return note.of_amount(data.draw(CENTS.filter(bool)))
    except MoneyError:
        return None


def test_an_invoice_from_before_rates_stood_on_its_rows_is_credited_alike() -> None:
    """What an earlier version kept says only that a row is taxed, and at what on the whole."""
    line = PricedLine(LineKind.PART, Decimal("18.40"), (STATE,))
    older = replace(
        INVOICE,
        rows=(replace(INVOICE.rows[0], net=Decimal("18.40"), taxed=True, rates=()),),
        totals=total([line], TaxBasis.INVOICE),
        payments=(),
    )
    kept = json.loads(msgspec.json.encode(older))
    new = {"of_row", "value", "off", "percent", "rate", "rates", "before_tax", "cost"}
    kept["rows"] = [
        {name: value for name, value in row.items() if name not in new} for row in kept["rows"]
    ]
    for name in ("currency_code", "country", "e_invoice", "credits_on", "credits_how"):
        del kept[name]
    read = msgspec.json.decode(json.dumps(kept), type=InvoiceContent)
    note = Note("C1", read.on, "x", read).of_lines({1: Decimal("0.5")})
    assert (note.totals.net, note.totals.tax) == (Decimal("-9.20"), Decimal("-0.63"))
    rest = Note("C2", read.on, "x", read, (note,)).of_rest()
    assert note.totals.total + rest.totals.total == -read.totals.total

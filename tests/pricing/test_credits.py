"""What credit notes take back never comes to more than the invoice, and ends at nothing."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.credits import (
    Returned,
    Share,
    amount_returned,
    left_of,
    lines_returned,
    rest_returned,
)
from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.totals import (
    ZERO,
    LineKind,
    PricedLine,
    TaxBasis,
    TaxRate,
    Totals,
    negated,
    tax_on,
    total,
)

STATE, CITY = TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal("1.5"))
FULL = TaxRate("VAT", Decimal(19))
KINDS = (LineKind.PART, LineKind.LABOUR, LineKind.FEE)


def line(net: str, *rates: TaxRate, kind: LineKind = LineKind.PART) -> PricedLine:
    return PricedLine(kind, Decimal(net), rates)


def returned(row: PricedLine) -> Returned:
    return Returned(row.kind, row.net, tuple(sorted(row.rates)))


def bill(*lines: PricedLine, discount: str = "0") -> Totals:
    off = PricedLine(LineKind.DISCOUNT, -Decimal(discount), (), shared=True)
    return total([*lines, *([off] if off.net else [])], TaxBasis.INVOICE)


def test_one_line_of_several_is_credited_with_its_tax() -> None:
    kit = line("18.40", FULL)
    invoice = bill(kit, line("60.00", FULL, kind=LineKind.LABOUR))
    note = lines_returned([returned(kit)], invoice)
    assert (note.parts, note.labour, note.net) == (Decimal("18.40"), ZERO, Decimal("18.40"))
    assert (note.tax, note.total) == (Decimal("3.50"), Decimal("21.90"))
    left = left_of(invoice, [negated(note)])
    assert (left.net, left.tax, left.total) == (
        Decimal("60.00"),
        Decimal("11.40"),
        Decimal("71.40"),
    )


def test_the_tax_of_all_parts_together_is_that_of_the_invoice() -> None:
    """Three times 0.05 at 8.375 % is 0.00 of tax each; 0.15 has 0.01: the last note takes it."""
    lines = [line("0.05", STATE, CITY) for _ in range(3)]
    left = bill(*lines)
    assert left.tax == Decimal("0.01")
    taxes = []
    for row in lines:
        note = lines_returned([returned(row)], left)
        taxes.append(note.tax)
        left = left_of(left, [negated(note)])
    assert taxes == [Decimal("0.00"), Decimal("0.00"), Decimal("0.01")]
    assert left.net == left.tax == left.total == 0


def test_a_line_takes_its_share_of_the_bills_discount_with_it() -> None:
    kit, hour = line("20.00", FULL), line("60.00", kind=LineKind.LABOUR)
    invoice = bill(kit, hour, discount="8.00")
    assert [row.allowance for row in invoice.taxes] == [Decimal("2.00")]
    note = lines_returned([returned(kit)], invoice)
    assert (note.discount, note.net, note.tax) == (
        Decimal("-2.00"),
        Decimal("18.00"),
        Decimal("3.42"),
    )
    rest = lines_returned([returned(hour)], left_of(invoice, [negated(note)]))
    assert (rest.discount, rest.net, rest.tax) == (Decimal("-6.00"), Decimal("54.00"), ZERO)
    assert note.total + rest.total == invoice.total


def test_more_than_is_left_is_refused() -> None:
    kit = line("18.40", FULL)
    invoice = bill(kit)
    left = left_of(invoice, [negated(amount_returned(Decimal("11.90"), invoice)[0])])
    with pytest.raises(MoneyError, match=r"come to 18\.40, but only 8\.40"):
        lines_returned([returned(kit)], left)
    with pytest.raises(MoneyError, match=r"Only 10\.00 is left of this invoice"):
        amount_returned(Decimal("10.01"), left)


def test_an_amount_falls_on_what_is_taxed_alike_in_proportion() -> None:
    invoice = bill(line("100.00", FULL), line("81.00"))
    note, shares = amount_returned(Decimal("20.00"), invoice)
    assert [(share.base, share.tax) for share in shares] == [
        (Decimal("10.00"), Decimal("1.90")),
        (Decimal("8.10"), ZERO),
    ]
    assert (note.discount, note.net, note.total) == (
        Decimal("18.10"),
        Decimal("18.10"),
        Decimal("20.00"),
    )


def test_an_amount_that_no_net_with_its_tax_comes_to_names_its_neighbours() -> None:
    """At 8.25 % 0.06 has no tax and 0.07 has 0.01: nothing comes to 0.07."""
    invoice = bill(line("50.00", TaxRate("Sales tax", Decimal("8.25"))))
    with pytest.raises(MoneyError, match=r"exactly 0\.07: type 0\.06 or 0\.08"):
        amount_returned(Decimal("0.07"), invoice)
    for near in ("0.06", "0.08"):
        assert amount_returned(Decimal(near), invoice)[0].total == Decimal(near)


def test_what_is_not_taxed_takes_the_cent() -> None:
    invoice = bill(line("50.00", TaxRate("Sales tax", Decimal("8.25"))), line("50.00"))
    note, _ = amount_returned(Decimal("0.14"), invoice)
    assert note.total == Decimal("0.14")


CENTS = st.integers(1, 30_000).map(lambda cents: Decimal(cents).scaleb(-2))
RATES = st.sampled_from([(), (FULL,), (STATE,), (CITY, STATE)])
LINES = st.lists(
    st.builds(PricedLine, st.sampled_from(KINDS), CENTS, RATES), min_size=1, max_size=6
)


@given(lines=LINES, off=st.integers(0, 100), data=st.data())
def test_whatever_is_credited_in_whatever_order_the_rest_brings_it_to_nothing(
    lines: list[PricedLine], off: int, data: st.DataObject
) -> None:
    whole = sum((row.net for row in lines), ZERO)
    invoice = bill(*lines, discount=str((whole * off / 100).quantize(Decimal("0.01"))))
    waiting, notes = list(lines), list[Totals]()
    for _ in range(data.draw(st.integers(0, 4))):
        left = left_of(invoice, notes)
        try:
            if data.draw(st.booleans()) and waiting:
                row = data.draw(st.sampled_from(waiting))
                note = lines_returned([returned(row)], left)
                waiting.remove(row)
            else:
                note, shares = amount_returned(data.draw(CENTS), left)
                assert all(share.tax == tax_on(share.base, percent(share)) for share in shares) or (
                    note.total == left.total
                )
        except MoneyError:
            continue
        assert note.net == note.parts + note.labour + note.fees + note.sublet + note.discount
        assert note.total == note.net + note.tax
        assert 0 <= note.total <= left.total
        notes.append(negated(note))
    left = left_of(invoice, notes)
    assert left.total == invoice.total + sum((note.total for note in notes), ZERO)
    rest = rest_returned([returned(row) for row in waiting], left)
    notes.append(negated(rest))
    gone = left_of(invoice, notes)
    assert not any((gone.net, gone.tax, gone.total, gone.parts, gone.labour, gone.fees))
    assert all(row.base == row.tax == 0 for row in gone.taxes)
    for tax in rest.taxes:
        nets = sum((one.net for one in waiting if tuple(sorted(one.rates)) == tax.rates), ZERO)
        assert nets == tax.base + tax.allowance


def percent(share: Share) -> Decimal:
    return sum((rate.percent for rate in share.rates), Decimal(0))


def test_prices_with_their_tax_in_them_are_credited_as_they_were_paid() -> None:
    invoice = replace(bill(line("15.46", FULL)), included=True)
    kit = Returned(LineKind.PART, Decimal("15.46"), (FULL,), Decimal("2.94"))
    assert lines_returned([kit], invoice).total == Decimal("18.40")

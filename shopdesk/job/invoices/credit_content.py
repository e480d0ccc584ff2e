"""What a credit note says: which rows of the invoice it takes back, or what it allows on it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from shopdesk.job.paper_content import ChargeRow, InvoiceContent
from shopdesk.pricing.credits import (
    Rates,
    Returned,
    Share,
    amount_returned,
    left_of,
    lines_returned,
    rest_returned,
)
from shopdesk.pricing.money import round_money
from shopdesk.pricing.totals import ZERO, LineKind, Totals, negated, tax_on

DISCOUNT = "discount"


@dataclass(frozen=True, slots=True)
class Note:
    """A credit note in the making: its number, day and reason, on an invoice and its notes."""

    number: str
    on: date
    reason: str
    invoice: InvoiceContent
    earlier: Sequence[InvoiceContent] = ()

    @property
    def left(self) -> Totals:
        """What is left of the invoice, above zero."""
        return left_of(self.invoice.totals, (note.totals for note in self.earlier))

    def of_lines(self, quantities: Mapping[int, Decimal]) -> InvoiceContent:
        """Return the note that takes back so many of some rows, which are numbered from 1.

        Raises ``MoneyError`` when less is left; a quantity over what is left of its row is the
        caller's to refuse.
        """
        left = self.left_rows()
        chosen = [_part(left[number], quantity) for number, quantity in quantities.items()]
        totals = lines_returned(self._returned(chosen), self.left)
        rows = [*map(_taken_back, chosen), *self._shares(totals)]
        return self._content(rows, negated(totals), "part")

    def of_amount(self, amount: Decimal) -> InvoiceContent:
        """Return the note that allows an amount with its tax; raises ``MoneyError``."""
        totals, shares = amount_returned(amount, self.left)
        words = f"Allowed on invoice {self.invoice.number}"
        rows = [
            _discount(
                f"{words}, {_taxes(share)}" if len(shares) > 1 else words,
                -share.base,
                -share.tax if totals.included else ZERO,
                share.rates,
            )
            for share in shares
        ]
        return self._content(rows, negated(totals), "part")

    def of_rest(self) -> InvoiceContent:
        """Return the note that takes back all that is left."""
        if not self.earlier:
            rows = [replace(row, of_row=at) for at, row in enumerate(self.invoice.rows, 1)]
            return self._content(
                [_taken_back(row) for row in rows], negated(self.invoice.totals), ""
            )
        left = [row for row in self.left_rows().values() if row.quantity]
        totals = rest_returned(self._returned(left), self.left)
        rows = [*map(_taken_back, left), *self._rest_of_discounts(), *self._allowed_before()]
        return self._content(rows, negated(totals), "rest")

    def _returned(self, rows: Sequence[ChargeRow]) -> list[Returned]:
        included = self.invoice.totals.included
        return [_returned(row, included) for row in rows]

    def left_rows(self) -> dict[int, ChargeRow]:
        """Return by its number each row that is no discount, with what is left of it."""
        return {
            number: self._left(number, row)
            for number, row in enumerate(self.invoice.rows, 1)
            if row.kind != DISCOUNT
        }

    def _left(self, number: int, row: ChargeRow) -> ChargeRow:
        taken = [each for note in self.earlier for each in note.rows if each.of_row == number]
        older = self.invoice.totals.taxes if row.taxed and not row.rates else ()
        return replace(
            row,
            rates=older[0].rates if older else row.rates,
            quantity=row.quantity + sum((each.quantity for each in taken), Decimal(0)),
            net=row.net + sum((each.net for each in taken), ZERO),
            off=row.off + sum((each.off for each in taken), ZERO),
            before_tax=row.net_before_tax + sum((each.net_before_tax for each in taken), ZERO),
            of_row=number,
        )

    def _shares(self, totals: Totals) -> Iterator[ChargeRow]:
        """Yield the row that says what part of the bill's discounts goes with the lines."""
        share = -totals.discount
        if share:
            taxes = (tax_on(row.allowance, row.percent) for row in totals.taxes)
            tax = sum(taxes, ZERO) if totals.included else ZERO
            yield _discount("Their share of the discount", share, tax)

    def _rest_of_discounts(self) -> Iterator[ChargeRow]:
        given = [row for row in self.invoice.rows if row.kind == DISCOUNT]
        shares = [row for note in self.earlier for row in note.rows if _is_share(row)]
        net = sum((row.net_before_tax for row in (*given, *shares)), ZERO)
        if net:
            written = sum((row.net for row in (*given, *shares)), ZERO)
            words = "; ".join(dict.fromkeys(row.description for row in given))
            yield _discount(words, -net, net - written)

    def _allowed_before(self) -> Iterator[ChargeRow]:
        for note in self.earlier:
            for row in note.rows:
                if row.kind == DISCOUNT and row.net < 0:
                    words = f"Allowed before, credit note {note.number}"
                    yield replace(
                        _taken_back(row),
                        description=words,
                        quantity=row.quantity,
                        unit_price=-row.unit_price,
                    )

    def _content(self, rows: Sequence[ChargeRow], totals: Totals, how: str) -> InvoiceContent:
        return replace(
            self.invoice,
            number=self.number,
            credits=self.invoice.number,
            on=self.on,
            rows=tuple(rows),
            totals=totals,
            payments=(),
            warranty_days=0,
            reason=self.reason,
            credits_on=self.invoice.on,
            credits_how=how,
        )


def _part(row: ChargeRow, quantity: Decimal) -> ChargeRow:
    """Return so many of what is left of a row."""
    if quantity == row.quantity:
        return row
    share = quantity / row.quantity
    off = round_money(row.off * share)
    net = min(round_money(quantity * row.unit_price) - off, row.net)
    priced_with_tax = row.net != row.net_before_tax
    before_tax = round_money(row.net_before_tax * share) if priced_with_tax else net
    return replace(row, quantity=quantity, off=off, net=net, before_tax=before_tax)


def _returned(row: ChargeRow, included: bool) -> Returned:
    net = row.net_before_tax
    return Returned(LineKind(row.kind), net, row.rates, row.net - net if included else None)


def _taken_back(row: ChargeRow) -> ChargeRow:
    return replace(
        row,
        quantity=-row.quantity,
        net=-row.net,
        off=-row.off,
        before_tax=-row.net_before_tax,
        value=None,
    )


def _discount(words: str, net: Decimal, tax: Decimal, rates: Rates = ()) -> ChargeRow:
    """Return a row for an amount off, or for one taken back; ``tax`` is what its price holds."""
    return ChargeRow(
        kind=DISCOUNT,
        description=words,
        part_number="",
        condition="",
        quantity=Decimal(1),
        unit_price=net + tax,
        net=net + tax,
        taxed=bool(rates),
        why="",
        evidence="",
        rates=rates,
        before_tax=net,
    )


def _taxes(share: Share) -> str:
    return " + ".join(rate.label for rate in share.rates) or "not taxed"


def _is_share(row: ChargeRow) -> bool:
    return row.kind == DISCOUNT and row.net > 0

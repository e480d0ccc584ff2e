"""Whatever is done at the counter, and in whatever order, the balance and the sums are right."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.approval import approve
from shopdesk.job.bad_debts import take_back_write_off, write_off
from shopdesk.job.invoices.crediting import PartCredit, credit_part
from shopdesk.job.lines import LineEntry, add_line, drop_line, offer_again, turn_down
from shopdesk.job.opened import open_ticket
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.payments import Tender, give_back, take_payment, take_payments
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop, Supplies
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import round_money
from shopdesk.pricing.totals import LineKind, TaxBasis, TaxRate
from shopdesk.records.fetch import answers
from tests.job.workshop import HOUR, KIT, SAYS, SHOP, Clock, at_stage, open_shop

STATE, CITY = TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal("1.5"))
TAXED = replace(
    SHOP,
    tax_rates=(STATE, CITY),
    tax_kinds={"City": frozenset({LineKind.LABOUR})},
    supplies=Supplies(Decimal(5), frozenset({LineKind.LABOUR}), Decimal("15.00")),
)
SHOPS = st.builds(
    lambda basis, included: replace(TAXED, tax_basis=basis, tax_included=included),
    st.sampled_from(TaxBasis),
    st.booleans(),
)
Deed = Callable[[Shift, TicketView, str], object]
DEEDS: tuple[Deed, ...] = (
    lambda shift, ticket, much: add_line(shift, ticket.id, replace(KIT, unit_price=much)),
    lambda shift, ticket, much: add_line(shift, ticket.id, replace(KIT, unit_price=much, off="7%")),
    lambda shift, ticket, much: add_line(
        shift, ticket.id, LineEntry("sublet", "Turned", unit_price=much, reason="worn")
    ),
    lambda shift, ticket, _: add_line(shift, ticket.id, replace(HOUR, reason="goodwill")),
    lambda shift, ticket, much: add_line(
        shift, ticket.id, LineEntry("discount", "Ours", unit_price=much)
    ),
    lambda shift, ticket, _: add_line(
        shift, ticket.id, LineEntry("discount", "Club", unit_price="12.5 %")
    ),
    lambda shift, ticket, _: drop_line(shift, ticket.lines[-1].id, "not needed"),
    lambda shift, ticket, _: turn_down(shift, ticket.lines[0].id),
    lambda shift, ticket, _: offer_again(shift, ticket.lines[0].id),
    lambda shift, ticket, much: take_payment(shift, ticket.id, much, "cash"),
    lambda shift, ticket, much: take_payments(
        shift, ticket.id, (Tender(much, "card"), Tender("500", "cash"))
    ),
    lambda shift, ticket, much: give_back(shift, ticket.id, much, "cash"),
    lambda shift, ticket, _: issued(shift, ticket),
    lambda shift, ticket, _: issued(shift, ticket),
    lambda shift, ticket, _: credit_invoice(shift, ticket.id, "wrong"),
    lambda shift, ticket, much: credit_part(shift, ticket.id, PartCredit("dear", amount=much)),
    lambda shift, ticket, _: write_off(shift, ticket.id, "gone"),
    lambda shift, ticket, _: take_back_write_off(shift, ticket.id, "back"),
)
DONE = st.lists(
    st.tuples(st.sampled_from(DEEDS), st.sampled_from(["0.01", "9.99", "35", "84.67"])),
    min_size=3,
    max_size=14,
)


def issued(shift: Shift, ticket: TicketView) -> TicketView:
    """Have all that is on the ticket agreed to, done and invoiced."""
    for line in approve(shift, ticket.id, SAYS).lines:
        if line.is_work and not line.done and not line.declined:
            do_line(shift, line.id)
    return issue_invoice(shift, ticket.id)


def money(query: str) -> Decimal:
    ((cents,),) = answers(f"SELECT COALESCE(SUM({query}), 0)")
    return Decimal(cents).scaleb(-2)


def check(shift: Shift, ticket: TicketView, shop: Shop) -> None:
    with shift.records.reading():
        invoiced = money("(SELECT SUM(total) FROM invoice)")
        paid = money("(SELECT SUM(amount) FROM payment)")
        given_up = money("(SELECT SUM(amount) FROM write_off)")
        contents = [
            msgspec.json.decode(content, type=InvoiceContent)
            for (content,) in answers("SELECT content FROM invoice WHERE credits_id IS NULL")
        ]
    assert ticket.balance == invoiced - paid - given_up
    assert (ticket.paid, ticket.written_off) == (paid, given_up)
    assert ticket.paid >= 0
    for content in contents:
        follow_the_rule(content, shop)


def follow_the_rule(content: InvoiceContent, shop: Shop) -> None:
    """Check the sums of an invoice against its own rows."""
    totals = content.totals
    assert totals.total == totals.net + totals.tax
    assert totals.due == totals.total - totals.paid
    assert sum(row.net for row in content.rows) == (totals.total if totals.included else totals.net)
    assert sum(row.before_tax or 0 for row in content.rows) == totals.net
    assert all(row.net >= 0 for row in content.rows if row.kind != "discount")
    for tax in totals.taxes:
        exact = tax.base * tax.percent / 100
        if shop.tax_basis is TaxBasis.INVOICE and not shop.tax_included:
            assert tax.tax == round_money(exact)
        assert abs(tax.tax - exact) <= Decimal("0.01") * len(content.rows)


@settings(max_examples=40, deadline=None)
@given(SHOPS, DONE)
def test_the_balance_is_what_was_invoiced_less_all_that_was_credited_paid_and_given_up(
    shop: Shop, done: list[tuple[Deed, str]]
) -> None:
    with TemporaryDirectory() as folder:
        shift = open_shop(Path(folder), Clock(), shop)
        ticket = at_stage(shift, Stage.PICKUP)
        for deed, much in done:
            try:
                deed(shift, open_ticket(shift, ticket.id), much)
            except (JobError, IndexError):
                continue
            finally:
                check(shift, open_ticket(shift, ticket.id), shop)
        shift.records.close()

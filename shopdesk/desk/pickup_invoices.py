"""The invoice: issued once, printed again as it was, put right by a credit note."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.approval_totals import sums_words
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.part_credit import PartCreditCard
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shop import Shop
from shopdesk.job.views import InvoiceView, TicketView
from shopdesk.pricing.money import show_money


class Invoices(ttk.Frame):
    """Works for a ``page``: its ticket's invoices and credit notes."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._total = ttk.Label(self, font=look.STRONG)
        self._total.pack(anchor="w")
        self._sums = wrapping(ttk.Label(self, font=look.SMALL))
        self._sums.pack(fill="x")
        self._list = RowList(
            self,
            [
                Column("Number", 64),
                Column("What", 76, grows=True),
                Column("Total", 84, right=True),
                Column("When", 176),
            ],
            lines=3,
            empty="No invoice was issued yet: Alt+I issues it.",
        )
        self._list.pack(fill="x", pady=(6, 4))
        self._list.on_open(self._print)
        line = Flow(self)
        line.pack(fill="x")
        keys = page.front.keys
        self._issue = action_button(line, keys, "Issue the invoice", "Alt+I", self.issue, main=True)
        self._again = action_button(line, keys, "Print it", "Ctrl+P", self._print_chosen)
        for button in (self._issue, self._again):
            button.pack(side="left", padx=(0, 8))
        line = Flow(self)
        line.pack(fill="x", pady=(4, 0))
        self._credit = action_button(line, keys, "Credit it …", "Alt+C", self._credit_it)
        self._part = action_button(line, keys, "Credit a part …", "Alt+Z", self._credit_part)
        for button in (self._credit, self._part):
            button.pack(side="left", padx=(0, 8))

    def show(self, ticket: TicketView, shop: Shop) -> None:
        """Show a ticket's invoices."""
        total = show_money(ticket.totals.total, shop.currency)
        standing = ticket.standing_invoice
        says = _stands(standing, shop) if standing else f"The lines come to {total}"
        self._total.configure(text=f"{says}.")
        self._sums.configure(text=sums_words(ticket.totals, shop))
        self._list.show(
            [
                (one.id, _cells(one, shop), "faint" if one.credited else "")
                for one in ticket.invoices
            ]
        )
        self._issue.state(["disabled" if standing else "!disabled"])
        self._again.state(["!disabled" if ticket.invoices else "disabled"])
        for button in (self._credit, self._part):
            button.state(["!disabled" if standing else "disabled"])

    @property
    def says(self) -> str:
        """What is said of the invoice that stands, or of the lines."""
        return str(self._total.cget("text"))

    def issue(self) -> None:
        """Issue the invoice, and print it."""
        page = self._page
        if page.attempt(
            lambda: issue_invoice(page.front.shift, page.ticket.id), said="The invoice is issued."
        ):
            self._print(page.ticket.invoices[-1].id)

    def _print_chosen(self) -> None:
        ticket = self._page.ticket
        standing = ticket.standing_invoice or ticket.invoices[-1]
        self._print(self._list.selected or standing.id)

    def _print(self, invoice_id: int) -> None:
        ticket = self._page.ticket
        invoice = next(one for one in ticket.invoices if one.id == invoice_id)
        self._page.front.papers.invoice(ticket, invoice)

    def _credit_part(self) -> None:
        if self._page.ticket.standing_invoice is not None and self._page.save():
            self._page.front.open_card(PartCreditCard, self._page.ticket.id)

    def _credit_it(self) -> None:
        page, standing = self._page, self._page.ticket.standing_invoice
        if standing is None:
            return
        question = (
            f"Why is invoice {standing.number} taken back whole? "
            "The reason is printed on the credit note."
        )
        why = page.front.dialogs.ask_text("Credit the invoice", question)
        if why is not None and page.attempt(
            lambda: credit_invoice(page.front.shift, page.ticket.id, why),
            said="The credit note is written.",
        ):
            self._print(page.ticket.invoices[-1].id)


def _stands(bill: InvoiceView, shop: Shop) -> str:
    says = f"Invoice {bill.number} stands"
    if bill.credited_amount:
        says += f", with {show_money(bill.credited_amount, shop.currency)} of it credited"
    return says


def _cells(one: InvoiceView, shop: Shop) -> tuple[str, ...]:
    what = (
        f"credits {one.credits}"
        if one.credits
        else "invoice, credited"
        if one.credited
        else "invoice, part credited"
        if one.credited_amount
        else "invoice"
    )
    return (
        one.number,
        what,
        show_money(one.total, shop.currency),
        show_moment(one.issued_at, shop.zone),
    )

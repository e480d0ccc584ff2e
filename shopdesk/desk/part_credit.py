"""A part of an invoice credited: how many of which lines, or an amount; what it comes to beside it.

It stands over the ticket; Esc goes back to it.
"""

from decimal import Decimal

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.forms import Form, wrapping
from shopdesk.errors import JobError
from shopdesk.job.invoices.crediting import (
    CreditableRow,
    PartCredit,
    credit_part,
    may_be_credited,
    part_comes_to,
)
from shopdesk.job.opened import open_ticket
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money, show_quantity

_QUANTITY = "quantity_"


class PartCreditCard(Card):
    """The reason, an amount, and a field for each line of which something is left to credit."""

    page = "part credit"

    def build(self) -> None:
        """Put the action, what stands, the place of the fields, and what it comes to."""
        self._ticket: TicketView | None = None
        self._write = self.action("Write the credit note", "Ctrl+S", self.save, main=True)
        self._words = wrapping(ttk.Label(self.body))
        self._words.pack(fill="x", pady=(0, 8))
        self.watch_form(Form(self.body, columns=12))
        self._sum = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._sum.pack(fill="x", pady=(8, 0))

    def fill(self, known: int) -> None:
        """Show what of the ticket's standing invoice is left."""
        ticket = self._ticket = open_ticket(self.front.shift, known)
        bill = ticket.standing_invoice
        self._write.state(["!disabled" if bill else "disabled"])
        self._put_form(may_be_credited(self.front.shift, known))
        if bill is None:
            self.head("No invoice stands")
            self._words.configure(text="There is nothing to credit on this ticket.")
            return
        self.head(f"Credit a part of invoice {bill.number}")
        left = self._money(bill.total - bill.credited_amount)
        self._words.configure(
            text=f"{left} of it is left with tax. Type how many of a line are credited, or an "
            "amount with its tax. The invoice stands otherwise; to change its lines, credit the "
            "whole of it on the Pickup page."
        )

    def save(self) -> bool:
        """Write the credit note, print it, and go back to the ticket."""
        ticket = self._ticket
        if ticket is None or not self.form.changed:
            return True
        after = self.attempt(
            lambda: credit_part(self.front.shift, ticket.id, self._entry()), self.form
        )
        if after is None:
            return False
        self.form.settle()
        self.front.drafts.forget(self.held_at)
        self.front.open_ticket(after.id)
        self.front.notices.say("The credit note is written.")
        self.front.papers.invoice(after, after.invoices[-1])
        return True

    def focus_first(self) -> None:
        """Begin with the reason."""
        self.form.focus_first()

    def mark_typed(self) -> None:
        """Say what it comes to as it is typed."""
        super().mark_typed()
        self._sum.configure(text=self._comes_to())

    @property
    def called(self) -> str:
        """Return whose credit it is."""
        return f"a credit on {self._ticket.tag}" if self._ticket else "a credit"

    @property
    def comes_to(self) -> str:
        """What is said of the sum."""
        return str(self._sum.cget("text"))

    def _put_form(self, rows: tuple[CreditableRow, ...]) -> None:
        self.form.destroy()
        form = Form(self.body, columns=12)
        form.line("why", "Why", "is printed on the note", span=8)
        form.line("amount", "Amount with tax", "or lines below", span=4)
        for row in rows:
            form.next_row()
            left = show_quantity(row.quantity)
            form.words(f"{row.description}: {left} at {self._money(row.unit_price)}", span=8)
            form.line(f"{_QUANTITY}{row.row}", "How many", f"up to {left}", span=4)
        form.fill({})
        self.watch_form(form)
        form.pack(fill="x", after=self._words)

    def _entry(self) -> PartCredit:
        form = self.form
        rows = [
            int(name.removeprefix(_QUANTITY)) for name in form.fields if name.startswith(_QUANTITY)
        ]
        quantities = tuple((row, form.text_of(f"{_QUANTITY}{row}")) for row in rows)
        return PartCredit(form.text_of("why"), quantities, form.text_of("amount"))

    def _comes_to(self) -> str:
        entry = self._entry() if self._ticket and self.form.fields else PartCredit("")
        if self._ticket is None or not any((entry.amount, *(each for _, each in entry.quantities))):
            return ""
        try:
            amount = part_comes_to(self.front.shift, self._ticket.id, entry)
        except JobError as error:
            return error.sentence
        return f"It comes to {self._money(amount)} with its tax."

    def _money(self, amount: Decimal) -> str:
        return show_money(amount, self.front.shift.shop.currency)

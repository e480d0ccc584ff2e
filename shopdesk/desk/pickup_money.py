"""Money over the counter: what is owed, payments, deposits, money given back, what was agreed."""

import tkinter as tk
from collections.abc import Callable
from decimal import Decimal

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.payments import METHODS, change_due, drop_payment, give_back, take_payment
from shopdesk.job.pickup import agree_balance
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop
from shopdesk.job.views import PaymentView, TicketView
from shopdesk.pricing.money import show_money

Handing = Callable[[Shift, int, str, str, str], TicketView]


class Money(ttk.Frame):
    """Works for a ``page``; its two forms are ``payment`` and ``agreed``."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._balance = wrapping(ttk.Label(self, font=look.STRONG))
        self._balance.pack(fill="x")
        self._put_payment()
        self._list = RowList(
            self,
            [
                Column("When", 176),
                Column("Amount", 86, right=True),
                Column("How", 90),
                Column("Note", 90, grows=True),
            ],
            lines=3,
            empty="Nothing was paid yet.",
        )
        self._list.pack(fill="x", pady=(6, 4))
        action_button(
            self, page.front.keys, "Written down wrongly …", "Alt+D", self._drop_chosen
        ).pack(anchor="w", pady=(0, 8))
        self._list.bind_key("<Delete>", self._drop)
        self._put_agreed()

    @property
    def balance(self) -> str:
        """What is said of the balance."""
        return str(self._balance.cget("text"))

    def show(self, ticket: TicketView, shop: Shop) -> None:
        """Show what was paid and what is owed, and empty the form for a payment."""
        self._balance.configure(text=balance_words(ticket, shop))
        owed = ticket.balance if ticket.standing_invoice else 0
        self.payment.fill({"amount": str(abs(owed)) if owed else ""})
        self._list.show([(one.id, _cells(one, shop)) for one in ticket.payments])
        self.agreed.fill({"balance_reason": ticket.balance_reason})

    def agree(self) -> bool:
        """Note what was agreed about money still owed."""
        page, why = self._page, self.agreed.text_of("balance_reason")
        return page.attempt(
            lambda: agree_balance(page.front.shift, page.ticket.id, why), self.agreed, said="Noted."
        )

    def _put_payment(self) -> None:
        self.payment = form = Form(self, columns=6)
        form.line("amount", "Amount  Alt+A", span=2)
        form.choice("method", "How it is paid", METHODS, span=2)
        form.line("note", "Note", span=2)
        form.pack(fill="x", pady=(6, 0))
        form.submit_with(self._take)
        keys = self._page.front.keys
        keys.add(form, "Alt+A", "Type an amount of money", self._begin)
        line = ttk.Frame(self)
        line.pack(fill="x")
        action_button(line, keys, "Take the money", "Alt+K", self._take).pack(side="left")
        action_button(line, keys, "Give it back", "Alt+G", self._give_back).pack(
            side="left", padx=8
        )

    def _put_agreed(self) -> None:
        self.agreed = form = Form(self, columns=6)
        form.line(
            "balance_reason", "What was agreed about the rest", "so that the machine may go", span=6
        )
        form.pack(fill="x")
        form.submit_with(self.agree)
        action_button(
            self, self._page.front.keys, "Note what was agreed", "Alt+N", self.agree
        ).pack(anchor="w")

    def _begin(self) -> None:
        self.payment.focus_first()
        self.payment["amount"].input.event_generate("<<SelectAll>>")

    def _take(self) -> None:
        page, form = self._page, self.payment
        form.clear_errors()
        try:
            change = change_due(page.ticket, form.text_of("amount"), form.text_of("method"))
        except JobError as error:
            page.say_error(error, form)
            return
        if change and not self._owed_is_taken(change):
            form["amount"].focus_input()
            return
        self._hand(take_payment, "The money is noted.")

    def _owed_is_taken(self, change: Decimal) -> bool:
        """Ask whether the balance is taken and the rest goes back; then that is the amount."""
        page = self._page
        owed, symbol = page.ticket.balance, page.front.shift.shop.currency
        question = (
            f"{show_money(owed, symbol)} is owed. "
            f"Take that, and hand {show_money(change, symbol)} back as change?"
        )
        taken = page.front.dialogs.confirm("Change", question, "Take it", "Look again")
        if taken:
            self.payment.restore({"amount": str(owed)})
        return taken

    def _drop_chosen(self) -> None:
        chosen = self._list.selected
        if chosen is None:
            self._page.front.notices.trouble("Choose a payment in the list first.")
            self._list.focus_list()
        else:
            self._drop(chosen)

    def _drop(self, payment_id: int) -> None:
        page = self._page
        one = next(one for one in page.ticket.payments if one.id == payment_id)
        amount = show_money(one.amount, page.front.shift.shop.currency)
        why = page.front.dialogs.ask_text(
            "Written down wrongly", f"What is wrong with {amount}, {one.method}? It is taken out."
        )
        if why is not None:
            page.attempt(
                lambda: drop_payment(page.front.shift, payment_id, why),
                said="The payment is taken out; the journal keeps it.",
            )

    def _give_back(self) -> None:
        self._hand(give_back, "What was given back is noted.")

    def _hand(self, job: Handing, said: str) -> None:
        page, form = self._page, self.payment
        amount, method, note = (form.text_of(name) for name in ("amount", "method", "note"))
        page.attempt(
            lambda: job(page.front.shift, page.ticket.id, amount, method, note),
            form,
            said=said,
            empty=True,
        )


def balance_words(ticket: TicketView, shop: Shop) -> str:
    """Return in words who owes what."""
    paid = show_money(ticket.paid, shop.currency)
    if not ticket.invoices:
        return (
            f"No invoice yet. {paid} was paid ahead."
            if ticket.paid
            else "No invoice yet, and nothing paid."
        )
    owed = show_money(abs(ticket.balance), shop.currency)
    if ticket.balance > 0:
        return f"The owner owes {owed}. {paid} was paid."
    if ticket.balance < 0:
        return f"We owe the owner {owed}: give it back, or note what was agreed."
    return f"Nothing is owed. {paid} was paid."


def _cells(one: PaymentView, shop: Shop) -> tuple[str, ...]:
    kind = "given back, " if one.amount < 0 else ""
    return (
        show_moment(one.taken_at, shop.zone),
        show_money(one.amount, shop.currency),
        f"{kind}{one.method}",
        one.note,
    )

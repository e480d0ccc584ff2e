"""Money over the counter: payments, deposits, money given back, debts given up, what was agreed."""

import tkinter as tk
from collections.abc import Callable
from decimal import Decimal

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.bad_debts import (
    amount_given_up,
    reason_given,
    take_back_write_off,
    write_off,
)
from shopdesk.job.payments import METHODS, Tender, change_of, drop_payment, give_back, take_payments
from shopdesk.job.pickup import agree_balance
from shopdesk.job.shop import Shop
from shopdesk.job.views import PaymentView, TicketView, WriteOffView
from shopdesk.pricing.money import show_money

_WRITE_OFF = "Write it off"
_SAYS_MONEY = ("amount", "amount_2", "note")


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
            empty="Nothing was paid yet: Alt+A takes an amount.",
        )
        self._list.pack(fill="x", pady=(6, 4))
        self._put_corrections()
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
        given_up = [(-one.id, _given_up(one, shop), "faint") for one in ticket.write_offs]
        self._list.show([*((one.id, _cells(one, shop)) for one in ticket.payments), *given_up])
        self._debt.configure(text=f"{debt_words(ticket)}  Alt+X")
        may = ticket.balance > 0 or ticket.written_off > 0
        self._debt.state(["!disabled" if may else "disabled"])
        self.agreed.fill({"balance_reason": ticket.balance_reason})

    def agree(self) -> bool:
        """Note what was agreed about money still owed."""
        page, why = self._page, self.agreed.text_of("balance_reason")
        if not why.strip() and not page.ticket.balance_reason:
            page.ask_for(
                self.agreed, "balance_reason", "Type what was agreed about the rest, then Alt+N."
            )
            return False
        return page.attempt(
            lambda: agree_balance(page.front.shift, page.ticket.id, why),
            self.agreed,
            said="Noted." if why.strip() else "What was agreed is taken back.",
        )

    def takes_nothing(self) -> bool:
        """Put the form back where no amount and no note is left in it; returns whether that is so.

        How it would have been paid says nothing alone.
        """
        empty = not any(self.payment.text_of(name).strip() for name in _SAYS_MONEY)
        if empty:
            self.payment.put_back()
        return empty

    def _put_payment(self) -> None:
        self.payment = form = Form(self, columns=6)
        form.line("amount", "Amount  Alt+A", span=2)
        form.choice("method", "How it is paid", METHODS, span=2)
        form.line("note", "Note", span=2)
        form.line("amount_2", "And another amount", span=2)
        form.choice("method_2", "How that is paid", METHODS, span=2)
        form.pack(fill="x", pady=(6, 0))
        form.suggests("amount")
        form.submit_with(self._take)
        for field in form:
            field.input.bind("<Escape>", self._put_back, add="+")
        keys = self._page.front.keys
        keys.add(form, "Alt+A", "Type an amount of money", self._begin)
        line = Flow(self)
        line.pack(fill="x")
        action_button(line, keys, "Take the money", "Alt+K", self._take).pack(side="left")
        action_button(line, keys, "Give it back", "Alt+G", self._give_back).pack(
            side="left", padx=8
        )

    def _put_corrections(self) -> None:
        line, keys = Flow(self), self._page.front.keys
        line.pack(fill="x", pady=(0, 8))
        action_button(line, keys, "Written down wrongly …", "Alt+D", self._drop_chosen).pack(
            side="left"
        )
        self._debt = action_button(line, keys, "Write it off …", "Alt+X", self._give_up)
        self._debt.pack(side="left", padx=8)

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

    def _put_back(self, _event: object) -> str:
        """Leave what was typed: what is owed stands in the amount again."""
        self.payment.put_back()
        self._begin()
        return "break"

    def _take(self) -> None:
        page, form = self._page, self.payment
        form.clear_errors()
        tenders = self._tenders()
        try:
            change = change_of(page.ticket, tenders)
        except JobError as error:
            page.say_error(error, form)
            return
        if change and not self._owed_is_taken(change):
            form["amount"].focus_input()
            return
        note = form.text_of("note")
        page.attempt(
            lambda: take_payments(page.front.shift, page.ticket.id, tenders, note),
            form,
            said="The money is noted.",
            empty=True,
        )

    def _tenders(self) -> tuple[Tender, Tender]:
        text = self.payment.text_of
        return (
            Tender(text("amount"), text("method")),
            Tender(text("amount_2"), text("method_2")),
        )

    def _owed_is_taken(self, change: Decimal) -> bool:
        """Ask whether the balance is taken and the rest goes back."""
        page = self._page
        owed, symbol = page.ticket.balance, page.front.shift.shop.currency
        question = (
            f"{show_money(owed, symbol)} is owed. "
            f"Take that, and hand {show_money(change, symbol)} back as change?"
        )
        return page.front.dialogs.confirm("Change", question, "Take it", "Look again")

    def _drop_chosen(self) -> None:
        chosen = self._list.selected
        if chosen is None:
            self._page.front.notices.trouble("Choose a payment in the list first.")
            self._list.focus_list()
        else:
            self._drop(chosen)

    def _drop(self, payment_id: int) -> None:
        page = self._page
        if payment_id < 0:
            page.front.notices.trouble("No money came in with that: Alt+X has it owed again.")
            return
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
        page, form = self._page, self.payment
        amount, method, note = (form.text_of(name) for name in ("amount", "method", "note"))
        page.attempt(
            lambda: give_back(page.front.shift, page.ticket.id, amount, method, note),
            form,
            said="What was given back is noted.",
            empty=True,
        )

    def _give_up(self) -> None:
        """Write the debt off, all or a part, or have it owed again; each asks for the reason."""
        ticket, again = self._page.ticket, self._page.ticket.balance <= 0
        if ticket.balance > 0 and ticket.written_off > 0:
            chosen = self._page.front.dialogs.choose(
                _WRITE_OFF,
                f"{self._shown(ticket.written_off)} was written off already.",
                (
                    f"Give up some of the {self._shown(ticket.balance)} still owed",
                    f"Have the {self._shown(ticket.written_off)} owed again",
                ),
            )
            if chosen is None:
                return
            again = chosen == 1
        if again:
            self._have_owed_again()
        else:
            self._write_off()

    def _write_off(self) -> None:
        page, ticket, shop = self._page, self._page.ticket, self._page.front.shift.shop
        typed = self._asked(
            _WRITE_OFF,
            f"How much of the {self._shown(ticket.balance)} that is owed is given up?",
            str(ticket.balance),
            lambda amount: amount_given_up(ticket, amount, shop),
        )
        if typed is None:
            return
        amount = self._shown(amount_given_up(ticket, typed, shop))
        question = (
            f"Why is {amount} given up? It stays on the ticket as a debt that was written off."
        )
        why = self._asked(_WRITE_OFF, question, "", reason_given)
        if why is not None:
            page.attempt(
                lambda: write_off(page.front.shift, ticket.id, why, typed),
                said=f"{amount} is written off.",
            )

    def _have_owed_again(self) -> None:
        page = self._page
        amount = self._shown(page.ticket.written_off)
        why = self._asked("Owed after all", f"Why is {amount} owed again?", "", reason_given)
        if why is not None:
            page.attempt(
                lambda: take_back_write_off(page.front.shift, page.ticket.id, why),
                said=f"{amount} is owed again.",
            )

    def _asked(
        self, title: str, question: str, typed: str, read: Callable[[str], object]
    ) -> str | None:
        """Ask until it can be read, with what is wrong before the question and what was typed."""
        asks = question
        while (answer := self._page.front.dialogs.ask_text(title, asks, typed)) is not None:
            try:
                read(answer)
            except JobError as error:
                asks, typed = f"{error.sentence} {question}", answer
            else:
                return answer
        return None

    def _shown(self, amount: Decimal) -> str:
        return show_money(amount, self._page.front.shift.shop.currency)


def debt_words(ticket: TicketView) -> str:
    """Return what may be done about the debt."""
    written_off = ticket.balance <= 0 < ticket.written_off
    return "Owed after all …" if written_off else "Write it off …"


def balance_words(ticket: TicketView, shop: Shop) -> str:
    """Return in words who owes what, and what was given up of it."""
    given_up = show_money(ticket.written_off, shop.currency)
    words = _owed_words(ticket, shop)
    return f"{words} {given_up} was written off." if ticket.written_off else words


def _owed_words(ticket: TicketView, shop: Shop) -> str:
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


def _given_up(one: WriteOffView, shop: Shop) -> tuple[str, ...]:
    return (
        show_moment(one.written_at, shop.zone),
        show_money(abs(one.amount), shop.currency),
        "written off" if one.amount > 0 else "owed again",
        one.why,
    )

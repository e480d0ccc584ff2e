"""The owner's word: the estimates given, the form for a yes or a no, and what was said so far."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.approval_totals import charge_words, no_words
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.scrolling import bring_into_sight
from shopdesk.errors import JobError
from shopdesk.job.approval import (
    WAYS,
    SayEntry,
    approve,
    decline,
    drop_approval,
    quote,
    refuse_unsaid,
)
from shopdesk.job.options.named import ways_to_choose
from shopdesk.job.shop import Shop
from shopdesk.job.views import ApprovalView, EstimateView, TicketView
from shopdesk.pricing.money import show_money

_ON_THE_PHONE = ("by phone", "by text")


class OwnersWord(ttk.Frame):
    """Works for a ``page``; its two forms are ``estimate`` and ``say``."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._charge = wrapping(ttk.Label(self, font=look.STRONG))
        self._charge.pack(fill="x")
        self._no = wrapping(ttk.Label(self))
        self._no.pack(fill="x", pady=(0, 6))
        self._put_estimate()
        self._put_say()
        self._put_said()

    @property
    def charge(self) -> str:
        """What is said of how much may be charged."""
        return str(self._charge.cget("text"))

    def show(self, ticket: TicketView, shop: Shop) -> None:
        """Show a ticket's estimates and answers, and empty the forms."""
        self._charge.configure(text=charge_words(ticket, shop))
        self._no.configure(text=no_words(ticket, shop))
        self._given.configure(text=estimate_words(ticket.estimates, shop))
        self._again.state(["!disabled" if ticket.estimates else "disabled"])
        self.estimate.fill({})
        self._ways.offer(ways_to_choose(self._page.front.shift, ticket.id))
        self.say.fill({"who": ticket.owner.name})
        self._said.show(
            [(one.id, _answer(one, shop), "" if one.yes else "faint") for one in ticket.approvals]
        )

    def give_estimate(self) -> bool:
        """Write the estimate down as it stands, and print it."""
        page, ready_by = self._page, self.estimate.text_of("ready_by")
        done = page.attempt(
            lambda: quote(page.front.shift, page.ticket.id, ready_by),
            self.estimate,
            said="The estimate is given.",
        )
        if done:
            self._print()
        return done

    def _put_estimate(self) -> None:
        self.estimate = form = Form(self, columns=8)
        form.line("ready_by", "Could be ready by", "a day", span=2)
        form.pack(fill="x")
        form.submit_with(self.give_estimate)
        line = Flow(form)
        line.grid(row=0, column=2, columnspan=6, sticky="sew", pady=(0, 6))
        keys = self._page.front.keys
        action_button(line, keys, "Give an estimate", "Alt+E", self.give_estimate).pack(side="left")
        self._again = action_button(line, keys, "Print it again", "Ctrl+P", self._print)
        self._again.pack(side="left", padx=8)
        self._given = wrapping(ttk.Label(line, font=look.SMALL))
        self._given.pack(side="left", fill="x", expand=True)

    def _put_say(self) -> None:
        self.say = form = Form(self, columns=12)
        form.line("who", "Who said it", span=3)
        form.choice("how", "How", WAYS, span=2)
        form.line("phone", "Phone", "if by phone", span=2)
        form.line("amount", "Up to", "empty: the total", span=2)
        form.line("note", "Note", span=3)
        self._ways = form.choice(
            "option", "Way out they chose", [], "if there were several", span=5
        )
        form.line("said", "When, if earlier", "yesterday 16:30", span=4)
        form.pack(fill="x")
        form.submit_with(self._yes)
        form["how"].watch(self._fill_in_phone)
        line = Flow(self)
        line.pack(fill="x")
        for field in form:
            field.input.bind("<FocusIn>", lambda _event: bring_into_sight(line), add="+")
        keys = self._page.front.keys
        self.yes = action_button(line, keys, "They said yes", "Alt+Y", self._yes, main=True)
        self.yes.pack(side="left")
        action_button(line, keys, "They said no …", "Alt+N", self._say_no).pack(side="left", padx=8)
        words = "What they don't want of it: mark it in the list above (Alt+U) before the yes."
        ttk.Label(line, text=words, font=look.SMALL).pack(side="left", padx=(4, 0))

    def _put_said(self) -> None:
        self._said = RowList(
            self,
            [
                Column("When", 160),
                Column("Said", 44),
                Column("To what", 110),
                Column("Up to", 80, right=True),
                Column("Who", 120, grows=True),
                Column("How", 130),
                Column("Estimate", 72),
                Column("Note", 100),
            ],
            lines=3,
            empty="The owner has not been asked yet: Alt+E gives an estimate.",
        )
        self._said.pack(fill="x", pady=(8, 0))
        self._said.bind_key("<Delete>", self._take_back)
        keys = self._page.front.keys
        button = action_button(self, keys, "Take an answer back …", "Alt+T", self._take_back_chosen)
        button.pack(anchor="w", pady=(4, 0))

    def _fill_in_phone(self) -> None:
        """Put in the owner's first number while it was on the phone, take it out if it was not."""
        first = next((one.number for one in self._page.ticket.owner.phones), "")
        on_the_phone = self.say.text_of("how") in _ON_THE_PHONE
        if self.say.text_of("phone") == ("" if on_the_phone else first):
            self.say.restore({"phone": first if on_the_phone else ""})

    def _print(self) -> None:
        ticket = self._page.ticket
        if ticket.estimates:
            self._page.front.papers.estimate(ticket, ticket.estimates[-1])

    def _yes(self) -> None:
        page = self._page
        page.attempt(
            lambda: approve(page.front.shift, page.ticket.id, self.say.into(SayEntry)),
            self.say,
            said="The yes is recorded.",
            empty=True,
        )

    def _say_no(self) -> None:
        page = self._page
        self.say.clear_errors()
        try:
            refuse_unsaid(self.say.into(SayEntry))
        except JobError as error:
            page.say_error(error, self.say)
            return
        owed = no_words(page.ticket, page.front.shift.shop)
        question = f"All that was offered is declined. {owed} Record the no?"
        if page.front.dialogs.confirm("The owner says no", question, "Record it", "Leave it"):
            page.attempt(
                lambda: decline(page.front.shift, page.ticket.id, self.say.into(SayEntry)),
                self.say,
                said="The no is recorded.",
                empty=True,
            )

    def _take_back_chosen(self) -> None:
        chosen = self._said.selected
        if chosen is None:
            self._page.front.notices.trouble("Choose an answer in the list first.")
            self._said.focus_list()
        else:
            self._take_back(chosen)

    def _take_back(self, approval_id: int) -> None:
        front = self._page.front
        why = front.dialogs.ask_text("Take an answer back", "Why is this answer taken back?")
        if why is not None:
            self._page.attempt(
                lambda: drop_approval(front.shift, approval_id, why),
                said="The answer is taken back; the journal keeps it.",
            )


def estimate_words(estimates: tuple[EstimateView, ...], shop: Shop) -> str:
    """Return the last estimate in words."""
    if not estimates:
        return "No estimate was given yet."
    last = estimates[-1]
    when = show_moment(last.made_at, shop.zone)
    return f"Estimate {last.number} over {show_money(last.total, shop.currency)} was given {when}."


def _answer(one: ApprovalView, shop: Shop) -> tuple[str, ...]:
    return (
        show_moment(one.said_at, shop.zone),
        "yes" if one.yes else "no",
        one.option,
        show_money(one.amount, shop.currency) if one.yes else "",
        one.who,
        " ".join(filter(None, (one.how, one.phone))),
        one.estimate_number,
        one.note,
    )

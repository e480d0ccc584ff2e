"""The Pickup page: the owner told, the invoice, the money, and the papers that go home."""

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.columns import side_by_side
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.pickup_after import After
from shopdesk.desk.pickup_invoices import Invoices
from shopdesk.desk.pickup_money import Money
from shopdesk.errors import JobError
from shopdesk.job.approval import WAYS
from shopdesk.job.causes import hint
from shopdesk.job.pickup import (
    close_unfetched,
    missing_letters,
    refuse_unfetched,
    tell_ready,
)
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView


class PickupPage(Page):
    """Two columns: owner, invoice and papers at the left, the money at the right."""

    title = "Pickup"
    stages = (Stage.PICKUP, Stage.CLOSED)

    def build(self) -> None:
        """Put the page together, column by column."""
        left, right = ttk.Frame(self.body), ttk.Frame(self.body)
        side_by_side(self.body, left, right)
        section(left, "Tell the owner", top=0)
        self._put_telling(left)
        section(left, "Invoice", top=14)
        self.invoices = Invoices(left, self)
        self.invoices.pack(fill="x")
        section(left, "Goes home with it, and after")
        self.after_it = After(left, self)
        self.after_it.pack(fill="x")
        self.keep_typed("reminder", self.after_it.reminder)
        self._hint = wrapping(ttk.Label(left, font=look.SMALL))
        self._hint.pack(fill="x", pady=(6, 0))
        section(right, "Money", top=0)
        self.money = Money(right, self)
        self.money.pack(fill="x")
        self.keep_typed("payment", self.money.payment)
        self.keep_typed("agreed", self.money.agreed)
        section(right, "Never fetched", top=14)
        self._put_unfetched(right)

    def refresh(self) -> None:
        """Show the ticket's invoices, money and papers."""
        ticket, shop = self.ticket, self.front.shift.shop
        self._told_label.configure(text=told_words(ticket, shop.zone))
        self.telling.fill({})
        self.invoices.show(ticket, shop)
        self.money.show(ticket, shop)
        self.after_it.show(ticket)
        closed = ticket.stage is Stage.CLOSED
        self._unfetched.state(["disabled" if closed else "!disabled"])
        wanted = hint(ticket)
        self._hint.configure(text=f"{wanted} Repair (Alt+4), then Alt+T." if wanted else "")

    def save(self) -> bool:
        """Keep what was agreed; an amount half typed waits for its own key."""
        if self.money.agreed.changed and not self.money.agree():
            return False
        if self.money.payment.changed and not self.money.takes_nothing():
            self.front.notices.trouble(
                "An amount is typed and not noted: press Alt+K to take it or Alt+G to give it back."
            )
            self.money.payment.focus_first()
            return False
        return True

    @property
    def told(self) -> str:
        """What is said of whether the owner knows."""
        return str(self._told_label.cget("text"))

    @property
    def hint(self) -> str:
        """What is asked for before the machine goes, and does not stop it."""
        return str(self._hint.cget("text"))

    def _put_telling(self, parent: ttk.Frame) -> None:
        self._told_label = wrapping(ttk.Label(parent))
        self._told_label.pack(fill="x", pady=(0, 4))
        self.telling = form = Form(parent, columns=6)
        form.choice("how", "How they are told", WAYS, "or as it was", span=3, free=True)
        form.pack(fill="x")
        form.submit_with(self._tell)
        button = action_button(form, self.front.keys, "They are told", "Alt+T", self._tell)
        button.grid(row=0, column=3, columnspan=3, sticky="sw", pady=(0, 6))
        self.keep_typed("told", form)

    def _put_unfetched(self, parent: ttk.Frame) -> None:
        words = "Check your local law on what was left with you before you sell or scrap it."
        wrapping(ttk.Label(parent, text=words)).pack(fill="x", pady=(0, 4))
        self._unfetched = action_button(
            parent, self.front.keys, "Close it as never fetched …", "Alt+F", self._close_unfetched
        )
        self._unfetched.pack(anchor="w")

    def _tell(self) -> None:
        how = self.telling.text_of("how")
        self.attempt(
            lambda: tell_ready(self.front.shift, self.ticket.id, how),
            self.telling,
            said="It is noted that the owner was told.",
            empty=True,
        )

    def _close_unfetched(self) -> None:
        try:
            refuse_unfetched(self.front.shift, self.ticket.id)
        except JobError as error:
            self.say_error(error)
            return
        question = (
            f"What became of {self.ticket.unit.title}, that {self.ticket.owner.name} never fetched?"
        )
        became = self.front.dialogs.ask_text("Never fetched", question)
        if became is None:
            return
        missing = missing_letters(self.front.shift, self.ticket.id)
        why = self._why_unannounced(missing) if missing else ""
        if why is not None:
            self.attempt(
                lambda: close_unfetched(self.front.shift, self.ticket.id, became, why),
                said=f"{self.ticket.tag} is closed as never fetched.",
            )

    def _why_unannounced(self, missing: str) -> str | None:
        question = (
            f"Nothing is sold or scrapped unannounced, and {missing} (Ctrl+5). Check your local "
            "law. Why is it closed without?"
        )
        return self.front.dialogs.ask_text("Never fetched", question)


def told_words(ticket: TicketView, zone: str) -> str:
    """Return whether the owner knows that the machine is ready, and how they can be reached."""
    if ticket.told_ready_at is not None:
        return f"The owner was told on {show_moment(ticket.told_ready_at, zone)} that it is ready."
    phones = ", ".join(
        " ".join(filter(None, (one.label, one.number))) for one in ticket.owner.phones
    )
    reach = ", ".join(filter(None, (phones, ticket.owner.email)))
    return f"Not told yet that it is ready. {ticket.owner.name}: {reach or 'no phone, no e-mail'}."

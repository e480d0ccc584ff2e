"""The Approval page: what the repair needs and costs, the estimate, and the owner's yes or no."""

from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.approval_say import OwnersWord
from shopdesk.desk.approval_totals import sums_words
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_form import LineForm
from shopdesk.desk.line_list import LineList
from shopdesk.desk.page import Draft, Page
from shopdesk.job.lines import drop_line, offer_again, turn_down
from shopdesk.job.model_notes import keep_part
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.reasons import WORDS, Reason
from shopdesk.job.reckoned import charge_disposal
from shopdesk.job.stages import Stage
from shopdesk.job.standing import ON_HAND, ON_ORDER
from shopdesk.job.views import LineView, TicketView
from shopdesk.pricing.money import show_money


class ApprovalPage(Page):
    """Lines with their sums, the form for one line, and the owner's word."""

    title = "Approval"
    stages = (Stage.APPROVAL, Stage.PARTS)

    def build(self) -> None:
        """Put the page together from top to bottom."""
        self._comeback = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._heading = section(self.body, "What the repair needs", top=0)
        self.lines = LineList(self.body)
        self.lines.pack(fill="x")
        self.lines.list.on_open(lambda _key: self._change())
        self.lines.list.bind_key("<Delete>", lambda _key: self._drop())
        self._put_sums()
        self._put_line_actions()
        self.entry = LineForm(self.body, self)
        self.entry.pack(fill="x", pady=(8, 0))
        self.keep_typed("line", self.entry.form)
        section(self.body, "The owner's word")
        self.word = OwnersWord(self.body, self)
        self.word.pack(fill="x")
        self.keep_typed("say", self.word.say)
        self.keep_typed("estimate", self.word.estimate)

    def refresh(self) -> None:
        """Show the ticket's lines, sums, estimates and answers."""
        ticket, shop = self.ticket, self.front.shift.shop
        self._show_comeback(ticket)
        self.lines.show(ticket.lines, shop, self.front.shift.today_in(shop))
        if shop.disposal_fee:
            self._disposal.pack(before=self.entry, anchor="w", pady=(6, 0))
        else:
            self._disposal.pack_forget()
        self._sums.configure(text=sums_words(ticket.totals, shop))
        self._total.configure(text=f"Total {show_money(ticket.totals.total, shop.currency)}")
        self.entry.offer(ticket)
        self.word.show(ticket, shop)

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and whether a line is being changed."""
        super().show(ticket, draft)
        self.entry.show_mode()

    def focus_first(self) -> None:
        """Go on with a line that is typed; else begin in the list, or at a new line."""
        if self.entry.form.changed:
            self.entry.resume()
        elif self.ticket.lines:
            self.lines.list.focus_list()
        else:
            self.entry.begin()

    def save(self) -> bool:
        """Keep the line that is typed; an answer half typed waits for its own key."""
        if self.entry.form.changed and not self.entry.keep():
            return False
        if self.word.say.changed:
            self.front.notices.trouble(
                "An answer is typed and not recorded: press Alt+Y for yes or Alt+N for no."
            )
            self.word.say["how"].focus_input()
            return False
        return True

    @property
    def total(self) -> str:
        """What is said of the total."""
        return str(self._total.cget("text"))

    @property
    def sums(self) -> str:
        """What is said of the sums before it."""
        return str(self._sums.cget("text"))

    @property
    def comeback(self) -> str:
        """What is asked of a machine that came back, or nothing."""
        return str(self._comeback.cget("text"))

    def _show_comeback(self, ticket: TicketView) -> None:
        """Ask whether what is put right again is ours to pay."""
        self._comeback.configure(text=comeback_words(ticket))
        if ticket.comeback_of is None:
            self._comeback.pack_forget()
        else:
            self._comeback.pack(fill="x", pady=(0, 4), before=self._heading)

    def _put_sums(self) -> None:
        line = ttk.Frame(self.body)
        line.pack(fill="x", pady=(2, 4))
        self._total = ttk.Label(line, font=look.HEADING)
        self._total.pack(side="right", padx=(16, 0))
        self._sums = wrapping(ttk.Label(line, anchor="e", justify="right"))
        self._sums.pack(side="left", fill="x", expand=True)

    def _put_line_actions(self) -> None:
        line = Flow(self.body)
        line.pack(fill="x")
        for words, key, run in (
            ("List", "Alt+L", self.lines.list.focus_list),
            ("Change", "F2", self._change),
            ("Drop …", "Alt+D", self._drop),
            ("Leave it out", "Alt+U", self._turn),
            ("Ordered …", "Alt+R", self._ordered),
            ("Part is here", "Alt+H", self._here),
            ("Model card", "Ctrl+K", self._keep),
        ):
            action_button(line, self.front.keys, words, key, run).pack(side="left", padx=(0, 8))
        self._disposal = action_button(
            self.body, self.front.keys, "Add the disposal fee", "Alt+G", self._dispose
        )

    def _with_chosen(self, run: Callable[[LineView], object]) -> None:
        line = self.lines.chosen
        if line is None:
            self.front.notices.trouble("Choose a line in the list first.")
            self.lines.list.focus_list()
        else:
            run(line)

    def _change(self) -> None:
        self._with_chosen(self.entry.change)

    def _drop(self) -> None:
        def drop(line: LineView) -> None:
            why = self.front.dialogs.ask_text(
                "Drop a line", f"Why is “{line.description}” taken off?"
            )
            if why is not None:
                said = "The line is off the ticket; the journal keeps it."
                self.attempt(lambda: drop_line(self.front.shift, line.id, why), said=said)

        self._with_chosen(drop)

    def _turn(self) -> None:
        def turn(line: LineView) -> None:
            job, said = (
                (offer_again, "wanted again") if line.declined else (turn_down, "not wanted")
            )
            self.attempt(
                lambda: job(self.front.shift, line.id), said=f"{line.description}: {said}."
            )

        self._with_chosen(turn)

    def _ordered(self) -> None:
        def ordered(line: LineView) -> None:
            question = f"When should “{line.description}” come? Type a day, or leave it empty."
            day = self.front.dialogs.ask_text("Ordered", question)
            if day is not None:
                self._supply(line, ON_ORDER, day)

        self._with_chosen(ordered)

    def _here(self) -> None:
        self._with_chosen(lambda line: self._supply(line, ON_HAND, ""))

    def _keep(self) -> None:
        def keep(line: LineView) -> None:
            self.attempt(
                lambda: self.anew(lambda: keep_part(self.front.shift, line.id)),
                said=f"{line.description} stands on the model's card as a usual part (Alt+7).",
            )

        self._with_chosen(keep)

    def _dispose(self) -> None:
        self.attempt(
            lambda: charge_disposal(self.front.shift, self.ticket.id),
            said="The disposal fee is on the ticket.",
        )

    def _supply(self, line: LineView, supply: str, day: str) -> None:
        self.attempt(
            lambda: set_supply(self.front.shift, line.id, supply, day),
            said=f"{line.description}: {supply}.",
        )


def comeback_words(ticket: TicketView) -> str:
    """Return which ticket the machine came back of, and which reason charges nothing."""
    if ticket.comeback_of is None:
        return ""
    return (
        f"Comeback of T{ticket.comeback_of}: is this under warranty? "
        f"The reason “{WORDS[Reason.COMEBACK]}” charges nothing."
    )

"""The Options page: the ways out side by side, for an owner to read at arm's length and choose."""

from typing import ClassVar

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.options.own import NewPrice, OwnWays
from shopdesk.desk.options.table import WaysTable
from shopdesk.desk.page import Page
from shopdesk.job.approval import WAYS, SayEntry
from shopdesk.job.options.taking import take_option
from shopdesk.job.options.views import OptionsView, OptionView
from shopdesk.job.options.worked_out import options_for
from shopdesk.job.stages import Stage
from shopdesk.pricing.money import show_money


class OptionsPage(Page):
    """What we would take, the columns, a sentence for each, and what they rest on."""

    title = "Options"
    stages: ClassVar[tuple[Stage, ...]] = ()

    def build(self) -> None:
        """Put the page together from top to bottom."""
        self._view: OptionsView | None = None
        top = ttk.Frame(self.body)
        top.pack(fill="x", pady=(0, 6))
        action_button(top, self.front.keys, "Print", "Ctrl+P", self._print).pack(side="right")
        self._suggestion = wrapping(ttk.Label(top, font=look.HEADING, bootstyle="primary"))
        self._suggestion.pack(side="left", fill="x", expand=True, padx=(0, 12))
        self.table = WaysTable(self.body, self.front.keys, self._choose)
        self.table.pack(fill="x")
        self._sentences = ttk.Frame(self.body)
        self._sentences.pack(fill="x", pady=(10, 0))
        self._sentences.columnconfigure(1, weight=1)
        self.new_price = NewPrice(self.body, self)
        self.new_price.pack(fill="x", pady=(10, 0))
        self.keep_typed("new price", self.new_price.form)
        section(self.body, "A way of your own")
        self.own = OwnWays(self.body, self)
        self.own.pack(fill="x")
        self.keep_typed("own way", self.own.form)
        section(self.body, "What the figures rest on")
        self._guide = wrapping(ttk.Label(self.body, bootstyle="secondary", justify="left"))
        self._guide.pack(fill="x")

    def refresh(self) -> None:
        """Work the ways out anew and show them."""
        view = options_for(self.front.shift, self.ticket.id)
        self._view = view
        self._suggestion.configure(text=view.suggestion)
        self.table.show(view.options, self.front.shift.shop.currency)
        self._show_sentences(view)
        self.new_price.show(view)
        self.own.show(self.ticket, view)
        self._guide.configure(text="\n".join(_guide(view)))

    def focus_first(self) -> None:
        """Go on with a way that is typed; else the keys of the columns wait."""
        if self.own.form.changed:
            self.own.form.focus_first()
        else:
            self.focus_set()

    def save(self) -> bool:
        """Keep the price and the way that are typed."""
        kept = not self.new_price.form.changed or self.new_price.keep()
        return kept and (not self.own.form.changed or self.own.keep())

    @property
    def suggestion(self) -> str:
        """What is said of the way we would take."""
        return str(self._suggestion.cget("text"))

    @property
    def sentences(self) -> list[str]:
        """What is said of each way."""
        labels = self._sentences.grid_slaves(column=1)
        return [str(label.cget("text")) for label in reversed(labels)]

    def _show_sentences(self, view: OptionsView) -> None:
        for child in self._sentences.winfo_children():
            child.destroy()
        said = [(option.title, option.words) for option in view.options]
        for row, (title, words) in enumerate((*said, *view.left_out)):
            ttk.Label(self._sentences, text=title, font=look.STRONG).grid(
                row=row, column=0, sticky="nw", padx=(0, 12), pady=(0, 3)
            )
            sentence = wrapping(ttk.Label(self._sentences, text=words, justify="left"))
            sentence.grid(row=row, column=1, sticky="ew", pady=(0, 3))

    def _choose(self, key: str) -> None:
        option = self._view.option(key) if self._view else None
        if option is None:
            return
        if option.mends:
            self._take(option)
        else:
            self._say_no(option)

    def _take(self, option: OptionView) -> None:
        """Put a repair's lines on the ticket; what the mechanic typed is asked about first."""
        assert self._view is not None
        typed = () if option.stands else self._view.by_hand
        if typed and not self.front.dialogs.confirm(
            option.title,
            f"These lines come off the ticket: {', '.join(typed)}. The journal keeps them. "
            f"Put “{option.title}” in their place?",
            yes="Put it in their place",
            no="Leave them",
        ):
            return
        price = show_money(option.price_now, self.front.shift.shop.currency)
        self.attempt(
            lambda: take_option(self.front.shift, self.ticket.id, option.key),
            said=f"“{option.title}” is on the ticket: {price}. "
            "Give the estimate, or note the yes, on Approval (Alt+3).",
        )

    def _say_no(self, option: OptionView) -> None:
        """Record another machine, or leaving it, as the owner's no."""
        dialogs, owner = self.front.dialogs, self.ticket.owner.name
        who = dialogs.ask_text(option.title, f"“{option.title}” is a no. Who says so?", owner)
        if who is None:
            return
        how = dialogs.choose(option.title, f"How did {who} say so?", WAYS)
        if how is None:
            return
        say = SayEntry(who, WAYS[how])
        self.attempt(
            lambda: take_option(self.front.shift, self.ticket.id, option.key, say),
            said=f"“{option.title}” is noted as {who}'s no.",
        )

    def _print(self) -> None:
        self.front.papers.ways_out(self.ticket)


def _guide(view: OptionsView) -> list[str]:
    """Return what the figures rest on, line by line."""
    typical = any(option.typical for option in view.options)
    note = "~ A typical price: the catalogue has no price for a part of it."
    return [*([note] if typical else []), *view.guide]

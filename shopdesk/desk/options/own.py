"""A way out of the mechanic's own: typed in, changed, dropped; and the price of another machine."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.job.causes import causes_for
from shopdesk.job.options.own import (
    EVERYTHING,
    OwnOptionEntry,
    add_option,
    change_option,
    drop_option,
    option_entry,
)
from shopdesk.job.options.price_new import set_price_new
from shopdesk.job.options.views import OptionsView, OptionView
from shopdesk.job.views import TicketView

_ADD, _CHANGE = "Add this way", "Keep the change"


class OwnWays(ttk.Frame):
    """The form for one way, and what may be done with those that are there."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._own: list[OptionView] = []
        self._changing: int | None = None
        self.form = form = Form(self, columns=12)
        form.line("title", "What it is called  Alt+W", "used carburettor", span=4)
        form.line("price", "Price before tax", "45.00", span=2)
        form.line("hours", "Bench time in it", "30 min", span=2)
        form.line("lead_days", "Days to wait", "0", span=2)
        form.line("life_hours", "Hours of life", "by the guide", span=2)
        self._cures = form.choice(
            "cures", "What it cures (commas between)", [], EVERYTHING, span=5, free=True
        )
        form.line("words", "What it means for the owner", span=7)
        form.submit_with(self.keep)
        form.pack(fill="x")
        keys = page.front.keys
        line = ttk.Frame(self)
        line.pack(fill="x", pady=(4, 0))
        self._keep = action_button(line, keys, f"{_ADD}  Enter", "", self.keep)
        self._keep.pack(side="left")
        for words, key, run in (
            ("Change one …", "Alt+C", self._change),
            ("Drop one …", "Alt+X", self._drop),
        ):
            action_button(line, keys, words, key, run).pack(side="left", padx=(8, 0))
        keys.add(form, "Alt+W", "A way out of your own", form.focus_first)

    def show(self, ticket: TicketView, view: OptionsView) -> None:
        """Offer what such a machine may be cured of."""
        self._own = [option for option in view.options if option.own_id is not None]
        titles = [cause.title for cause in causes_for(ticket.unit)[:-1]]
        self._cures.offer([EVERYTHING, *titles])
        if not any(option.own_id == self._changing for option in self._own):
            self._changing = None
        if not self.form.changed and self._changing is None:
            self.form.fill({})
        self._show_mode()

    def keep(self) -> bool:
        """Add the way that is typed, or keep what was changed of one."""
        shift, entry, changing = (
            self._page.front.shift,
            self.form.into(OwnOptionEntry),
            self._changing,
        )
        if changing is None:
            done = self._page.attempt(
                lambda: add_option(shift, self._page.ticket.id, entry),
                self.form,
                said=f"“{entry.title}” stands beside the others.",
                empty=True,
            )
        else:
            done = self._page.attempt(
                lambda: change_option(shift, changing, entry),
                self.form,
                said=f"“{entry.title}” is changed.",
                empty=True,
            )
        if done:
            self._changing = None
            self._show_mode()
        return done

    def _change(self) -> None:
        own = self._chosen("change")
        if own is not None and own.own_id is not None:
            entry = option_entry(self._page.front.shift, own.own_id)
            self._changing = own.own_id
            self.form.fill({name: getattr(entry, name) for name in self.form.fields})
            self._show_mode()
            self.form.focus_first()

    def _drop(self) -> None:
        own = self._chosen("drop")
        if own is None or own.own_id is None:
            return
        own_id, front = own.own_id, self._page.front
        why = front.dialogs.ask_text("Drop a way out", f"Why is “{own.title}” no way out any more?")
        if why is not None:
            self._page.attempt(
                lambda: drop_option(front.shift, own_id, why),
                said=f"“{own.title}” is off; the journal keeps it.",
            )

    def _chosen(self, do: str) -> OptionView | None:
        """Return the way to do something with: the only one, or the one that is asked for."""
        front = self._page.front
        if not self._own:
            front.notices.trouble("No way of your own is here: type one and press Enter.")
            self.form.focus_first()
            return None
        if len(self._own) == 1:
            return self._own[0]
        titles = [option.title for option in self._own]
        place = front.dialogs.choose("A way of your own", f"Which one do you want to {do}?", titles)
        return None if place is None else self._own[place]

    def _show_mode(self) -> None:
        words = _ADD if self._changing is None else _CHANGE
        self._keep.configure(text=f"{words}  Enter")


class NewPrice(ttk.Frame):
    """What another machine costs, typed for this one."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self.form = form = Form(self, columns=12)
        form.line("price_new", "What another machine costs  Alt+J", span=3)
        form.submit_with(self.keep)
        form.pack(fill="x")
        self._words = ttk.Label(form, bootstyle="secondary")
        self._words.grid(row=0, column=3, columnspan=9, sticky="sw", pady=(0, 12))
        page.front.keys.add(form, "Alt+J", "The price of another machine", form.focus_first)

    def show(self, view: OptionsView) -> None:
        """Show the price in force, and where it comes from."""
        self.form.fill({"price_new": "" if view.price_new is None else f"{view.price_new}"})
        words = view.price_new_words or "As it is paid, with its tax. Enter keeps it."
        self._words.configure(text=words)

    def keep(self) -> bool:
        """Note the price that is typed; empty takes it back."""
        page = self._page
        typed = self.form.text_of("price_new")
        return page.attempt(
            lambda: set_price_new(page.front.shift, page.ticket.id, typed),
            self.form,
            said="The price of another machine is noted.",
        )

"""Limits of the shop's own, of a model or of one machine, which go before the reference limits."""

import tkinter as tk
from collections.abc import Sequence

import ttkbootstrap as ttk

from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.diagnosis import checks_for
from shopdesk.job.limits import (
    LimitEntry,
    LimitView,
    drop_limit,
    set_model_limit,
    set_unit_limit,
)
from shopdesk.job.views import UnitView

_MODEL, _MACHINE = WHOSE = ("this model", "this machine")


class OwnLimits(ttk.Frame):
    """The list and the form for one limit, for the ``page``'s machine."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._limits: dict[int, LimitView] = {}
        self.list = RowList(
            self,
            [
                Column("Check", 200, grows=True),
                Column("Limit", 160, grows=True),
                Column("Holds for", 100),
                Column("Source", 260, grows=True),
            ],
            lines=3,
            empty="None: readings are judged by the reference limits.",
        )
        self.list.pack(fill="x")
        self.list.bind_key("<Delete>", lambda _key: self._drop())
        self._put_form()

    def show(self, unit: UnitView, limits: Sequence[LimitView]) -> None:
        """Show the limits in force for a machine."""
        self._limits = {limit.id: limit for limit in limits}
        self.list.show(
            [
                (
                    limit.id,
                    (
                        limit.title,
                        limit.typed,
                        _MACHINE if limit.of_unit else _MODEL,
                        limit.source,
                    ),
                )
                for limit in limits
            ]
        )
        read = [check for check in checks_for(unit) if check.quantity is not None]
        self._check.offer([(check.key, check.title) for check in read])
        self._model = _MODEL if unit.model else _MACHINE
        self.form.fill({"whose": self._model})

    def keep(self) -> bool:
        """Write down the limit that is typed."""
        page = self._page
        entry = self.form.into(LimitEntry)
        unit = page.ticket.unit
        of_unit = self.form.text_of("whose") == _MACHINE

        def kept() -> object:
            if of_unit:
                return set_unit_limit(page.front.shift, unit.id, entry)
            return set_model_limit(page.front.shift, unit.make, unit.model, entry)

        done = page.attempt(
            lambda: page.anew(kept),
            self.form,
            said="Readings are judged by it from now on; those judged before stay as they are.",
            empty=True,
        )
        if done:
            self.form.focus_first()
        return done

    def _put_form(self) -> None:
        self.form = form = Form(self, columns=12)
        self._check = form.choice("check_key", "Check  Alt+I", [], span=3)
        form.line("limit", "Limit", "at least 115 psi", span=3)
        form.choice("whose", "Holds for", WHOSE, span=2)
        form.line("named_by", "Where the figure stands", "the maker's manual", span=4)
        form.tick("measured_here", "Read on our own gauge, on a sound machine", span=5)
        form.submit_with(self.keep)
        form.pack(fill="x", pady=(4, 0))
        keys = self._page.front.keys
        line = ttk.Frame(form)
        line.grid(row=1, column=5, columnspan=7, sticky="w")
        action_button(line, keys, "Set the limit  Enter", "", self.keep).pack(side="left")
        action_button(line, keys, "Drop one …", "Alt+X", self._drop).pack(side="left", padx=8)
        keys.add(form, "Alt+I", "Set a limit of our own", form.focus_first)

    def _drop(self) -> None:
        limit, page = self._limits.get(self.list.selected or 0), self._page
        if limit is None:
            page.front.notices.trouble("Choose a limit in the list first.")
            self.list.focus_list()
            return
        why = page.front.dialogs.ask_text(
            "Drop a limit", f"Why does “{limit.title}: {limit.typed}” not hold any more?"
        )
        if why is not None:
            page.attempt(
                lambda: page.anew(lambda: drop_limit(page.front.shift, limit.id, why)),
                said="The limit is off; the journal keeps it.",
            )

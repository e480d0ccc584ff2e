"""The time at the bench on a ticket: each spell, what it comes to, time by hand, charging it."""

import tkinter as tk
from collections.abc import Callable
from functools import partial

import ttkbootstrap as ttk

from shopdesk.dates import local_day, show_date
from shopdesk.desk import look
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.header import shortened
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.labour.bill import bill_time, count_toward, own_hours
from shopdesk.job.labour.clock import TimeEntry, add_time, change_time, drop_time
from shopdesk.job.labour.rates import rate_names, rate_words
from shopdesk.job.labour.views import (
    WORKS,
    SpellView,
    TimeSum,
    sums_words,
    time_sums,
    time_words,
    whole_minutes,
)
from shopdesk.job.shop import Shop
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_quantity

Way = tuple[str, Callable[[], TicketView]]
"""What may be done with time that is not charged: in words, and the doing of it."""


class TimeList(ttk.Frame):
    """The spells of the ``page``'s ticket, and the form for one that no clock measured."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._spells: dict[int, SpellView] = {}
        self._sums: tuple[TimeSum, ...] = ()
        self.list = RowList(
            self,
            [
                Column("Day", 130),
                Column("Who", 110),
                Column("For", 84),
                Column("Rate", 100),
                Column("Time", 130, right=True),
                Column("Charged", 200, grows=True),
                Column("Note", 120, grows=True),
            ],
            lines=3,
            empty="No time yet: F11 starts and stops the clock.",
        )
        self.list.pack(fill="x")
        self.list.bind_key(("<F2>", "<Return>", "<KP_Enter>"), lambda _key: self._change())
        self.list.bind_key("<Delete>", lambda _key: self._drop())
        self._comes_to = wrapping(ttk.Label(self, font=look.STRONG))
        self._comes_to.pack(fill="x", pady=(2, 4))
        self._put_actions()
        self._put_form()

    @property
    def comes_to(self) -> str:
        """What is said of the sums."""
        return str(self._comes_to.cget("text"))

    def show(self, ticket: TicketView, shop: Shop) -> None:
        """Show a ticket's time."""
        self._spells = {spell.id: spell for spell in ticket.spells}
        lines = {line.id: line.description for line in ticket.lines}
        self.list.show(
            [
                (
                    spell.id,
                    _cells(spell, shop, lines.get(spell.line_id or 0, "")),
                    "trouble" if spell.unsure else "strong" if spell.running else "",
                )
                for spell in ticket.spells
            ]
        )
        self._sums = time_sums(ticket.spells, shop)
        self._comes_to.configure(text=sums_words(self._sums))
        self._rate.offer(rate_names(shop))
        self.form.fill({})

    def keep(self) -> bool:
        """Write down the time that is typed, or keep the change."""
        spell, shift = self.form.text_of("spell"), self._page.front.shift
        entry = self.form.into(TimeEntry)
        done = self._page.attempt(
            lambda: (
                change_time(shift, int(spell), entry)
                if spell
                else add_time(shift, self._page.ticket.id, entry)
            ),
            self.form,
            said="The time is written down.",
            empty=True,
        )
        if done:
            self.show_mode()
            self.form.focus_first()
        return done

    def show_mode(self) -> None:
        """Say whether time is written down or changed."""
        changing = bool(self.form.text_of("spell"))
        self._button.configure(text=f"{'Keep it' if changing else 'Write it down'}  Enter")
        if changing:
            self._leave.pack(side="left", padx=8)
        else:
            self._leave.pack_forget()

    def charge(self) -> None:
        """Charge the time that is not charged yet; asked about where there is more than one way.

        What is typed in the form is said first: it would not be among it.
        """
        if self.form.changed:
            self._page.front.notices.trouble(
                "Time is typed and not written down: press Enter to write it down, or Esc to "
                "leave it, then charge the time."
            )
            self.form.focus_first()
            return
        ways = self._ways()
        if not ways:
            self._page.front.notices.trouble("No time is left to charge: F11 starts the clock.")
            return
        place: int | None = 0
        if len(ways) > 1:
            place = self._page.front.dialogs.choose(
                "Charge the time", "What is to be done with it?", [words for words, _ in ways]
            )
        if place is not None:
            words, run = ways[place]
            self._page.attempt(run, said=f"{words}: done.")

    def _ways(self) -> list[Way]:
        return [way for work in WORKS if self._is_left(work) for way in self._ways_for(work)]

    def _is_left(self, work: str) -> bool:
        """Whether time is not charged yet; what must be put right before it is, the job says."""
        return any(
            spell.work == work and spell.line_id is None for spell in self._page.ticket.spells
        )

    def _ways_for(self, work: str) -> list[Way]:
        ticket, shift = self._page.ticket, self._page.front.shift
        free = time_words(sum(one.free_seconds for one in self._sums if one.work == work))
        agreed = [line for line in ticket.lines if line.id in own_hours(ticket, work)]
        toward: list[Way] = [
            (
                f"Count {free} of {work} toward “{shortened(line.description, 50)}”, "
                f"{show_quantity(line.quantity)} h: nothing more is charged",
                partial(count_toward, shift, line.id, work),
            )
            for line in agreed
        ]
        charge = partial(bill_time, shift, ticket.id, work)
        return [*toward, (f"Charge {free} of {work} by the clock", charge)]

    def _put_actions(self) -> None:
        line = ttk.Frame(self)
        line.pack(fill="x", pady=(0, 6))
        keys = self._page.front.keys
        for words, key, run in (
            ("Go to the times", "Alt+U", self.list.focus_list),
            ("Change  F2", "", self._change),
            ("Drop …  Del", "", self._drop),
            ("Charge the time …", "Alt+I", self.charge),
        ):
            action_button(line, keys, words, key, run).pack(side="left", padx=(0, 8))

    def _put_form(self) -> None:
        self.form = form = Form(self, columns=12)
        form.line("time", "Time by hand  Alt+J", "as 27 min, 1:20", span=3)
        form.line("on", "Day", "today", span=2)
        form.line("person", "Who", "you", span=2)
        form.choice("work", "For", WORKS, span=2)
        self._rate = form.choice("rate", "Rate", [], span=3)
        form.line("note", "Note", span=7)
        hold(form, "spell")
        form.pack(fill="x")
        form.submit_with(self.keep)
        keys = self._page.front.keys
        line = ttk.Frame(form)
        line.grid(row=1, column=7, columnspan=5, sticky="sw", pady=(0, 6))
        self._button = action_button(line, keys, "Write it down  Enter", "", self.keep)
        self._button.pack(side="left")
        self._leave = action_button(line, keys, "Leave it", "Esc", self._left)
        keys.add(form, "Alt+J", "Write down time at the bench", form.focus_first)

    def _change(self) -> None:
        spell = self._chosen()
        if spell is None:
            return
        zone = self._page.front.shift.shop.zone
        self.form.restore(
            {
                "spell": str(spell.id),
                "time": _time_typed(spell),
                "on": local_day(spell.started_at, zone).isoformat(),
                "person": spell.person,
                "work": spell.work,
                "rate": spell.rate,
                "note": spell.note,
            }
        )
        self.show_mode()
        self.form.focus_first()

    def _left(self) -> None:
        self.form.fill({})
        self.show_mode()
        self.list.focus_list()

    def _drop(self) -> None:
        spell, page = self._chosen(), self._page
        if spell is None:
            return
        why = page.front.dialogs.ask_text(
            "Drop time", f"Why is {spell.person or 'nobody'}’s time for the {spell.work} taken off?"
        )
        if why is not None:
            page.attempt(
                lambda: drop_time(page.front.shift, spell.id, why),
                said="The time is off the ticket; the journal keeps it.",
            )

    def _chosen(self) -> SpellView | None:
        spell = self._spells.get(self.list.selected or 0)
        if spell is None:
            self._page.front.notices.trouble("Choose a time in the list first (Alt+U).")
            self.list.focus_list()
        return spell


def _cells(spell: SpellView, shop: Shop, charged: str) -> tuple[str, ...]:
    return (
        show_date(local_day(spell.started_at, shop.zone)),
        spell.person,
        spell.work,
        rate_words(spell.rate),
        _time(spell),
        charged or "not yet",
        spell.note,
    )


def _time(spell: SpellView) -> str:
    if spell.running:
        return "on the clock"
    return "how long? type it" if spell.unsure else time_words(spell.seconds)


def _time_typed(spell: SpellView) -> str:
    unknown = spell.running or spell.unsure
    return "" if unknown else f"{whole_minutes(spell.seconds)} min"

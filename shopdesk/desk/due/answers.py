"""What went out about upkeep and what came of it: sent, answered, booked, moved away, sold."""

import tkinter as tk
from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

import ttkbootstrap as ttk

from shopdesk.dates import local_day, show_date
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.due_messages import (
    ENDS,
    SOLD,
    WAITING,
    UpkeepMessageView,
    say_ended,
    say_upkeep_sent,
    upkeep_messages,
    write_again,
)
from shopdesk.job.messages import State, drop_message, say_answered, say_undelivered
from shopdesk.text import counted

if TYPE_CHECKING:
    from shopdesk.desk.sheet import Sheet

_SHOWN = {
    "": WAITING,
    "out": (State.MADE,),
    "booked": (State.BOOKED,),
    "all": tuple(State),
}
_COMES, _ANSWERED, _CAME_BACK = "comes on a day …", "answered …", "came back undelivered"
_ANSWERS = (_COMES, _ANSWERED, *ENDS, _CAME_BACK)


class DueAnswers(ttk.Frame):
    """The messages, newest first; ``changed`` is told when the list above may be another."""

    def __init__(
        self,
        parent: tk.Misc,
        sheet: "Sheet",
        changed: Callable[[], object],
        write_out: Callable[[Sequence[UpkeepMessageView]], object],
    ) -> None:
        super().__init__(parent)
        self._sheet = sheet
        self._front = sheet.front
        self._changed = changed
        self._write_out = write_out
        self._messages: tuple[UpkeepMessageView, ...] = ()
        section(self, "Messages")
        self.show_form = form = Form(self, columns=3)
        choices = [
            ("", "that wait"),
            ("out", "to go out"),
            ("booked", "with a day"),
            ("all", "all of them"),
        ]
        form.choice("state", "Show those", choices)
        form.fill({})
        form["state"].watch(self.read)
        form.pack(fill="x")
        self.list = RowList(
            self,
            [
                Column("Owner", 140, grows=True),
                Column("By", 70),
                Column("Machines", 200, grows=True),
                Column("What became of it", 210),
                Column("Since", 90),
            ],
            lines=6,
            empty="No message waits.",
        )
        self.list.pack(fill="x")
        self.list.on_open(self._answer)
        self.list.on_select = self._show_chosen
        self._about = wrapping(ttk.Label(self))
        self._about.pack(fill="x", pady=(6, 4))
        line = Flow(self)
        line.pack(fill="x", pady=(0, 8))
        for words, key, run in (
            ("It went out", "Alt+S", self._sent),
            ("All went out", "Alt+G", self._all_sent),
            ("What became of it …", "Alt+R", self._answer_chosen),
            ("Write out again", "Alt+I", self._again),
            ("A second word …", "Alt+Y", self._second),
            ("Take back …", "Alt+D", self._take_back),
        ):
            action_button(line, self._front.keys, words, key, run).pack(side="left", padx=(0, 8))

    @property
    def about(self) -> str:
        """What is said of the chosen message."""
        return str(self._about.cget("text"))

    def read(self) -> None:
        """Read the messages anew."""
        states = _SHOWN.get(self.show_form.text_of("state"), WAITING)
        self._messages = upkeep_messages(self._front.shift, states)
        zone = self._front.shift.shop.zone
        today = self._today()
        self.list.show([(one.message.id, _cells(one, zone, today)) for one in self._messages])
        self._show_chosen()

    def _chosen(self) -> UpkeepMessageView | None:
        found = self._of(self.list.selected)
        if found is None and not self._messages:
            self._front.notices.trouble("No message is here.")
        return found or next(iter(self._messages), None)

    def _of(self, key: int | None) -> UpkeepMessageView | None:
        return next((one for one in self._messages if one.message.id == key), None)

    def _today(self) -> date:
        shift = self._front.shift
        return shift.today_in(shift.shop)

    def _show_chosen(self) -> None:
        one = self._of(self.list.selected)
        self._about.configure(text=_said_of(one, self._today()) if one else "")

    def _do(self, job: Callable[[], object], said: str) -> None:
        if self._sheet.did(job):
            self._changed()
            self._front.notices.say(said)

    def _sent(self) -> None:
        one = self._chosen()
        if one is not None:
            job = partial(say_upkeep_sent, self._front.shift, [one.message.id])
            self._do(job, f"Noted: it went out to {one.owner}.")

    def _all_sent(self) -> None:
        made = [one for one in self._messages if one.message.state is State.MADE]
        if not made:
            self._front.notices.trouble("Nothing here waits to go out.")
            return
        question = f"Did {counted(len(made), 'message')} go out?"
        if self._front.dialogs.confirm("Upkeep due", question):
            job = partial(say_upkeep_sent, self._front.shift, [one.message.id for one in made])
            self._do(job, f"Noted: {counted(len(made), 'message')} went out.")

    def _answer_chosen(self) -> None:
        one = self._chosen()
        if one is not None:
            self._answer(one.message.id)

    def _answer(self, key: int) -> None:
        one = self._of(key)
        if one is None:
            return
        dialogs, shift = self._front.dialogs, self._front.shift
        place = dialogs.choose(one.owner, "What became of it?", _ANSWERS)
        if place is None:
            return
        answer = _ANSWERS[place]
        if answer == _COMES:
            self._comes(one)
        elif answer == _ANSWERED:
            said = dialogs.ask_text(one.owner, "What did they say?")
            if said is not None:
                self._do(partial(say_answered, shift, key, said), "Noted.")
        elif answer == SOLD:
            self._sold(one)
        elif answer == _CAME_BACK:
            said_back = "Noted: put their address right, or they are reached another way."
            self._do(partial(say_undelivered, shift, key), said_back)
        else:
            self._do(partial(say_ended, shift, key, answer), f"Noted: {one.owner} {answer}.")

    def _comes(self, one: UpkeepMessageView) -> None:
        day = self._front.dialogs.ask_text(one.owner, "On which day do they come?")
        if day is not None and not day.strip():
            self._front.notices.trouble("Say on which day they come.")
        elif day is not None:
            job = partial(say_answered, self._front.shift, one.message.id, "", day)
            self._do(job, "Noted: they come that day.")

    def _sold(self, one: UpkeepMessageView) -> None:
        chosen: list[int] = []
        if len(one.machines) > 1:
            choices = ["all of them", *(title for _, title in one.machines)]
            place = self._front.dialogs.choose(one.owner, "Which did they sell?", choices)
            if place is None:
                return
            chosen = [one.machines[place - 1][0]] if place else []
        job = partial(say_ended, self._front.shift, one.message.id, SOLD, chosen)
        self._do(job, "Noted: no more is written about it.")

    def _again(self) -> None:
        made = [one for one in self._messages if one.message.state is State.MADE]
        if made:
            self._write_out(made)
        else:
            self._front.notices.trouble("Nothing here waits to go out.")

    def _second(self) -> None:
        one = self._chosen()
        if one is not None:
            job = partial(write_again, self._front.shift, one.message.id)
            self._do(job, f"A second, gentler message to {one.owner} waits to be written out.")

    def _take_back(self) -> None:
        one = self._chosen()
        if one is None:
            return
        why = self._front.dialogs.ask_text(one.owner, "Why is this message taken back?")
        if why is not None:
            job = partial(drop_message, self._front.shift, one.message.id, why)
            self._do(job, "Taken back: they are on the list again.")


def _cells(one: UpkeepMessageView, zone: str, today: date) -> tuple[str, ...]:
    message = one.message
    since = message.answered_at or message.sent_at or message.made_at
    return (
        one.owner,
        message.way,
        one.titles,
        _state(one, today),
        show_date(local_day(since, zone))[4:],
    )


def _state(one: UpkeepMessageView, today: date) -> str:
    message = one.message
    second = "second word, " if one.again else ""
    if message.booked_on is not None:
        asked = ": did they come?" if message.booked_on < today else ""
        return f"{second}comes {show_date(message.booked_on)}{asked}"
    note = f": {message.note}" if message.note else ""
    return f"{second}{_WORDS[message.state]}{note}"


_WORDS = {
    State.MADE: "to go out",
    State.SENT: "went out",
    State.ANSWERED: "answered",
    State.BOOKED: "comes",
    State.CAME_BACK: "came back",
    State.DROPPED: "taken back",
}


def _said_of(one: UpkeepMessageView, today: date) -> str:
    phones = ", ".join(one.phones) or "no phone"
    who = f" by {one.message.made_by}" if one.message.made_by else ""
    return f"{one.owner}, {phones}: {one.titles}. Made{who}; {_state(one, today)}."

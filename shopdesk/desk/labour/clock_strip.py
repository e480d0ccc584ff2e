"""Who is on the clock, in the strip over every page of a ticket; F11 starts and stops it."""

import tkinter as tk
from datetime import date, datetime

import ttkbootstrap as ttk

from shopdesk.dates import local_day, show_moment
from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.errors import JobError
from shopdesk.job.labour.bill import left_to_charge
from shopdesk.job.labour.clock import Clocked, RunningView, running_of, start_clock, stop_clock
from shopdesk.job.labour.spells import same_person, stopped_words
from shopdesk.job.labour.views import SpellView, time_words, whose_clock
from shopdesk.job.views import TicketView

TICK_MS = 20_000


class ClockStrip(ttk.Frame):
    """Says who is on the clock and for how long, counting on; takes no room while nobody is.

    Its button, which is one key, stands in ``line``.
    """

    def __init__(self, parent: tk.Misc, front: Front, line: tk.Misc) -> None:
        super().__init__(parent)
        self._front = front
        self._ticket: TicketView | None = None
        self._elsewhere: RunningView | None = None
        self._zone = "UTC"
        self._timer = ""
        self._button = action_button(
            line, front.keys, "Clock: start or stop", "F11", self.turn, bootstyle="link"
        )
        self._button.pack(side="right")
        front.keys.add(
            self._button, "Shift+F11", "Clock of somebody else: start or stop", self.turn_another
        )
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(fill="x")
        self.bind("<Destroy>", self._forget)

    @property
    def words(self) -> str:
        """What is said of the clocks."""
        return str(self._words.cget("text"))

    def show(self, ticket: TicketView) -> None:
        """Show who is on the clock on a ticket, or that this person is elsewhere."""
        self._ticket = ticket
        mine = running_of(self._front.shift)
        self._elsewhere = mine if mine and mine.ticket_id != ticket.id else None
        self._zone = self._front.shift.shop.zone
        who = self._front.shift.who
        on = any(same_person(spell.person, who) for spell in ticket.running)
        self._button.configure(text=f"{'Stop' if on else 'Start'} the clock  F11")
        self._words.configure(font=look.STRONG if ticket.running else look.SMALL)
        self.count()

    def turn(self, person: str = "") -> None:
        """Start a person's clock here, or stop it: this person's, unless another is named."""
        if self._ticket is None:
            return
        who = person or self._front.shift.who
        try:
            if any(same_person(spell.person, who) for spell in self._ticket.running):
                self._told(self._stopped(who))
            else:
                self._told(start_clock(self._front.shift, self._ticket.id, person=who))
        except JobError as error:
            self._front.notices.trouble(error.sentence)

    def turn_another(self) -> None:
        """Ask whose clock it is, and start or stop that."""
        on = [spell.person for spell in self._ticket.running] if self._ticket else []
        others = [name for name in on if not same_person(name, self._front.shift.who)]
        name = self._front.dialogs.ask_text(
            "Somebody else’s clock", "Whose clock starts or stops here?", *others[:1]
        )
        if name and name.strip():
            self.turn(name.strip())

    def _stopped(self, who: str) -> Clocked | None:
        """Stop a clock; one that ran over night is asked about until it is answered or left."""
        shift, minutes = self._front.shift, ""
        while True:
            try:
                return stop_clock(shift, who, minutes)
            except JobError as error:
                if error.field != "minutes":
                    raise
                answer = self._front.dialogs.ask_text("The clock ran on", error.sentence, minutes)
                if answer is None:
                    return None
                minutes = answer

    def _told(self, clocked: Clocked | None) -> None:
        if clocked is None:
            return
        spell = clocked.spell
        said = (
            f"{_on_the_clock(spell.person)} for the {spell.work}."
            if spell.running
            else stopped_words([spell])
        )
        self._front.notices.say(" ".join(filter(None, (clocked.stopped, said))))
        self._front.show_ticket(clocked.ticket)

    def count(self) -> None:
        """Show the minutes as they are now, and again in a while as long as a clock runs."""
        self._forget()
        running = self._ticket.running if self._ticket is not None else ()
        now = self._front.shift.now()
        said = [running_words(spell, now, self._zone) for spell in running]
        if not said and self._elsewhere is not None:
            where = self._elsewhere
            since = since_words(where.spell.started_at, local_day(now, self._zone), self._zone)
            said = [f"{whose_clock(where.spell.person)} runs on {where.tag} since {since}"]
        if not running and self._ticket is not None and (left := left_to_charge(self._ticket)):
            said.append(f"{time_words(left)} of repair not charged yet: Alt+I on Repair (Alt+4)")
        self._words.configure(text="  ·  ".join(said))
        self.grid() if said else self.grid_remove()
        if running:
            self._timer = self.after(TICK_MS, self.count)

    def _forget(self, _event: object = None) -> None:
        if self._timer:
            self.after_cancel(self._timer)
            self._timer = ""


def running_words(spell: SpellView, now: datetime, zone: str) -> str:
    """Return a clock that runs in words: ``Sam on the clock since 10:42, 27 min``."""
    since = since_words(spell.started_at, local_day(now, zone), zone)
    seconds = max(0, int((now - spell.started_at).total_seconds()))
    return f"{_on_the_clock(spell.person)} since {since}, {time_words(seconds)}"


def since_words(moment: datetime, today: date, zone: str) -> str:
    """Return a moment with its day only where that is not today."""
    day, _, hour = show_moment(moment, zone).rpartition(", ")
    return hour if local_day(moment, zone) == today else f"{day}, {hour}"


def _on_the_clock(person: str) -> str:
    return f"{person} on the clock" if person else "On the clock"

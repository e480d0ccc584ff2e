"""The machines that stand ready and are not fetched: how long, what is owed, which letter."""

from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content
from shopdesk.job.messages import (
    LETTER,
    PHONE,
    MessageView,
    State,
    say_answered,
    say_sent,
    say_undelivered,
)
from shopdesk.job.unfetched import (
    STEPS,
    Unfetched,
    charge_storage,
    make_letter,
    storage_money,
    unfetched,
)
from shopdesk.pricing.money import show_money

_LONG = 30
"""Who waits longer than that many days stands out."""


class UnfetchedSheet(Sheet):
    """One machine to a row, the longest first; Enter opens its ticket."""

    page = "unfetched"

    def build(self) -> None:
        """Put the list over what is known of the chosen machine."""
        self.head("Not fetched")
        self._found: tuple[Unfetched, ...] = ()
        self.action("Next letter", "Alt+L", self._make_letter, main=True)
        self.action("It went out", "Alt+S", self._sent)
        self.action("They answered …", "Alt+A", self._answered)
        self.action("It came back", "Alt+B", self._undelivered)
        self.action("Charge storage", "Alt+C", self._charge)
        self.list = RowList(
            self.body,
            [
                Column("Ticket", 60),
                Column("Owner", 150, grows=True),
                Column("Machine", 180, grows=True),
                Column("Told on", 95),
                Column("Days", 50, right=True),
                Column("Work", 80, right=True),
                Column("Storage", 80, right=True),
                Column("Letters", 130),
            ],
            lines=10,
            empty="Every machine that is ready was fetched.",
        )
        self.list.pack(fill="x")
        self.list.on_open(self.front.open_ticket)
        self.list.on_select = self._show_chosen
        self._about = wrapping(ttk.Label(self.body))
        self._about.pack(fill="x", pady=(8, 0))
        self._next = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._next.pack(fill="x", pady=(4, 0))
        law = "Nothing is sold or scrapped from here. Check your local law before you do either."
        wrapping(ttk.Label(self.body, text=law, bootstyle="secondary")).pack(fill="x", pady=(12, 0))

    @property
    def called(self) -> str:
        """Return what the sheet is."""
        return "the list of machines not fetched"

    @property
    def about(self) -> str:
        """What is said of the chosen machine."""
        return f"{self._about.cget('text')} {self._next.cget('text')}"

    def show_now(self) -> None:
        """Read the list anew."""
        self._read()
        self.focus_first()

    def focus_first(self) -> None:
        """Begin in the list."""
        self.list.focus_list()

    def draft(self) -> Content:
        """Return nothing: nothing is typed here."""
        return {}

    def throw_away(self) -> None:
        """Do nothing: nothing is typed here."""

    def _read(self) -> None:
        shift = self.front.shift
        self._found = unfetched(shift)
        currency = shift.shop.currency
        self.list.show([(one.ticket_id, _cells(one, currency), _tag(one)) for one in self._found])
        self._show_chosen()

    def _chosen(self) -> Unfetched | None:
        chosen = self.list.selected
        found = next((one for one in self._found if one.ticket_id == chosen), None)
        return found or (self._found[0] if self._found else None)

    def _show_chosen(self) -> None:
        one = self._chosen()
        if one is None:
            self._about.configure(text="")
            self._next.configure(text="")
            return
        shop = self.front.shift.shop
        phones = ", ".join(one.phones) or "no phone"
        on_ticket = " A line for it stands on the ticket." if one.storage_on_ticket else ""
        storage = f"Storage: {storage_money(one, shop.currency)}.{on_ticket}" if one.told_on else ""
        letters = "  ".join(_letter_words(letter) for letter in one.letters)
        self._about.configure(text=" ".join(filter(None, (f"{phones}.", storage, letters))))
        self._next.configure(text=one.next_words)

    def _make_letter(self) -> None:
        one, shift = self._chosen(), self.front.shift
        if one is None:
            self.front.notices.trouble("Every machine that is ready was fetched.")
            return
        early = ""
        if one.next_on is not None and shift.today < one.next_on:
            question = f"{one.next_words} Why does it go out earlier?"
            asked = self.front.dialogs.ask_text("Next letter", question)
            if asked is None:
                return
            early = asked
        way = self._way(one)
        if way is None:
            return
        try:
            letter = make_letter(shift, one.ticket_id, early, way)
        except JobError as error:
            self.front.notices.trouble(error.sentence)
            return
        self._read()
        if letter.way == PHONE:
            self.front.notices.say(f"Tell them: {', '.join(one.phones)}. Then press Alt+S.")
        else:
            self._print(one, letter)

    def _way(self, one: Unfetched) -> str | None:
        """Return how they hear of it: by letter, but asked where one can't go or came back."""
        came_back = bool(one.letters) and one.letters[-1].state is State.CAME_BACK
        if not one.ways or (LETTER in one.ways and not came_back):
            return LETTER
        why = (
            "The last one came back."
            if came_back
            else f"No address is written down for {one.owner}."
        )
        place = self.front.dialogs.choose("Next letter", f"{why} How do they hear of it?", one.ways)
        return None if place is None else one.ways[place]

    def _print(self, one: Unfetched, letter: MessageView) -> None:
        from shopdesk.job.unfetched import letter_content
        from shopdesk.papers.collect_letter import draw_collect_letter

        shift = self.front.shift
        self.front.papers.of_the_shop(
            f"{one.tag} {STEPS[letter.step - 1]} letter",
            lambda words: draw_collect_letter(letter_content(shift, letter.id), words),
        )

    def _sent(self) -> None:
        self._with_letter(lambda letter: say_sent(self.front.shift, letter.id), "It went out.")

    def _undelivered(self) -> None:
        self._with_letter(
            lambda letter: say_undelivered(self.front.shift, letter.id),
            "It came back: put the address right, and write again.",
        )

    def _answered(self) -> None:
        one = self._chosen()
        if one is None or not one.letters:
            self.front.notices.trouble("No letter was written yet.")
            return
        said = self.front.dialogs.ask_text("They answered", "What did they say?")
        if said is None:
            return
        question = "On which day do they fetch it? Leave it empty if they named none."
        day = self.front.dialogs.ask_text("They answered", question)
        if day is not None:
            self._with_letter(
                lambda letter: say_answered(self.front.shift, letter.id, said, day), "Noted."
            )

    def _charge(self) -> None:
        one = self._chosen()
        if one is None:
            return
        try:
            charge_storage(self.front.shift, one.ticket_id)
        except JobError as error:
            self.front.notices.trouble(error.sentence)
            return
        self._read()
        self.front.notices.say("The storage stands on the ticket, with its working.")

    def _with_letter(self, job: Callable[[MessageView], object], said: str) -> None:
        one = self._chosen()
        if one is None or not one.letters:
            self.front.notices.trouble("No letter was written yet.")
            return
        try:
            job(one.letters[-1])
        except JobError as error:
            self.front.notices.trouble(error.sentence)
            return
        self._read()
        self.front.notices.say(said)


def _cells(one: Unfetched, currency: str) -> tuple[str, ...]:
    return (
        one.tag,
        one.owner,
        one.machine,
        show_date(one.told_on)[4:] if one.told_on else "not told yet",
        str(one.days) if one.told_on else "",
        show_money(one.owed, currency),
        show_money(one.storage_left, currency),
        ", ".join(f"{STEPS[letter.step - 1]}: {letter.state}" for letter in one.letters[-1:]),
    )


def _tag(one: Unfetched) -> str:
    return "trouble" if one.days > _LONG else ""


def _letter_words(letter: MessageView) -> str:
    note = f" “{letter.note}”" if letter.note else ""
    day = f", for {show_date(letter.booked_on)}" if letter.booked_on else ""
    way = "" if letter.way == LETTER else f" by {letter.way}"
    return f"{STEPS[letter.step - 1].capitalize()} letter{way}: {letter.state}{day}{note}."

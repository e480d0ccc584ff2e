"""The upkeep that falls due: whom to write to, for which week, and what became of what went out."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk.due.answers import DueAnswers
from shopdesk.desk.due.batch import Batch
from shopdesk.desk.due.out import DueOut, WrittenOut
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.owner_card import OwnerCard
from shopdesk.desk.reports.charts import Pictures
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.csv_out import save_csv
from shopdesk.job.drafts import Content
from shopdesk.job.due_cells import HEADS, due_cells
from shopdesk.job.due_list import AHEAD_DAYS, DueOwner, due_list
from shopdesk.job.due_messages import UpkeepMessageView, upkeep_messages, write_to
from shopdesk.job.invitations import Invitations, invitations
from shopdesk.job.messages import EMAIL, LETTER, PHONE, POSTCARD, TEXT, WAYS, State
from shopdesk.job.shift import Shift
from shopdesk.text import counted
from shopdesk.upkeep.levelling import monday_of

_CALLS = (PHONE, TEXT)
_THINGS = {LETTER: "letter", POSTCARD: "postcard", EMAIL: "e-mail", PHONE: "call", TEXT: "text"}


@dataclass(frozen=True, slots=True)
class _Found:
    """The list up to a day, and the weeks to invite them for."""

    by: date
    owners: tuple[DueOwner, ...]
    plan: Invitations


class DueSheet(Sheet):
    """Owners above, the messages that wait for an answer below, then the picture of the weeks."""

    page = "due"

    def build(self) -> None:
        """Put days and list, what went out, and the picture."""
        self.head("Upkeep due")
        self._found: _Found | None = None
        self._shown: tuple[DueOwner, ...] = ()
        self._asked = 0
        self.action("Write to all", "Alt+A", partial(self._write, WAYS), main=True)
        for words, key, ways in (
            ("Letters", "Alt+L", (LETTER,)),
            ("Postcards", "Alt+K", (POSTCARD,)),
            ("E-mails", "Alt+E", (EMAIL,)),
            ("Calls", "Alt+C", _CALLS),
        ):
            self.action(words, key, partial(self._write, ways))
        self.action("To one …", "Alt+W", self._write_to_one)
        self.action("Spreadsheet", "Alt+X", self._table)
        self.batch = Batch(self.body, self.front, "Alt+Q")
        self.days = self._put_days()
        self._words = wrapping(ttk.Label(self.body))
        self._words.pack(fill="x")
        self.list = RowList(
            self.body,
            [
                Column("Owner", 150, grows=True),
                Column("By", 80),
                Column("Machines", 220, grows=True),
                Column("Due", 90),
                Column("Invite for", 80),
            ],
            lines=7,
            empty="Nobody is to be written to.",
        )
        self.list.pack(fill="x", pady=(6, 0))
        self.list.on_open(lambda key: self.front.open_card(OwnerCard, key))
        self.list.on_select = self._show_chosen
        self._about = wrapping(ttk.Label(self.body))
        self._about.pack(fill="x", pady=(6, 0))
        self.answers = DueAnswers(self.body, self, self._read, self._write_out)
        self.answers.pack(fill="x")
        self.pictures = Pictures(self.body)
        self.pictures.pack(fill="x", pady=(10, 0))

    def _put_days(self) -> Form:
        form = Form(self.body, columns=4)
        form.line("by", "Due up to", f"empty: {AHEAD_DAYS} days ahead")
        form.choice("week", "Best invited for", [("", "any week")])
        form.tick("offer", "Offer them that week", span=2)
        form.fill({"offer": True})
        form.submit_with(self._read, "by")
        form["week"].watch(self._show_list)
        form.pack(fill="x")
        return form

    @property
    def called(self) -> str:
        """Return what the sheet is."""
        return "the list of upkeep that falls due"

    @property
    def about(self) -> str:
        """What is said of the chosen owner."""
        return str(self._about.cget("text"))

    @property
    def words(self) -> str:
        """What is said of the weeks."""
        return str(self._words.cget("text"))

    def show_now(self) -> None:
        """Read the list anew."""
        self._read()
        self.focus_first()

    def focus_first(self) -> None:
        """Begin in the list."""
        self.list.focus_list()

    def draft(self) -> Content:
        """Return nothing: nothing is typed here that is kept."""
        return {}

    def throw_away(self) -> None:
        """Do nothing: nothing is typed here that is kept."""

    def _read(self) -> None:
        """Work the list out beside the window; what is asked for last is shown."""
        self.days.clear_errors()
        try:
            by = _day(self.front.shift, self.days.text_of("by"))
        except JobError as error:
            self.say_error(error, self.days)
            return
        self._asked += 1
        self.front.worker.run(
            partial(_find, self.front.shift, by),
            partial(self._show, self._asked),
            doing="Looking up what falls due",
        )
        self.answers.read()

    def _show(self, asked: int, found: _Found) -> None:
        if asked != self._asked:
            return
        self._found = found
        today = self.front.shift.today_in(self.front.shift.shop)
        weeks = [
            (week.monday.isoformat(), "this week" if week.monday <= today else week.day)
            for week in found.plan.weeks
            if week.owners and week.monday >= monday_of(today)
        ]
        choice = self.days["week"]
        chosen = self.days.text_of("week")
        choice.offer([("", "any week"), *weeks])  # type: ignore[attr-defined]
        choice.set(chosen if chosen in dict(weeks) else "")
        self._words.configure(text=f"Up to {show_date(found.by)}: {found.plan.words}")
        self.pictures.show([found.plan.picture] if weeks else [])
        self._show_list()

    def _show_list(self) -> None:
        if self._found is None:
            return
        week_of, week = self._found.plan.week_of, self.days.text_of("week")
        theirs = tuple(
            one for one in self._found.owners if str(week_of.get(one.customer_id)) == week
        )
        self._shown = theirs or self._found.owners
        self.list.show([(one.customer_id, _cells(one, week_of), _tag(one)) for one in self._shown])
        if self._shown and self.list.selected is None:
            self.list.select(self._shown[0].customer_id)
        self._show_chosen()

    def _show_chosen(self) -> None:
        one = self._chosen()
        self._about.configure(text=_said_of(one) if one else "")

    def _chosen(self) -> DueOwner | None:
        key = self.list.selected
        found = next((one for one in self._shown if one.customer_id == key), None)
        return found or (self._shown[0] if self._shown else None)

    def _write(self, ways: Sequence[str]) -> None:
        """Make the messages of all that are shown and reached that way, and write them out."""
        owners = [one for one in self._shown if one.way in ways]
        if self._busy():
            return
        if not owners:
            things = " or ".join(f"by {way}" for way in ways) if len(ways) < len(WAYS) else ""
            self.front.notices.trouble(f"Nobody here is to be written to {things}".strip() + ".")
            return
        question = f"Make {_counts(owners)}, and write out all that did not go out yet?"
        if self.front.dialogs.confirm("Upkeep due", question, yes="Make them", no="Not now"):
            jobs = [self._job(one) for one in owners]
            self.batch.run("Making the messages", jobs, partial(self._made, ways))

    def _write_to_one(self) -> None:
        one = self._chosen()
        if one is None or self._busy():
            return
        if not one.ways:
            self.front.notices.trouble(f"{one.owner} {one.why_not}.")
            return
        question = f"How is {one.owner} to hear of it?"
        place = self.front.dialogs.choose("Upkeep due", question, one.ways)
        if place is not None:
            way = one.ways[place]
            self.batch.run("Making the message", [self._job(one, way)], partial(self._made, (way,)))

    def _job(self, one: DueOwner, way: str = "") -> Callable[[], object]:
        assert self._found is not None
        offered = self._found.plan.week_of if self.days.ticked("offer") else {}
        return partial(
            write_to,
            self.front.shift,
            one.customer_id,
            self._found.by,
            way,
            offered.get(one.customer_id),
        )

    def _made(self, ways: Sequence[str], refused: list[str], whole: bool) -> None:
        if not whole:
            self._read()
            self.front.notices.trouble(
                "Stopped. What is made waits below: write it out, or take it back."
            )
            return
        made = upkeep_messages(self.front.shift, [State.MADE])
        self._write_out([one for one in made if one.message.way in ways], refused)

    def _write_out(
        self, messages: Sequence[UpkeepMessageView], refused: Sequence[str] = ()
    ) -> None:
        """Draw these messages into files and open them."""
        if self._busy():
            return
        out = DueOut(self.front.shift, self.front.papers.folder / "shop")
        jobs: list[Callable[[], object]] = [out.begin]
        jobs += [partial(out.add, one) for one in reversed(messages)]
        self.batch.run("Writing them out", jobs, partial(self._drawn, out, list(refused)))

    def _drawn(self, out: DueOut, before: list[str], refused: list[str], whole: bool) -> None:
        if not whole:
            self._read()
            self.front.notices.trouble("Stopped. Nothing is written out; what is made waits below.")
            return
        self.front.worker.run(
            out.end,
            partial(self._written, [*before, *refused]),
            doing="Writing the files",
            sorry=self._not_written,
        )

    def _not_written(self, error: Exception) -> None:
        if not isinstance(error, JobError):
            raise error
        self._read()
        self.front.notices.trouble(error.sentence)

    def _written(self, refused: list[str], written: WrittenOut) -> None:
        self._read()
        for file in written.files:
            self.front.papers.opener(file)
        troubles = [*refused, *written.troubles]
        if troubles:
            self.front.notices.trouble(" ".join(filter(None, (*troubles, written.words))))
        else:
            self.front.notices.say(written.words or "Nothing waits to go out.")

    def _table(self) -> None:
        if self._found is None:
            return
        file = self.front.papers.folder / "shop" / f"upkeep due {self._found.by.isoformat()}.csv"
        rows = list(due_cells(self._shown, self._found.plan.week_of))
        if self.did(lambda: save_csv(file, HEADS, rows)):
            self.front.notices.say(f"For a spreadsheet: {file}.")

    def _busy(self) -> bool:
        if self.batch.running:
            self.front.notices.trouble("Something is being written: wait, or stop it with Alt+Q.")
        return self.batch.running


def _day(shift: Shift, words: str) -> date:
    shop = shift.shop
    today = shift.today_in(shop)
    day = typed.day(words, "by", today, day_first=shop.day_first)
    return day or today + timedelta(days=AHEAD_DAYS)


def _find(shift: Shift, by: date) -> _Found:
    owners = due_list(shift, by)
    return _Found(by, owners, invitations(shift, owners))


def _cells(one: DueOwner, week_of: dict[int, date]) -> tuple[str, ...]:
    week = week_of.get(one.customer_id)
    return (
        one.owner,
        one.way or "nothing",
        "; ".join(machine.title for machine in one.machines),
        show_date(one.due_on)[4:],
        show_date(week)[4:-5] if week else "",
    )


def _tag(one: DueOwner) -> str:
    return "" if one.way else "faint"


def _said_of(one: DueOwner) -> str:
    phones = ", ".join(one.phones) or "no phone"
    reached = f"{one.owner} {one.why_not}." if one.why_not else f"{one.owner}, {phones}."
    lines = [
        f"{machine.title}, {show_date(machine.due_on)[4:]}: {machine.in_short}."
        for machine in one.machines
    ]
    return "\n".join((reached, *lines))


def _counts(owners: Sequence[DueOwner]) -> str:
    ways = [one.way for one in owners]
    return ", ".join(
        counted(ways.count(way), thing) for way, thing in _THINGS.items() if way in ways
    )

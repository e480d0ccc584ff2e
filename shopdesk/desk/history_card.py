"""All that is remembered of a machine: owners, visits, readings over the years, what it cost."""

from functools import partial

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.reading_plot import ReadingPlot
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.visit_rows import VisitRows
from shopdesk.job.drafts import Content
from shopdesk.job.history import OwnedFor
from shopdesk.job.model_history import Failing, what_fails_on_model
from shopdesk.job.readings_over_time import ReadingCourse
from shopdesk.job.unit_story import UnitStory, unit_story
from shopdesk.pricing.money import show_money, show_quantity

_PLOTS_ACROSS = 2
_LEAST_PLOTTED = 2


class HistoryCard(Card):
    """A machine's story on one sheet; nothing is typed here."""

    page = "history"

    def build(self) -> None:
        """Put spend and owners over visits, readings, and what fails on the model."""
        self._story: UnitStory | None = None
        self.action("On paper", "Ctrl+P", partial(self._print, for_buyer=False), main=True)
        self.action("For a buyer", "Alt+B", partial(self._print, for_buyer=True))
        self.action("Its card", "Alt+M", self._open_machine)
        self._spend = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._spend.pack(fill="x")
        self._owners = wrapping(ttk.Label(self.body))
        self._owners.pack(fill="x", pady=(4, 0))
        section(self.body, "Visits")
        self._visits = VisitRows(self.body, self.front.open_ticket)
        self._visits.pack(fill="x")
        section(self.body, "Readings over the years")
        self._said = wrapping(ttk.Label(self.body, bootstyle="secondary"))
        self._said.pack(fill="x")
        self._plots = ttk.Frame(self.body)
        self._plots.pack(fill="x", pady=(4, 0))
        for place in range(_PLOTS_ACROSS):
            self._plots.columnconfigure(place, weight=1, uniform="plots")
        self._model = section(self.body, "What fails on this model")
        self._fails = FailingRows(self.body)
        self._fails.pack(fill="x")

    @property
    def called(self) -> str:
        """Return the machine's name."""
        return f"the history of {self._story.unit.title}" if self._story else "a history"

    def show(self, known: int) -> None:
        """Show the machine of that id."""
        self.fill(known)
        self.known = known
        self._scroll.to_top()
        self.focus_first()

    def fill(self, known: int) -> None:
        """Read the machine's story and show it."""
        shift = self.front.shift
        self._story = story = unit_story(shift, known)
        self.head(f"History: {story.unit.title}")
        self._spend.configure(text=story.spend.words)
        self._owners.configure(text="\n".join(map(owned_words, story.owners)))
        self._visits.show_visits(story.visits, shift.shop.currency)
        self._show_courses(story.courses)
        unit = story.unit
        fails = what_fails_on_model(shift, unit.make, unit.model) if unit.model else ()
        self._fails.show_failing(fails, shift.shop.currency)

    def focus_first(self) -> None:
        """Begin in the visits."""
        self._visits.focus_list()

    def draft(self) -> Content:
        """Return nothing: nothing is typed here."""
        return {}

    def save(self) -> bool:
        """Do nothing: nothing is typed here."""
        return True

    def _show_courses(self, courses: tuple[ReadingCourse, ...]) -> None:
        for old in self._plots.winfo_children():
            old.destroy()
        plotted = [course for course in courses if len(course.points) >= _LEAST_PLOTTED]
        self._said.configure(text=_readings_words(courses, len(plotted)))
        for place, course in enumerate(plotted):
            row, column = divmod(place, _PLOTS_ACROSS)
            cell = ttk.Frame(self._plots, padding=(0, 0, 16, 10))
            cell.grid(row=row, column=column, sticky="new")
            ReadingPlot(cell, course).pack(fill="x")
            limit = f"Limit: {course.limit}. " if course.limit else ""
            wrapping(ttk.Label(cell, text=f"{limit}{course.heading}")).pack(fill="x")

    def _print(self, *, for_buyer: bool) -> None:
        if self.known is None or self._story is None:
            return
        from shopdesk.job.history_paper import history_content
        from shopdesk.papers.history import draw_history

        shift, known = self.front.shift, self.known
        for_whom = "for a buyer" if for_buyer else "for the owner"
        called = f"history of {self._story.unit.title} {for_whom}"
        self.front.papers.of_the_shop(
            called,
            lambda words: draw_history(history_content(shift, known, for_buyer=for_buyer), words),
        )

    def _open_machine(self) -> None:
        if self.known is not None:
            self.front.open_machine(self.known)


class FailingRows(RowList):
    """What was mended on a model, most often first."""

    def __init__(self, parent: ttk.Frame) -> None:
        super().__init__(
            parent,
            [
                Column("Cause", 260, grows=True),
                Column("Times", 60, right=True),
                Column("Age", 90, right=True),
                Column("Bench hours", 100, right=True),
                Column("Parts", 90, right=True),
                Column("Charged", 90, right=True),
                Column("Came back", 90, right=True),
            ],
            lines=5,
            empty="Nothing was mended on this model yet. "
            "Say what a ticket's cause was, and it is counted here.",
        )

    def show_failing(self, failing: tuple[Failing, ...], currency: str) -> None:
        """Show them; all but the counts are in the middle (median)."""
        self.show([(place, _cells(one, currency)) for place, one in enumerate(failing)])


def _cells(one: Failing, currency: str) -> tuple[str, ...]:
    return (
        one.title,
        str(one.times),
        "not known" if one.years is None else f"{one.years} years",
        show_quantity(one.hours),
        show_money(one.parts, currency),
        show_money(one.total, currency),
        str(one.came_back) if one.came_back else "",
    )


def _readings_words(courses: tuple[ReadingCourse, ...], plotted: int) -> str:
    if not courses:
        return "No reading of this machine yet: record one on a ticket's Diagnosis page."
    if not plotted:
        return "One reading of each so far: from the second on they are drawn here."
    return (
        "Beside today's limit (dashed). A dot is good, a ring borderline, a cross out of its "
        "limit; the dotted line shows where it is heading at this pace, as a guide."
    )


def owned_words(one: OwnedFor) -> str:
    """Return whose it was, from when until when."""
    until = f"until {show_date(one.until)[4:]}" if one.until else "owner today"
    return f"{one.owner}:  since {show_date(one.since)[4:]}, {until}"

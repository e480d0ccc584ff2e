"""The history of a machine on paper, for its owner or to hand to a buyer."""

from collections.abc import Sequence
from itertools import zip_longest
from textwrap import shorten

from reportlab.platypus import Table

from shopdesk.dates import show_date
from shopdesk.job.history_paper import HistoryContent, VisitOnPaper
from shopdesk.job.reading_plot import plot_of
from shopdesk.job.readings_over_time import ReadingCourse
from shopdesk.papers import styles
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.reading_plot import ReadingPlot
from shopdesk.papers.tables import PLAIN, Cell, parties, ruled_table
from shopdesk.papers.upkeep_list import upkeep_list
from shopdesk.papers.words import Words
from shopdesk.pricing.money import show_money, show_quantity

_PLOT_HEIGHT = 118.0
_GAP = 14.0
_LEAST_PLOTTED = 2
_MOST_SHOWN = 110


def draw_history(content: HistoryContent, words: Words) -> Printed:
    """Draw owners, visits, readings over the years, what it cost, and what is due next.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "history",
        shop=content.shop.name,
        phone=content.shop.phone,
        machine=content.machine.title,
    )
    paper = Paper(content.shop, say, "", say("title_buyer" if content.for_buyer else "title"))
    paper.letterhead()
    paper.headline(say("on", date=show_date(content.on)))
    if content.owner is not None:
        parties(paper, content.owner, content.machine)
    else:
        _machine_alone(paper, content)
        paper.text(say("lead_buyer"), styles.LEAD)
    if content.bought_on:
        paper.labelled(say("bought"), show_date(content.bought_on)[4:])
    paper.labelled(say("owners"), _owners(paper, content))
    paper.labelled(say("spend"), content.spend)
    _visits(paper, content)
    _readings(paper, content.courses)
    if content.next_steps:
        paper.section(say("next_steps"))
        upkeep_list(paper, content.next_steps, content.on)
    return paper.printed()


def _machine_alone(paper: Paper, content: HistoryContent) -> None:
    machine, say = content.machine, paper.say
    paper.text(machine.title, styles.STRONG)
    paper.text(say("serial", serial=machine.serial) if machine.serial else "")
    paper.text(say("engine", engine=machine.engine) if machine.engine else "")


def _owners(paper: Paper, content: HistoryContent) -> str:
    say = paper.say
    found = []
    for number, (name, since, until) in enumerate(content.owners, 1):
        owner = name or say("nameless", number=str(number))
        days = {"owner": owner, "since": show_date(since)[4:]}
        found.append(
            say("owner_until", **days, until=show_date(until)[4:])
            if until
            else say("owner_since", **days)
        )
    return "; ".join(found)


def _visits(paper: Paper, content: HistoryContent) -> None:
    say = paper.say
    paper.section(say("visits"))
    if not content.visits:
        paper.text(say("no_visits"))
        return
    heads = ["col_day", "col_what", "col_done", "col_hours"]
    shares = [0.16, 0.32, 0.42, 0.10]
    if not content.for_buyer:
        heads.append("col_charged")
        shares = [0.15, 0.28, 0.37, 0.08, 0.12]
    widths = [paper.width * share for share in shares]
    cells = [_visit(paper, one, widths, content.shop.currency) for one in content.visits]
    paper.story.append(ruled_table(paper, [say(head) for head in heads], cells, widths))


def _visit(paper: Paper, visit: VisitOnPaper, widths: Sequence[float], currency: str) -> list[Cell]:
    cell, say = paper.type.cell, paper.say
    day = [
        *cell(show_date(visit.on)[4:], styles.CELL, widths[0]),
        *cell(visit.ticket, styles.SMALL, widths[0]),
    ]
    what = [
        *cell(visit.cause or visit.outcome, styles.CELL_STRONG, widths[1]),
        *cell(say("came_back") if visit.comeback else "", styles.SMALL, widths[1]),
        *cell(_short(visit.complaint), styles.SMALL, widths[1]),
        *cell(_short("; ".join(visit.found)), styles.SMALL, widths[1]),
    ]
    done = [part for one in visit.done for part in cell(one, styles.CELL, widths[2])]
    cells: list[Cell] = [
        day,
        what,
        done or cell(visit.outcome, styles.CELL, widths[2]),
        cell(show_quantity(visit.hours) if visit.hours else "", styles.CELL, widths[3]),
    ]
    if visit.charged is not None:
        amount = show_money(visit.charged, currency)
        cells.append([paper.type.paragraph(amount, styles.CELL_RIGHT)])
    return cells


def _short(text: str) -> str:
    """Return what a row holds of a text; the whole of it is on the visit's ticket."""
    return shorten(text, _MOST_SHOWN, placeholder=" …")


def _readings(paper: Paper, courses: Sequence[ReadingCourse]) -> None:
    plotted = [one for one in courses if len(one.points) >= _LEAST_PLOTTED]
    if not plotted:
        return
    say = paper.say
    paper.section(say("readings"), room=210)
    paper.text(say("readings_lead"), styles.LEAD)
    width = (paper.width - _GAP) / 2
    for left, right in zip_longest(plotted[::2], plotted[1::2]):
        pair = [_plotted(paper, course, width) if course else "" for course in (left, right)]
        row = [pair[0], "", pair[1]]
        paper.story.append(Table([row], [width, _GAP, width], style=list(PLAIN)))
        paper.gap(8)


def _plotted(paper: Paper, course: ReadingCourse, width: float) -> Cell:
    title = paper.type.line(course.title)
    limit = paper.say("limit_is", limit=course.limit) if course.limit else ""
    said = " ".join(filter(None, (limit, course.heading)))
    return [
        ReadingPlot(title, paper.type.line(course.unit), plot_of(course), width, _PLOT_HEIGHT),
        *paper.type.cell(said, styles.SMALL, width - 8),
    ]

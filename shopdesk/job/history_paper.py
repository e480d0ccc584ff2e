"""A machine's history for a paper: whole for its owner, without names and sums for a buyer."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.job import paper_content as paper
from shopdesk.job.paperwork import addressee, letterhead, machine
from shopdesk.job.readings_over_time import ReadingCourse
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.unit_story import UnitStory, unit_story
from shopdesk.job.units import current_ownership, find_unit
from shopdesk.job.upkeep_plan import upkeep_ahead
from shopdesk.job.views import VisitView


@dataclass(frozen=True, slots=True)
class VisitOnPaper:
    """One visit: what was complained of, what it was, what was done."""

    on: date
    ticket: str
    """The tag's number, or empty."""
    complaint: str
    outcome: str
    cause: str
    found: tuple[str, ...]
    done: tuple[str, ...]
    hours: Decimal
    charged: Decimal | None
    """``None`` on a buyer's paper."""
    comeback: bool


@dataclass(frozen=True, slots=True)
class HistoryContent:
    """What a machine's history says. ``owner`` is ``None`` on the paper for a buyer."""

    shop: paper.Letterhead
    on: date
    owner: paper.Addressee | None
    machine: paper.MachineOnPaper
    bought_on: date | None
    owners: tuple[tuple[str, date, date | None], ...]
    """Name (empty on a buyer's paper), from, until."""
    visits: tuple[VisitOnPaper, ...]
    """Oldest first."""
    courses: tuple[ReadingCourse, ...]
    spend: str
    """In a sentence; empty on a buyer's paper."""
    next_steps: tuple[paper.UpkeepRow, ...]

    @property
    def for_buyer(self) -> bool:
        """Whether it may be handed to somebody else."""
        return self.owner is None


def history_content(shift: Shift, unit_id: int, *, for_buyer: bool = False) -> HistoryContent:
    """Return a machine's history; raises ``JobError`` if there is no such machine.

    For a buyer it names no owner, no sum of money, and no complaint in an owner's own words.
    """
    story = unit_story(shift, unit_id)
    with shift.records.reading():
        shop, unit = load_shop(), find_unit(unit_id)
        ahead = upkeep_ahead(unit, story.on) if story.gone_on is None else None
        return HistoryContent(
            shop=letterhead(shop),
            on=story.on,
            owner=None if for_buyer else addressee(current_ownership(unit).customer),
            machine=machine(unit),
            bought_on=unit.bought_on,
            owners=_owners(story, for_buyer=for_buyer),
            visits=tuple(_visit(one, for_buyer=for_buyer) for one in reversed(story.visits)),
            courses=story.courses,
            spend="" if for_buyer else story.spend.words,
            next_steps=ahead.rows if ahead else (),
        )


def _owners(story: UnitStory, *, for_buyer: bool) -> tuple[tuple[str, date, date | None], ...]:
    return tuple(("" if for_buyer else one.owner, one.since, one.until) for one in story.owners)


def _visit(visit: VisitView, *, for_buyer: bool) -> VisitOnPaper:
    return VisitOnPaper(
        on=visit.taken_in_on,
        ticket="" if for_buyer else visit.tag,
        complaint="" if for_buyer else visit.complaint,
        outcome=visit.outcome or f"open: {visit.stage}",
        cause=visit.cause_title,
        found=visit.failed,
        done=visit.done,
        hours=visit.hours,
        charged=None if for_buyer else visit.charged,
        comeback=visit.comeback_of is not None,
    )

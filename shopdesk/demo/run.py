"""Runs the demo: builds the shop, takes one ticket through the whole job, writes its papers."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from shopdesk import places
from shopdesk.dates import local_day
from shopdesk.demo.build import SEED, build_demo
from shopdesk.demo.folder import PAPERS, claim_folder, usual_folder
from shopdesk.demo.narrator import Narrator
from shopdesk.demo.scenario import load_scenario
from shopdesk.job.shift import Shift, clock
from shopdesk.job.views import TicketView
from shopdesk.papers.of_ticket import SavedPaper, save_papers


@dataclass(frozen=True, slots=True)
class DemoRun:
    """A demo that was run: its folder, its shift, the ticket that was followed, its papers."""

    folder: Path
    shift: Shift
    ticket: TicketView
    papers: tuple[SavedPaper, ...]


def run_demo(
    folder: Path | None,
    write: Callable[[str], None],
    today: date | None = None,
    seed: int = SEED,
) -> DemoRun:
    """Build the demo in ``folder`` (else in the usual one), telling with ``write`` what is done.

    Raises ``JobError`` for a folder that is not free or can't be written.
    """
    place = claim_folder(folder or usual_folder())
    write(f"The demo shop is built in {place}: this takes some seconds.")
    built = build_demo(place, today or shop_day(), seed, Narrator(write))
    papers = save_papers(built.evening, built.followed, place / PAPERS)
    write("")
    write(f"The papers of {built.followed.tag} are in {place / PAPERS}:")
    for paper in papers:
        write(f"  {paper.file.name}")
    return DemoRun(place, built.shift, built.followed, papers)


def shop_day() -> date:
    """Return the day it is in the demo shop."""
    return local_day(clock(), load_scenario(places.demo_folder()).shop.zone)

"""The reference data that the job works with, read once from the shared folder."""

from collections.abc import Mapping
from functools import cache

from shopdesk import places
from shopdesk.bench.care import Care, load_cares
from shopdesk.bench.cause_book import CauseBook, load_causes
from shopdesk.bench.cautions import Cautions, load_cautions
from shopdesk.bench.checks import Catalogue, load_catalogue
from shopdesk.bench.complaints import Complaints, load_complaints
from shopdesk.bench.limits import Limit
from shopdesk.bench.torques import Seat, load_plug_torques
from shopdesk.errors import JobError
from shopdesk.upkeep.tasks import Task, load_seasons, load_tasks
from shopdesk.upkeep.use import Season


@cache
def catalogue() -> Catalogue:
    """Return the catalogue of checks."""
    return load_catalogue(places.shared_folder())


@cache
def complaints() -> Complaints:
    """Return what owners come in with, and how a trouble comes on."""
    return load_complaints(places.shared_folder(), catalogue())


@cache
def cause_book() -> CauseBook:
    """Return what goes wrong, how it shows, and what puts it right."""
    return load_causes(places.shared_folder(), catalogue(), complaints())


def cause_title(key: str, words: str) -> str:
    """Return a cause as it is said: by the book's title, or else in the mechanic's ``words``."""
    known = cause_book().by_key.get(key)
    return known.title if known else words or key


@cache
def upkeep_tasks() -> tuple[Task, ...]:
    """Return the upkeep tasks of all kinds of machine."""
    return load_tasks(places.shared_folder())


def task_of(key: str) -> Task:
    """Return the upkeep task of that key; raises ``JobError`` at ``task_key`` if there is none."""
    for task in upkeep_tasks():
        if task.key == key.strip():
            return task
    raise JobError(f"“{key.strip()[:40]}” is no upkeep task: choose one of the list.", "task_key")


@cache
def upkeep_seasons() -> dict[str, Season]:
    """Return the usual season of use by kind of machine."""
    return load_seasons(places.shared_folder())


@cache
def cautions() -> Cautions:
    """Return the cautions, the standing line among them."""
    return load_cautions(places.shared_folder())


@cache
def cares() -> tuple[Care, ...]:
    """Return what to mind with a part as it comes off and goes back."""
    return load_cares(places.shared_folder())


@cache
def plug_torques() -> Mapping[tuple[str, Seat], Limit]:
    """Return how tight a spark plug goes in, by thread and seat."""
    return load_plug_torques(places.shared_folder())

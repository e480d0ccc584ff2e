"""Builds the demo in a process of its own: the window beside it stays alive and can stop it."""

from datetime import UTC, date, datetime
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Event

from shopdesk import places
from shopdesk.dates import local_day
from shopdesk.demo.folder import RECORDS, claim_folder, usual_folder
from shopdesk.demo.scenario import load_scenario
from shopdesk.errors import JobError
from shopdesk.job.shift import Shift, clock
from shopdesk.records.store import open_records

LOOK_SECONDS = 0.1


def fresh_demo(stop: Event) -> Shift:
    """Build the demo in its usual folder without a word, and return a shift on it.

    Raises ``JobError`` once ``stop`` is set, and for a folder that can't be written.
    """
    folder, scenario = claim_folder(usual_folder()), load_scenario(places.demo_folder())
    today = local_day(clock(), scenario.shop.zone)
    context = get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    builder = context.Process(target=_build, args=(folder, today, theirs), daemon=True)
    builder.start()
    theirs.close()
    try:
        while not ours.poll(LOOK_SECONDS):
            if stop.is_set():
                raise JobError("The demo shop was not built: it was stopped.")
        _raise_what_came(ours)
    finally:
        builder.kill()
        builder.join()
    return Shift(open_records(folder / RECORDS, datetime.now(UTC)), scenario.staff[0])


def _raise_what_came(ours: Connection) -> None:
    try:
        error = ours.recv()
    except EOFError:
        raise JobError(
            "The demo shop could not be built: its process ended too early. Try again, or see what "
            "it says with the command: shopdesk demo"
        ) from None
    if error is not None:
        raise error


def _build(folder: Path, today: date, theirs: Connection) -> None:
    """Build, and send ``None`` once it is done, or the ``JobError`` that came instead."""
    from shopdesk.demo.build import build_demo

    try:
        build_demo(folder, today).shift.records.close()
    except JobError as error:
        theirs.send(error)
    else:
        theirs.send(None)

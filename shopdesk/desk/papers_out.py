"""Papers: drawn beside the window, kept in the ticket's folder, opened for printing."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.worker import Worker
from shopdesk.errors import JobError
from shopdesk.job.shift import Shift

if TYPE_CHECKING:
    from shopdesk.job.views import EstimateView, InvoiceView, ReminderView, TicketView
    from shopdesk.papers.of_ticket import Drawing

Opener = Callable[[Path], bool]


@dataclass(frozen=True, slots=True)
class Written:
    """A paper that lies in its folder, and the characters that stand on it as codes."""

    file: Path
    missing: tuple[str, ...]


class PapersOut:
    """Writes papers into ``folder`` (one folder for each ticket) and opens them with ``opener``."""

    def __init__(
        self,
        shift: Shift,
        worker: Worker,
        notices: NoticeLine,
        opener: Opener,
        folder: Path | None = None,
    ) -> None:
        self._shift = shift
        self._worker = worker
        self._notices = notices
        self.opener = opener
        file = shift.records.file
        self.folder = folder or file.with_name(f"{file.stem}-papers")

    def tag(self, ticket: TicketView) -> None:
        """Write the claim tag."""
        self._write(ticket, "claim tag")

    def visit(self, ticket: TicketView) -> None:
        """Write the owner's slip and the tags of all machines of the visit, as one file."""
        name = f"{ticket.tag} visit slip"
        find = partial(_visit_of, self._shift, ticket)
        self._draw("visit slip", name, find, self.folder / ticket.tag)

    def bench_sheet(self, ticket: TicketView) -> None:
        """Write the bench sheet: checks to do, what came off, the way back together."""
        self._write(ticket, "bench sheet")

    def estimate(self, ticket: TicketView, estimate: EstimateView) -> None:
        """Write an estimate as it was given."""
        self._write(ticket, f"estimate {estimate.number}")

    def ways_out(self, ticket: TicketView) -> None:
        """Write the ways out side by side, as they are now."""
        self._write(ticket, "ways out")

    def invoice(self, ticket: TicketView, invoice: InvoiceView) -> None:
        """Write an invoice or credit note as it was first printed, and keep what never was."""
        kind = "credit note" if invoice.credits else "invoice"
        self._write(ticket, f"{kind} {invoice.number}")
        self._worker.run(
            partial(_keep_unprinted, self._shift),
            lambda _kept: None,
            doing="Keeping what was issued",
        )

    def summary(self, ticket: TicketView) -> None:
        """Write what was done and why."""
        self._write(ticket, "work and why")

    def reminder(self, ticket: TicketView, reminder: ReminderView) -> None:
        """Write the letter that reminds of upkeep."""
        self._write(ticket, f"reminder {reminder.due_on.isoformat()}")

    def calendar(self, ticket: TicketView, reminder: ReminderView) -> None:
        """Write the upkeep for the owner's own calendar, and open it."""
        self._worker.run(
            partial(_calendar_saved, self._shift, ticket, reminder, self.folder / ticket.tag),
            lambda file: self._written(Written(file, ()), "calendar file"),
            doing="Writing the calendar file",
        )

    def of_the_shop(self, called: str, draw: Drawing) -> None:
        """Write a paper that is no ticket's; ``draw`` is called beside the window."""
        self._draw(called, called, lambda: draw, self.folder / "shop")

    def _write(self, ticket: TicketView, called: str) -> None:
        name = f"{ticket.tag} {called}"
        find = partial(_paper_of, self._shift, ticket, name)
        self._draw(called, name, find, self.folder / ticket.tag)

    def _draw(self, called: str, name: str, find: Callable[[], Drawing], folder: Path) -> None:
        self._worker.run(
            lambda: _drawn_and_saved(self._shift, find, name, folder),
            lambda written: self._written(written, called),
            doing=f"Writing the {called}",
        )

    def _written(self, written: Written, called: str) -> None:
        opened = self.opener(written.file)
        where = f"The {called} is in {written.file}."
        if not opened:
            where += " No program that shows PDF files answered: open it from there."
        if written.missing:
            gone = " ".join(written.missing)
            self._notices.trouble(
                f"{where} These characters could not be printed and stand as codes: {gone}"
            )
        else:
            self._notices.say(where)


def open_with_system(file: Path) -> bool:
    """Open the file with the system's own program; returns whether there is one."""
    if sys.platform == "win32":
        os.startfile(file)
        return True
    program = shutil.which("open" if sys.platform == "darwin" else "xdg-open")
    if program is None:
        return False
    subprocess.Popen(
        [program, str(file)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    return True


def _paper_of(shift: Shift, ticket: TicketView, name: str) -> Drawing:
    from shopdesk.papers.of_ticket import papers_of

    draw = papers_of(shift, ticket).get(name)
    if draw is None:
        raise JobError(f"There is no {name} yet: see what the ticket still needs.")
    return draw


def _visit_of(shift: Shift, ticket: TicketView) -> Drawing:
    from shopdesk.job.paperwork import tag_content
    from shopdesk.job.visits import visit_slip, visit_tickets
    from shopdesk.papers.visit_slip import draw_visit

    slip = visit_slip(shift, ticket.id)
    tags = [tag_content(shift, one) for one in visit_tickets(shift, ticket.id)]
    return lambda words: draw_visit(slip, tags, words)


def _keep_unprinted(shift: Shift) -> int:
    from shopdesk.papers.of_ticket import keep_unprinted, words_of

    return keep_unprinted(shift, words_of(shift))


def _calendar_saved(shift: Shift, ticket: TicketView, reminder: ReminderView, folder: Path) -> Path:
    from shopdesk.job.after import reminder_content
    from shopdesk.papers.calendar_file import calendar_file, save_calendar
    from shopdesk.papers.of_ticket import words_of

    content = reminder_content(shift, reminder.id)
    file = calendar_file(content, words_of(shift), reminder.id, shift.now())
    name = f"{ticket.tag} upkeep {reminder.due_on.isoformat()}"
    try:
        return save_calendar(folder, name, file)
    except OSError as error:
        raise _cant_write("calendar file", folder, error) from error


def _cant_write(what: str, folder: Path, error: OSError) -> JobError:
    return JobError(
        f"The {what} can't be written into {folder} ({error.strerror}): "
        "free space or mend the folder, then print again."
    )


def _drawn_and_saved(shift: Shift, find: Callable[[], Drawing], name: str, folder: Path) -> Written:
    """Draw and save a paper. The papers' library is read only now: to open, a window needs none."""
    from shopdesk.papers.of_ticket import words_of
    from shopdesk.papers.printed import save_paper

    printed = find()(words_of(shift))
    try:
        return Written(save_paper(folder, name, printed), printed.missing)
    except OSError as error:
        raise _cant_write("paper", folder, error) from error

"""Papers: drawn beside the window, kept in the ticket's folder, opened for printing."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.worker import Worker
from shopdesk.errors import JobError
from shopdesk.job.shift import Shift

if TYPE_CHECKING:
    from shopdesk.job.views import EstimateView, InvoiceView, ReminderView, TicketView

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

    def bench_sheet(self, ticket: TicketView) -> None:
        """Write the bench sheet: checks to do, what came off, the way back together."""
        self._write(ticket, "bench sheet")

    def estimate(self, ticket: TicketView, estimate: EstimateView) -> None:
        """Write an estimate as it was given."""
        self._write(ticket, f"estimate {estimate.number}")

    def invoice(self, ticket: TicketView, invoice: InvoiceView) -> None:
        """Write an invoice or credit note as it was issued."""
        kind = "credit note" if invoice.credits else "invoice"
        self._write(ticket, f"{kind} {invoice.number}")

    def summary(self, ticket: TicketView) -> None:
        """Write what was done and why."""
        self._write(ticket, "work and why")

    def reminder(self, ticket: TicketView, reminder: ReminderView) -> None:
        """Write the letter that reminds of upkeep."""
        self._write(ticket, f"reminder {reminder.due_on.isoformat()}")

    def _write(self, ticket: TicketView, called: str) -> None:
        shift, folder = self._shift, self.folder / ticket.tag
        self._worker.run(
            lambda: _drawn_and_saved(shift, ticket, f"{ticket.tag} {called}", folder),
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


def _drawn_and_saved(shift: Shift, ticket: TicketView, name: str, folder: Path) -> Written:
    """Draw and save a paper. The papers' library is read only now: to open, a window needs none."""
    from shopdesk.papers.of_ticket import papers_of, words_of
    from shopdesk.papers.printed import save_paper

    draw = papers_of(shift, ticket).get(name)
    if draw is None:
        raise JobError(f"There is no {name} yet: see what the ticket still needs.")
    printed = draw(words_of(shift))
    try:
        return Written(save_paper(folder, name, printed), printed.missing)
    except OSError as error:
        raise JobError(
            f"The paper can't be written into {folder} ({error.strerror}): "
            "free space or mend the folder, then print again."
        ) from error

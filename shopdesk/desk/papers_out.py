"""Papers: drawn beside the window, kept in the ticket's folder, opened for printing."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk import places
from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.worker import Worker
from shopdesk.errors import JobError
from shopdesk.job.after import reminder_content
from shopdesk.job.approval import estimate_as_given
from shopdesk.job.paperwork import tag_content
from shopdesk.job.pickup import invoice_as_issued
from shopdesk.job.shift import Shift
from shopdesk.job.summary import summary_content
from shopdesk.job.views import EstimateView, InvoiceView, ReminderView, TicketView

if TYPE_CHECKING:
    from shopdesk.papers.printed import Printed
    from shopdesk.papers.words import Words

Opener = Callable[[Path], bool]
Drawing = Callable[["Words"], "Printed"]


@dataclass(frozen=True, slots=True)
class Written:
    """A paper that lies in its folder."""

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
        self._opener = opener
        file = shift.records.file
        self.folder = folder or file.with_name(f"{file.stem}-papers")
        self.last: Written | None = None

    def tag(self, ticket: TicketView) -> None:
        """Write the claim tag."""

        def draw(words: "Words") -> "Printed":
            from shopdesk.papers.claim_tag import draw_tag

            return draw_tag(tag_content(self._shift, ticket.id), words)

        self._write(ticket, f"{ticket.tag} claim tag", "the claim tag", draw)

    def estimate(self, ticket: TicketView, estimate: EstimateView) -> None:
        """Write an estimate as it was given."""

        def draw(words: "Words") -> "Printed":
            from shopdesk.papers.estimate import draw_estimate

            return draw_estimate(estimate_as_given(self._shift, estimate.id), words)

        self._write(
            ticket, f"{ticket.tag} estimate {estimate.number}", f"estimate {estimate.number}", draw
        )

    def invoice(self, ticket: TicketView, invoice: InvoiceView) -> None:
        """Write an invoice or credit note as it was issued."""
        name = "credit note" if invoice.credits else "invoice"

        def draw(words: "Words") -> "Printed":
            from shopdesk.papers.invoice import draw_invoice

            return draw_invoice(invoice_as_issued(self._shift, invoice.id), words)

        self._write(
            ticket, f"{ticket.tag} {name} {invoice.number}", f"{name} {invoice.number}", draw
        )

    def summary(self, ticket: TicketView) -> None:
        """Write what was done and why."""

        def draw(words: "Words") -> "Printed":
            from shopdesk.papers.summary import draw_summary

            return draw_summary(summary_content(self._shift, ticket.id), words)

        self._write(ticket, f"{ticket.tag} work and why", "the work performed and why", draw)

    def reminder(self, ticket: TicketView, reminder: ReminderView) -> None:
        """Write the letter that reminds of upkeep."""

        def draw(words: "Words") -> "Printed":
            from shopdesk.papers.reminder import draw_reminder

            return draw_reminder(reminder_content(self._shift, reminder.id), words)

        self._write(
            ticket, f"{ticket.tag} reminder {reminder.due_on:%Y-%m-%d}", "the reminder", draw
        )

    def _write(self, ticket: TicketView, name: str, called: str, draw: Drawing) -> None:
        folder = self.folder / ticket.tag
        self._worker.run(
            lambda: _drawn_and_saved(self._shift, draw, folder, name),
            lambda written: self._written(written, called),
            doing=f"Writing {called}",
        )

    def _written(self, written: Written, called: str) -> None:
        self.last = written
        opened = self._opener(written.file)
        where = f"{called[0].upper()}{called[1:]} is in {written.file}."
        viewer = "" if opened else " No program that shows PDF files answered: open it from there."
        if written.missing:
            gone = " ".join(written.missing)
            self._notices.trouble(
                f"{where} These characters could not be printed and stand as codes: {gone}{viewer}"
            )
        else:
            self._notices.say(where + viewer)


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


def _drawn_and_saved(shift: Shift, draw: Drawing, folder: Path, name: str) -> Written:
    from shopdesk.papers.printed import save_paper
    from shopdesk.papers.words import WordsError, load_words

    own = shift.records.templates_folder
    try:
        words = load_words(places.templates_folder(), own if own.is_dir() else None)
    except WordsError as error:
        raise JobError(str(error)) from error
    printed = draw(words)
    try:
        return Written(save_paper(folder, name, printed), printed.missing)
    except OSError as error:
        raise JobError(
            f"The paper can't be written into {folder} ({error.strerror}): "
            "free space or mend the folder, then print again."
        ) from error

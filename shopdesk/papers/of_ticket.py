"""All the papers that a ticket has so far, drawn and put into a folder."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from shopdesk import places
from shopdesk.errors import JobError
from shopdesk.job.after import reminder_content
from shopdesk.job.approval import estimate_as_given
from shopdesk.job.bench_sheet import bench_sheet_content
from shopdesk.job.invoices.prints import keep_print, kept_print, unprinted
from shopdesk.job.options.paper import ways_out_content
from shopdesk.job.paperwork import tag_content
from shopdesk.job.pickup import invoice_as_issued
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.summary import summary_content
from shopdesk.job.views import TicketView
from shopdesk.papers.bench_sheet import draw_bench_sheet
from shopdesk.papers.claim_tag import draw_tag
from shopdesk.papers.estimate import draw_estimate
from shopdesk.papers.invoice import draw_invoice
from shopdesk.papers.options import draw_options
from shopdesk.papers.printed import Printed, save_paper
from shopdesk.papers.reminder import draw_reminder
from shopdesk.papers.summary import draw_summary
from shopdesk.papers.words import Words, WordsError, load_words

Drawing = Callable[[Words], Printed]
_ON_THE_BENCH = (Stage.DIAGNOSIS, Stage.REPAIR)
_BEFORE_THE_REPAIR = (Stage.DIAGNOSIS, Stage.APPROVAL, Stage.PARTS)


@dataclass(frozen=True, slots=True)
class SavedPaper:
    """A paper that lies in its folder; ``missing`` are the characters that stand on it as codes."""

    file: Path
    pages: int
    missing: tuple[str, ...]


def papers_of(shift: Shift, ticket: TicketView) -> dict[str, Drawing]:
    """Return by name what draws each paper of the ticket.

    The claim tag; the bench sheet of a machine that is on the bench or was taken apart; the ways
    out until the repair; every estimate as it was given, every invoice and credit note as it was
    first printed; the summary once the bench is done; and the letters about upkeep that stand.
    """
    tag = ticket.tag
    papers: dict[str, Drawing] = {
        f"{tag} claim tag": lambda words: draw_tag(tag_content(shift, ticket.id), words)
    }
    if ticket.teardown or ticket.stage in _ON_THE_BENCH:
        papers[f"{tag} bench sheet"] = lambda words: draw_bench_sheet(
            bench_sheet_content(shift, ticket.id), words
        )
    if ticket.stage in _BEFORE_THE_REPAIR:
        papers[f"{tag} ways out"] = lambda words: draw_options(
            ways_out_content(shift, ticket.id), words
        )
    for estimate in ticket.estimates:
        papers[f"{tag} estimate {estimate.number}"] = partial(_estimate, shift, estimate.id)
    for bill in ticket.invoices:
        name = "credit note" if bill.credits else "invoice"
        papers[f"{tag} {name} {bill.number}"] = partial(invoice_print, shift, bill.id)
    if ticket.stage in (Stage.PICKUP, Stage.CLOSED):
        papers[f"{tag} work and why"] = lambda words: draw_summary(
            summary_content(shift, ticket.id), words
        )
    for reminder in ticket.reminders:
        if reminder.state in ("open", "sent"):
            name = f"{tag} reminder {reminder.due_on.isoformat()}"
            papers[name] = partial(_reminder, shift, reminder.id)
    return papers


def _estimate(shift: Shift, estimate_id: int, words: Words) -> Printed:
    return draw_estimate(estimate_as_given(shift, estimate_id), words)


def invoice_print(shift: Shift, invoice_id: int, words: Words) -> Printed:
    """Return an invoice or credit note as it was first printed; draw and keep it if it never was.

    Raises ``JobError`` when what was kept is harmed.
    """
    kept = kept_print(shift, invoice_id)
    if kept is None:
        drawn = draw_invoice(invoice_as_issued(shift, invoice_id), words)
        kept = keep_print(shift, invoice_id, drawn.pdf, drawn.pages, drawn.missing)
    return Printed(kept.pdf, kept.pages, kept.missing)


def keep_unprinted(shift: Shift, words: Words) -> int:
    """Draw and keep what was issued and never printed, so that later words don't change it.

    Returns how many that were; the rest of a long list waits for the next time.
    """
    waiting = unprinted(shift)
    for invoice_id in waiting:
        invoice_print(shift, invoice_id, words)
    return len(waiting)


def _reminder(shift: Shift, reminder_id: int, words: Words) -> Printed:
    return draw_reminder(reminder_content(shift, reminder_id), words)


def save_papers(shift: Shift, ticket: TicketView, folder: Path) -> tuple[SavedPaper, ...]:
    """Write the ticket's papers into ``folder``, in the shop's own words.

    Raises ``JobError`` when its words can't be used or the folder can't be written.
    """
    words = words_of(shift)
    saved = []
    for name, draw in papers_of(shift, ticket).items():
        printed = draw(words)
        try:
            file = save_paper(folder, name, printed)
        except OSError as error:
            raise JobError(
                f"The papers can't be written into {folder} ({error.strerror}): "
                "name another folder."
            ) from error
        saved.append(SavedPaper(file, printed.pages, printed.missing))
    keep_unprinted(shift, words)
    return tuple(saved)


def words_of(shift: Shift) -> Words:
    """Return the shop's words for its papers; raises ``JobError`` when they can't be used."""
    own = shift.records.templates_folder
    try:
        return load_words(places.templates_folder(), own if own.is_dir() else None)
    except WordsError as error:
        raise JobError(str(error)) from error

"""What falls due for a machine, parted into what the owner can do and what is better left to us."""

from collections.abc import Sequence
from datetime import date

from shopdesk.dates import show_date
from shopdesk.job.paper_content import UpkeepRow
from shopdesk.papers import styles
from shopdesk.papers.paper import Paper


def upkeep_list(paper: Paper, rows: Sequence[UpkeepRow], today: date) -> None:
    """Add `rows` under ``you can do these`` and ``better left to us``, in the order given.

    What is due by `today` is said to be due now.
    """
    for owner_can, label in ((True, "who_can_owner"), (False, "who_can_shop")):
        chosen = [row for row in rows if row.owner_can is owner_can]
        if not chosen:
            continue
        paper.room(70)
        paper.text(paper.say(label), styles.SUBSECTION)
        for row in chosen:
            paper.room(45)
            key = "due_now" if row.on <= today else "due_on"
            paper.labelled(paper.say(key, date=show_date(row.on)), row.title, styles.WHEN_HEAD)
            paper.text(row.words, styles.WHEN_TEXT)
            if row.because:
                paper.text(paper.say("because", because=row.because), styles.WHEN_SMALL)


def caution_list(paper: Paper, cautions: Sequence[str]) -> None:
    """Add the cautions, and the line that the maker's manual and local codes come first."""
    for sentence in cautions:
        paper.caution(sentence)
    paper.text(paper.say("manual_first"), styles.FIRST)

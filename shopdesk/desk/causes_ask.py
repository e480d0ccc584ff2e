"""Asks what it turned out to be as a mended machine leaves the bench; it may be left unsaid."""

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.desk.front import Front
from shopdesk.errors import JobError
from shopdesk.job.causes import hint, say_cause
from shopdesk.job.ranking import CauseView, ranking
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView

_MOST_NAMED = 7
_ELSE = "something else: say it in words"
_UNSAID = "leave it unsaid"


def ask_cause(front: Front, ticket: TicketView, to: Stage) -> bool:
    """Ask for the cause where it is not said yet, and note it; false: the ticket stays."""
    if to is not Stage.PICKUP or not hint(ticket):
        return True
    likely = likeliest(ranking(front.shift, ticket.id).causes)
    place = front.dialogs.choose(
        "What it turned out to be",
        f"{hint(ticket)} The likeliest come first; all of them stand on Repair (Alt+4, Alt+T).",
        [*(cause.title for cause in likely), _ELSE, _UNSAID],
    )
    if place is None:
        return False
    if place < len(likely):
        return _note(front, ticket, likely[place].key, "")
    if place > len(likely):
        return True
    words = front.dialogs.ask_text("What it turned out to be", "What was it, in your words?")
    return words is not None and _note(front, ticket, SOMETHING_ELSE, words)


def likeliest(causes: tuple[CauseView, ...]) -> list[CauseView]:
    """Return the causes to name, likeliest first; not those that were ruled out."""
    named = [one for one in causes if one.key != SOMETHING_ELSE and not one.overruled]
    return named[:_MOST_NAMED]


def _note(front: Front, ticket: TicketView, key: str, words: str) -> bool:
    try:
        say_cause(front.shift, ticket.id, key, words)
    except JobError as error:
        front.notices.trouble(error.sentence)
        return False
    return True

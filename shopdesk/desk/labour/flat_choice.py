"""Asks which of the shop's flat times is meant, the likeliest for the ticket first."""

from shopdesk.desk.front import Front
from shopdesk.desk.header import shortened
from shopdesk.job.labour.flat_times import FlatTimeView, choice_words, flat_times_for
from shopdesk.job.views import TicketView

_AT_ONCE, _MOST_SAID = 15, 110


def choose_flat_time(front: Front, ticket: TicketView) -> FlatTimeView | None:
    """Return the flat time that the person chose, or ``None``; says where none is on the list."""
    offered = flat_times_for(front.shift, ticket.id)
    if not offered:
        front.notices.trouble(
            f"There is no flat time for a {ticket.unit.kind} yet: "
            "add one in the settings (F10, Alt+T)."
        )
        return None
    shop = front.shift.shop
    words = [shortened(choice_words(one, shop), _MOST_SAID) for one in offered]
    for first in range(0, len(offered), _AT_ONCE):
        shown, left = words[first : first + _AT_ONCE], len(words) - first - _AT_ONCE
        more = [f"{left} more …"] if left > 0 else []
        chosen = front.dialogs.choose("Flat times", "Which job is it?", [*shown, *more])
        if chosen is None:
            return None
        if chosen < len(shown):
            return offered[first + chosen].flat
    return None

"""What every page of the window works with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shopdesk.desk.dialogs import Dialogs
from shopdesk.desk.drafts import Drafts
from shopdesk.desk.keys import Keys
from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.papers_out import PapersOut
from shopdesk.desk.worker import Worker
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop

if TYPE_CHECKING:
    from shopdesk.desk.card import Card
    from shopdesk.desk.page import Draft
    from shopdesk.desk.sheet import Sheet
    from shopdesk.job.views import TicketView


@dataclass(frozen=True, slots=True)
class Front:
    """The shift at the desk, and the window's own services."""

    shift: Shift
    keys: Keys
    dialogs: Dialogs
    worker: Worker
    drafts: Drafts
    papers: PapersOut
    notices: NoticeLine
    show_ticket: Callable[[TicketView], None]
    """Show this ticket as it is now, in the whole window."""
    refresh_board: Callable[[], None]
    """Read the board anew: something was done to tickets that are not open."""
    open_ticket: Callable[[int], None]
    """Open the ticket of that id on the page of its stage."""
    open_owner: Callable[[int], None]
    open_machine: Callable[[int], None]
    open_sheet: Callable[[type[Sheet]], None]
    """Open a sheet of the shop's over the one in sight; leaving it comes back to that one."""
    open_card: Callable[[type[Card], int], None]
    """Open the card of what has that id over the sheet in sight; leaving it comes back."""
    new_ticket: Callable[[int | None, int | None], None]
    """Begin a new ticket, for a known owner (id) and machine (id) or for none."""
    prepare: Callable[[str, Draft], None]
    """Turn to the ticket's page of that title, with this typed into its forms and not kept yet."""
    show_shop: Callable[[Shop], None]
    """Show the shop's particulars as they are now."""

"""Choosing a way out: a repair puts its lines on the ticket, the others are a no with its fee."""

from collections.abc import Sequence
from dataclasses import replace

from shopdesk.errors import JobError
from shopdesk.job.approval import SayEntry, decline
from shopdesk.job.lines import drop_row, put_line, refuse_unless_open
from shopdesk.job.opened import ticket_view
from shopdesk.job.options.judged import TITLES
from shopdesk.job.options.lines import came_with_the_no, replaceable
from shopdesk.job.options.views import OptionView
from shopdesk.job.options.worked_out import options_of
from shopdesk.job.reckoned import reckon
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import ON_ORDER, TicketRows, find_ticket, rows_of
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Line, Ticket


def take_option(shift: Shift, ticket_id: int, key: str, say: SayEntry | None = None) -> TicketView:
    """Put the lines of a way out in place of the repair that is on offer, at today's prices.

    “Another machine” and “Leave it” are a no: ``say`` tells who said so and how, and the fee is
    owed. Raises ``JobError`` while a yes stands for other lines, or a part of theirs is on order.
    """
    if key in TITLES:
        return _decline(shift, ticket_id, TITLES[key], say)
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_unless_open(ticket)
        rows = rows_of(ticket)
        option = _chosen(options_of(ticket, change.shop, change.today, rows).option(key))
        lines = replaceable(rows)
        _refuse_if_agreed(rows, lines)
        _refuse_if_ordered(lines)
        _put(change, ticket, lines, option)
        for line in rows.live_lines:
            if came_with_the_no(rows, line):
                drop_row(change, line, "a repair is on offer again")
        reckon(change, ticket)
        return ticket_view(ticket, change.shop, change.today)


def _decline(shift: Shift, ticket_id: int, title: str, say: SayEntry | None) -> TicketView:
    if say is None:
        raise JobError(f"“{title}” is a no to the repair: say who chose it, and how.", "who")
    return decline(shift, ticket_id, replace(say, option=title))


def _chosen(option: OptionView | None) -> OptionView:
    if option is None:
        raise JobError("That way out is not there any more: look at the options again.", "option")
    return option


def _refuse_if_agreed(rows: TicketRows, lines: Sequence[Line]) -> None:
    if lines and rows.approvals and not rows.refused:
        raise JobError(
            f"{rows.approvals[-1].who} said yes to the lines that are on the ticket: take that yes "
            "back on the Approval page first, then choose another way.",
            "approval",
        )


def _refuse_if_ordered(lines: Sequence[Line]) -> None:
    ordered = [line for line in lines if line.order_line_id or line.supply == ON_ORDER]
    if ordered:
        raise JobError(
            f"“{ordered[0].description}” is on order: cancel the order first, "
            "or keep the way that needs it.",
            "lines",
        )


def _put(change: Change, ticket: Ticket, lines: Sequence[Line], option: OptionView) -> None:
    for line in lines:
        drop_row(change, line, f"another way out was chosen: {option.title}")
    for item in option.items:
        put_line(change, ticket, item.entry())

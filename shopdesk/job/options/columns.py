"""The ways out as they stand on paper, side by side."""

from datetime import date

from shopdesk.job.options.views import OptionsView, OptionView
from shopdesk.job.options.worked_out import options_of
from shopdesk.job.paper_content import WayOutColumn, WaysOut
from shopdesk.job.shop import Shop
from shopdesk.job.standing import TicketRows


def ways_out_beside(rows: TicketRows, shop: Shop, today: date) -> WaysOut | None:
    """Return what stands beside the lines of an estimate, inside a transaction.

    None where there is no choice to make: the machine was not looked at, or all there is beside
    the lines is to leave it.
    """
    if not rows.looked_at:
        return None
    view = options_of(rows.ticket, shop, today, rows)
    real = [one for one in view.options if one.per_hour is not None or one.mends]
    return ways_out(view) if len(real) > 1 else None


def ways_out(view: OptionsView) -> WaysOut:
    """Return the ways out as a paper shows them."""
    columns = tuple(_column(option) for option in view.options)
    return WaysOut(columns, view.left_out, view.suggestion, view.guide)


def _column(option: OptionView) -> WayOutColumn:
    return WayOutColumn(
        title=option.title,
        words=option.words,
        price_now=option.price_now,
        expected=option.expected,
        worst=option.worst,
        chance=option.chance_words,
        hours=option.hours,
        ready=option.ready_on,
        life_hours=option.life_hours,
        per_hour=option.per_hour,
        typical=option.typical,
        itemised=option.stands,
        mends=option.mends,
        suggested=option.suggested,
    )

"""The open tickets, under whose move it is, late ones first."""

from collections.abc import Mapping

from shopdesk.job.opened import days_late, tag_of
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.stages import Move, Stage, whose_move
from shopdesk.job.standing import rows_of_many, standing_of
from shopdesk.job.views import BoardRow, machine_title
from shopdesk.records.tables import Customer, Ticket, Unit

MOVES = (Move.BENCH, Move.COUNTER, Move.OWNER, Move.SUPPLIER)
MOST = 500


def open_tickets(shift: Shift, most: int = MOST) -> Mapping[Move, tuple[BoardRow, ...]]:
    """Return at most ``most`` open tickets, the earliest promise first, under whose move it is."""
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        tickets = list(
            Ticket.select(Ticket, Customer, Unit)
            .join(Customer)
            .switch(Ticket)
            .join(Unit)
            .where(Ticket.stage.in_([stage for stage in Stage if stage is not Stage.CLOSED]))
            .order_by(Ticket.promised_on, Ticket.number)
            .limit(most)
        )
        rows = [
            BoardRow(
                ticket_id=one.ticket.id,
                number=one.ticket.number,
                tag=tag_of(one.ticket.number),
                stage=Stage(one.ticket.stage),
                move=whose_move(standing_of(one, shop)),
                owner=one.ticket.customer.name,
                machine=machine_title(
                    one.ticket.unit.kind, one.ticket.unit.make, one.ticket.unit.model
                ),
                complaint=one.ticket.complaint,
                promised_on=one.ticket.promised_on,
                days_late=days_late(one.ticket, today),
            )
            for one in rows_of_many(tickets)
        ]
    return {move: tuple(row for row in rows if row.move is move) for move in MOVES}

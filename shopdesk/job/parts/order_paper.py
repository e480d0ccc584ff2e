"""An order to a supplier as a paper, to be sent, or read down the telephone."""

from decimal import Decimal

from shopdesk.job.paper_content import PartsOrderContent, PartsOrderRow
from shopdesk.job.paperwork import letterhead
from shopdesk.job.parts.order_views import order_view
from shopdesk.job.parts.orders import find_order
from shopdesk.job.shift import Shift, load_shop


def order_content(shift: Shift, order_id: int) -> PartsOrderContent:
    """Return the order as its paper says it; what was cancelled is left out."""
    with shift.records.reading():
        shop = load_shop()
        order = order_view(find_order(order_id), shop)
    rows = (
        PartsOrderRow(
            number=line.number,
            supplier_number=line.supplier_number,
            name=line.name,
            condition=line.condition,
            packs=line.packs - line.cancelled,
            pack=line.pack,
            cost=line.cost,
            total=line.total,
            tickets=line.tags,
        )
        for line in order.lines
        if line.packs > line.cancelled
    )
    return PartsOrderContent(
        shop=letterhead(shop),
        number=order.number,
        on=order.ordered_on or shift.today_in(shop),
        placed=order.ordered_on is not None,
        supplier=order.supplier.name,
        phone=order.supplier.phone,
        email=order.supplier.email,
        account=order.supplier.account,
        rows=tuple(rows),
        goods=order.goods,
        postage=order.postage if order.goods else Decimal("0.00"),
        note=order.note,
    )

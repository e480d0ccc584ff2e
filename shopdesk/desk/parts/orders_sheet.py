"""The orders to suppliers: open ones first, with what is still to come and when."""

from datetime import date

from shopdesk.dates import show_date
from shopdesk.desk.buying.sheet import BuyingSheet
from shopdesk.desk.forms import Form
from shopdesk.desk.parts.order_card import OrderCard
from shopdesk.desk.parts.receiving_card import ReceivingCard
from shopdesk.desk.parts.suppliers_sheet import SuppliersSheet
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.job.drafts import Content, Place
from shopdesk.job.parts.order_views import OrderRow, list_orders
from shopdesk.job.parts.ordering import new_order
from shopdesk.job.parts.suppliers import suppliers
from shopdesk.pricing.money import show_money


class OrdersSheet(Sheet):
    """Enter opens an order; Alt+R receives the chosen one's packet."""

    page, called = "orders", "the orders"

    def build(self) -> None:
        """Put the list."""
        self._rows: dict[int, OrderRow] = {}
        self.head("Orders")
        front = self.front
        self.action("Receive a packet", "Alt+R", self._receive, main=True)
        self.action("New order …", "Alt+N", self._begin)
        self.action("Buy for all tickets", "Alt+A", lambda: front.open_sheet(BuyingSheet))
        self.action("Suppliers", "Alt+U", lambda: front.open_sheet(SuppliersSheet))
        self.list = RowList(
            self.body,
            [
                Column("Order", 70),
                Column("Supplier", 180, grows=True),
                Column("State", 104),
                Column("Ordered", 92),
                Column("Expected", 156),
                Column("Lines", 52, right=True),
                Column("Costs us", 92, right=True),
                Column("Still to come", 150, grows=True),
            ],
            lines=13,
            empty="No order is open. Alt+N begins one, the reorder list (Ctrl+1, Alt+R) more.",
        )
        self.list.pack(fill="both", expand=True)
        self.list.on_open(lambda key: front.open_card(OrderCard, key))
        self.form = form = Form(self.body, columns=4)
        form.tick("closed", "Also those that are done").watch(self._look)
        form.pack(fill="x", pady=(4, 0))

    def show_now(self) -> None:
        """Show the orders as they are now."""
        self._look()
        self.focus_first()

    def come_back(self, place: Place) -> None:
        """Go on in the list."""
        self.show_now()

    def focus_first(self) -> None:
        """Begin in the list, at its first row where none is chosen."""
        self.list.focus_list()

    def draft(self) -> Content:
        """Return nothing: nothing is typed here."""
        return {}

    def throw_away(self) -> None:
        """Show the open orders."""
        self.form.fill({})
        self._look()

    def _look(self) -> None:
        shift = self.front.shift
        found = list_orders(shift, closed=self.form.ticked("closed"))
        self._rows = {row.id: row for row in found}
        today, currency = shift.today, shift.shop.currency
        self.list.show([_listed(row, today, currency) for row in found])

    def _receive(self) -> None:
        if self.list.selected is None:
            self.front.notices.trouble("Choose the order in the list first.")
            self.list.focus_list()
        else:
            self.front.open_card(ReceivingCard, self.list.selected)

    def _begin(self) -> None:
        shift = self.front.shift
        known = suppliers(shift)
        if not known:
            self.front.notices.trouble("No supplier is written down yet: Alt+U, then type one.")
            return
        place = self.front.dialogs.choose(
            "New order", "To which supplier?", [one.name for one in known]
        )
        if place is None:
            return
        order = self.attempt(lambda: new_order(shift, known[place].id))
        if order is not None:
            self.front.open_card(OrderCard, order.id)


def _listed(row: OrderRow, today: date, currency: str) -> tuple[int, tuple[str, ...], str]:
    late = row.expected_on is not None and row.expected_on < today
    due = show_date(row.expected_on, today) if row.expected_on else ""
    cells = (
        row.number,
        row.supplier,
        row.state,
        show_date(row.ordered_on, today) if row.ordered_on else "",
        f"{due}, late" if late else due,
        str(row.lines),
        show_money(row.cost, currency),
        row.to_come,
    )
    return row.id, cells, "trouble" if late else ""

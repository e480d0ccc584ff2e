"""Who sells us parts, and on what terms: the list, and the form for one of them."""

from dataclasses import asdict

import ttkbootstrap as ttk

from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.listed_form import ListedForm
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.parts.suppliers import (
    SupplierEntry,
    add_supplier,
    change_supplier,
    keep_supplier,
    supplier_entry,
    suppliers,
)
from shopdesk.job.parts.views import SupplierView
from shopdesk.pricing.money import show_money


class SuppliersSheet(ListedForm):
    """Enter in the list brings a supplier into the form; Ctrl+S or Enter there keeps it."""

    page, called = "suppliers", "a supplier"
    held, adds = "supplier", "Write it down"

    def build(self) -> None:
        """Put list and form."""
        self._suppliers: dict[int, SupplierView] = {}
        self.head("Suppliers")
        self.action("Save", "Ctrl+S", self.save, main=True)
        self.action("New supplier", "Alt+N", self._begin)
        self.action("Buy there no more", "Alt+V", self._keep_or_not)
        self.list = RowList(
            self.body,
            [
                Column("Supplier", 220, grows=True),
                Column("Phone", 120),
                Column("Postage", 84, right=True),
                Column("Free from", 84, right=True),
                Column("Least order", 90, right=True),
                Column("Days", 56, right=True),
                Column("Note", 180, grows=True),
            ],
            lines=7,
            empty="No supplier is written down yet: type the first one below.",
        )
        self.list.pack(fill="x")
        self.list.on_open(lambda key: self._change(self._suppliers[key]))
        self._put_form()
        self.begin()

    def save(self) -> bool:
        """Keep the supplier that is typed."""
        if not self.form.changed:
            return True
        if self.attempt(self._write, self.form, said="Saved.") is None:
            return False
        self.throw_away()
        self.front.drafts.gather()
        self.read()
        self.focus_first()
        return True

    def _put_form(self) -> None:
        self.form = form = Form(self.body, columns=12)
        form.line("name", "Name", span=4)
        form.line("phone", "Phone", span=3)
        form.line("email", "E-mail", span=3)
        form.line("account", "Our account", "number there", span=2)
        form.line("postage", "Postage", "an order", span=2)
        form.line("free_postage_from", "Free from", "goods worth", span=2)
        form.line("least_order", "Least order", span=2)
        form.line("lead_days", "Days until here", span=2)
        form.line("notes", "Note", span=4)
        hold(form, self.held)
        form.submit_with(self.save)
        form.pack(fill="x", pady=(8, 0))
        line = ttk.Frame(self.body)
        line.pack(fill="x")
        keys = self.front.keys
        self.keep_button = action_button(line, keys, f"{self.adds}  Enter", "", self.save)
        self.keep_button.pack(side="left")
        self.leave_button = action_button(line, keys, "Leave it as it was", "Esc", self.leave_form)
        form.on_change = self.mark_typed

    def read(self) -> None:
        """Read the suppliers and show them."""
        shift = self.front.shift
        currency = shift.shop.currency
        found = suppliers(shift, inactive=True)
        self._suppliers = {one.id: one for one in found}
        self.list.show([_listed(one, currency) for one in found])

    def _write(self) -> SupplierView:
        shift, entry = self.front.shift, self.form.into(SupplierEntry)
        known = self._changing()
        if known is None:
            return add_supplier(shift, entry)
        return change_supplier(shift, known.id, entry, known.version)

    def _changing(self) -> SupplierView | None:
        held = self.form.text_of(self.held)
        if not held:
            return None
        if int(held) not in self._suppliers:
            raise JobError("That supplier is not written down any more: leave the change (Esc).")
        return self._suppliers[int(held)]

    def _change(self, supplier: SupplierView) -> None:
        values: dict[str, Value] = dict(asdict(supplier_entry(supplier)))
        self.form.fill({**values, self.held: str(supplier.id)})
        self.show_mode()
        self.form.focus_first()

    def _begin(self) -> None:
        if self.save():
            self.throw_away()
            self.form.focus_first()

    def _keep_or_not(self) -> None:
        one = self._suppliers.get(self.list.selected or 0)
        if one is None:
            self.front.notices.trouble("Choose a supplier in the list first.")
            self.list.focus_list()
            return
        said = (
            f"{one.name}: no more asked; what was bought there stays."
            if one.active
            else f"{one.name} is asked again."
        )
        shift = self.front.shift
        if self.attempt(lambda: keep_supplier(shift, one.id, not one.active), said=said):
            self.read()


def _listed(one: SupplierView, currency: str) -> tuple[int, tuple[str, ...], str]:
    cells = (
        one.name if one.active else f"{one.name} (no more)",
        one.phone,
        show_money(one.postage, currency),
        "" if one.free_postage_from is None else show_money(one.free_postage_from, currency),
        "" if one.least_order is None else show_money(one.least_order, currency),
        str(one.lead_days),
        one.notes,
    )
    return one.id, cells, "" if one.active else "faint"

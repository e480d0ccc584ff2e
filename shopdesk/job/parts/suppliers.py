"""Suppliers: who sells us parts, what they ask for postage, and how long they take."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.views import SupplierView
from shopdesk.job.shift import Shift
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Supplier
from shopdesk.text import letters_and_digits


@dataclass(frozen=True, slots=True)
class SupplierEntry:
    """A supplier as typed; ``lead_days`` from order to door, money empty where there is none."""

    name: str
    phone: str = ""
    email: str = ""
    account: str = ""
    """Our number with them."""
    notes: str = ""
    postage: str = ""
    free_postage_from: str = ""
    least_order: str = ""
    lead_days: str = ""


def supplier_entry(view: SupplierView) -> SupplierEntry:
    """Return a supplier as it can be typed again."""
    return SupplierEntry(
        name=view.name,
        phone=view.phone,
        email=view.email,
        account=view.account,
        notes=view.notes,
        postage=str(view.postage),
        free_postage_from=_typed(view.free_postage_from),
        least_order=_typed(view.least_order),
        lead_days=str(view.lead_days),
    )


def add_supplier(shift: Shift, entry: SupplierEntry) -> SupplierView:
    """Write down a supplier. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        supplier = Supplier()
        _fill(supplier, entry)
        change.add(supplier)
        return supplier_view(supplier)


def change_supplier(
    shift: Shift, supplier_id: int, entry: SupplierEntry, version: int | None = None
) -> SupplierView:
    """Change a supplier. ``version`` is the one shown; raises ``StaleError`` if it grew."""
    with shift.changing() as change:
        supplier = find_supplier(supplier_id)
        supplier.version = supplier.version if version is None else version
        _fill(supplier, entry)
        change.save(supplier)
        return supplier_view(supplier)


def keep_supplier(shift: Shift, supplier_id: int, active: bool) -> SupplierView:
    """Say whether we still buy there: offers of one we don't count for nothing."""
    with shift.changing() as change:
        supplier = find_supplier(supplier_id)
        supplier.active = active
        change.save(supplier)
        return supplier_view(supplier)


def suppliers(shift: Shift, *, inactive: bool = False) -> tuple[SupplierView, ...]:
    """Return the suppliers by name; with ``inactive`` those we buy from no more as well."""
    with shift.records.reading():
        rows = sorted(Supplier.select(), key=lambda row: letters_and_digits(row.name))
        return tuple(supplier_view(row) for row in rows if row.active or inactive)


def find_supplier(supplier_id: int) -> Supplier:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    supplier = row_of(Supplier, supplier_id)
    if supplier is None:
        raise JobError("That supplier is not in the records: choose one of the list.", "supplier")
    return supplier


def supplier_view(row: Supplier) -> SupplierView:
    """Return the row as a plain value."""
    return SupplierView(
        id=row.id,
        version=row.version,
        name=row.name,
        phone=row.phone,
        email=row.email,
        account=row.account,
        notes=row.notes,
        postage=row.postage,
        free_postage_from=row.free_postage_from,
        least_order=row.least_order,
        lead_days=row.lead_days,
        active=row.active,
    )


def _fill(supplier: Supplier, entry: SupplierEntry) -> None:
    supplier.name = typed.line(entry.name, "name", "The supplier's name", needed=True)
    _refuse_double(supplier)
    supplier.phone = typed.line(entry.phone, "phone", "The phone number")
    supplier.email = typed.email(entry.email, "email")
    supplier.account = typed.line(entry.account, "account", "Our number with them")
    supplier.notes = typed.text(entry.notes, "notes", "The note")
    supplier.postage = typed.optional_money(entry.postage, "postage") or Decimal("0.00")
    supplier.free_postage_from = typed.optional_money(entry.free_postage_from, "free_postage_from")
    supplier.least_order = typed.optional_money(entry.least_order, "least_order")
    supplier.lead_days = typed.days(entry.lead_days or "0", "lead_days", "The days until it comes")


def _refuse_double(supplier: Supplier) -> None:
    folded = letters_and_digits(supplier.name)
    for other in Supplier.select():
        if other.id != supplier.id and letters_and_digits(other.name) == folded:
            kept = "" if other.active else ", though we buy there no more: take it up again"
            raise JobError(f"{other.name} is in the list already{kept}.", "name")


def _typed(amount: Decimal | None) -> str:
    return "" if amount is None else str(amount)

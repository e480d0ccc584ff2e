"""What goes out of the records: which tables, what they are called outside, and their columns.

A column is called as in the records, but that a customer is an owner and a unit a machine, as
people say. What only serves finding or saving stays inside.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any, TypeAlias

from peewee import BooleanField, DateField, Field

from shopdesk.records import tables
from shopdesk.records.fields import MoneyField, QuantityField, UtcField
from shopdesk.records.tables import Row, database

Value: TypeAlias = str | int | bool | Decimal | date | None
_INSIDE = frozenset({"version", "digits", "model_key"})
_CALLED = {"customer_id": "owner_id", "unit_id": "machine_id", "hash": "seal"}
_MORE_OF = {
    "owners": ("phones",),
    "machines": ("owner_id", "owner_name", "owner_phones", "owner_email"),
}
_CHUNK = 2000


@dataclass(frozen=True, slots=True)
class OutTable:
    """One table as it goes out: its name there, and what it holds in a sentence."""

    name: str
    table: type[Row]
    tells: str

    @property
    def fields(self) -> tuple[Field, ...]:
        """The columns of the records that go out."""
        return tuple(
            field
            for field in self.table._meta.sorted_fields
            if field.column_name not in _INSIDE and not field.column_name.startswith("folded_")
        )

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns as they are called outside."""
        own = tuple(self._called(field.column_name) for field in self.fields)
        return own + _MORE_OF.get(self.name, ())

    def count(self) -> int:
        """Return how many rows there are, inside a transaction."""
        ((rows,),) = database.execute_sql(f'SELECT count(*) FROM "{self.table._meta.table_name}"')
        return int(rows)

    def rows(self, where: str = "", *values: object) -> Iterator[tuple[Value, ...]]:
        """Yield each row under ``columns``, inside a transaction.

        ``where`` is a condition in SQL on the table ``t``, with ``values`` at its question marks.
        """
        names = ", ".join(f't."{field.column_name}"' for field in self.fields)
        more, joined = _MORE.get(self.name, ("", ""))
        named = f'"{self.table._meta.table_name}" t {joined}'
        query = f"SELECT {names}{more} FROM {named} {where and f'WHERE {where}'} ORDER BY t.id"
        turned = tuple(_turn(field) for field in self.fields)
        cursor = database.execute_sql(query, values)
        while rows := cursor.fetchmany(_CHUNK):
            for row in rows:
                own = (turn(value) for turn, value in zip(turned, row, strict=False))
                yield (*own, *row[len(turned) :])

    def _called(self, column: str) -> str:
        if self.name == "machines" and column == "notes":
            return "machine_notes"
        return _CALLED.get(column, column)


_PHONES = (
    "(SELECT group_concat(trim(p.label || ' ' || p.number), char(10)) FROM "
    "(SELECT label, number FROM phone WHERE customer_id = {owner} ORDER BY position, id) p)"
)
_MORE = {
    "owners": (f", {_PHONES.format(owner='t.id')}", ""),
    "machines": (
        f", c.id, c.name, {_PHONES.format(owner='c.id')}, c.email",
        "LEFT JOIN ownership o ON o.unit_id = t.id AND o.until IS NULL "
        "LEFT JOIN customer c ON c.id = o.customer_id",
    ),
}

OUT: tuple[OutTable, ...] = (
    OutTable("owners", tables.Customer, "who owns a machine or brings one; a phone a line"),
    OutTable("machines", tables.Unit, "the machines, each with its owner of today"),
    OutTable("ownerships", tables.Ownership, "whose a machine was, from when until when"),
    OutTable("tickets", tables.Ticket, "each visit of a machine"),
    OutTable("findings", tables.Finding, "what was measured or seen, with limit and verdict"),
    OutTable("lines", tables.Line, "what was charged, with its reason and the finding behind it"),
    OutTable("estimates", tables.Estimate, "estimates as they were given; content is JSON"),
    OutTable("approvals", tables.Approval, "who said yes or no, how and up to how much"),
    OutTable("invoices", tables.Invoice, "invoices and credit notes as issued; content is JSON"),
    OutTable("invoice_prints", tables.InvoicePrint, "the SHA-256 of each invoice as printed"),
    OutTable("payments", tables.Payment, "money taken, and given back (below zero)"),
    OutTable("write_offs", tables.WriteOff, "debts given up"),
    OutTable("till_counts", tables.TillCount, "the cash counted at the end of a day"),
    OutTable("parts", tables.Part, "the catalogue, with what lies in the bin"),
    OutTable("kit_parts", tables.KitPart, "what a kit holds"),
    OutTable("part_fits", tables.PartFit, "what a part is for"),
    OutTable("suppliers", tables.Supplier, "who sells us parts"),
    OutTable("offers", tables.Offer, "what a supplier asks for a part"),
    OutTable("orders", tables.PartOrder, "orders to suppliers"),
    OutTable("order_lines", tables.OrderLine, "what was ordered, came and was cancelled"),
    OutTable("stock_moves", tables.StockMove, "parts that came into the bin or left it"),
    OutTable("work_spells", tables.WorkSpell, "time at the bench"),
    OutTable("flat_times", tables.FlatTime, "jobs with a set time"),
    OutTable("own_options", tables.OwnOption, "ways out that the mechanic added"),
    OutTable("teardown_steps", tables.TeardownStep, "what came off a machine, and went back"),
    OutTable("overruled_causes", tables.OverruledCause, "causes that the mechanic ruled out"),
    OutTable("messages", tables.Message, "letters, e-mails and calls to owners"),
    OutTable("reminders", tables.Reminder, "upkeep that falls due; tasks is JSON"),
    OutTable("upkeep_done", tables.UpkeepDone, "upkeep done by the owner or elsewhere"),
    OutTable("own_intervals", tables.OwnInterval, "the shop's own upkeep intervals"),
    OutTable("meter_readings", tables.MeterReading, "what hour meters read"),
    OutTable("own_limits", tables.OwnLimit, "the shop's own limits for checks"),
    OutTable("model_notes", tables.ModelNote, "the shop's cards for models"),
    OutTable("photos", tables.Photo, "photos by file name and SHA-256; the files lie beside"),
)
"""In the order of a ticket's life. The journal, drafts and the desk's people stay inside."""


def _turn(field: Field) -> Callable[[Any], Value]:
    """Return what turns a value as kept into one that goes out."""
    if isinstance(field, MoneyField):
        return lambda cents: None if cents is None else Decimal(cents).scaleb(-2)
    if isinstance(field, QuantityField):
        return _quantity
    if isinstance(field, BooleanField):
        return lambda kept: None if kept is None else bool(kept)
    if isinstance(field, UtcField):
        return lambda kept: kept and f"{datetime.fromisoformat(str(kept)).isoformat()}Z"
    if isinstance(field, DateField):
        return lambda kept: date.fromisoformat(str(kept)) if kept else None
    return lambda kept: kept


def _quantity(thousandths: int | None) -> Decimal | None:
    """Return a quantity without noughts at its end."""
    if thousandths is None:
        return None
    number = Decimal(thousandths).scaleb(-3).normalize()
    return number if number.as_tuple().exponent <= 0 else number.quantize(Decimal(1))  # type: ignore[operator]

"""Tells a row and its columns, as the records or the journal keep them, in people's words."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import msgspec
from peewee import BooleanField, DateField, Field, ForeignKeyField

from shopdesk.bench.fasteners import Fasteners
from shopdesk.dates import show_date, show_moment
from shopdesk.job.change_words import NAMED_BY, THINGS
from shopdesk.job.opened import tag_of
from shopdesk.job.paper_content import UpkeepRow
from shopdesk.job.reasons import WORDS, Reason
from shopdesk.job.reference import cause_title, cautions, complaints, upkeep_tasks
from shopdesk.job.shop import Shop
from shopdesk.job.teardown_log import KeptSetting
from shopdesk.job.views import machine_title
from shopdesk.pricing.money import show_money, show_quantity
from shopdesk.records.fetch import row_of
from shopdesk.records.fields import MoneyField, QuantityField, UtcField
from shopdesk.records.tables import TABLES, PartOrder

Values = Mapping[str, Any]
"""A row's columns as kept."""

_FIELDS: dict[str, dict[str, Field]] = {
    table._meta.table_name: table._meta.columns for table in TABLES
}
_BARE = (
    *("ticket", "estimate", "invoice", "payment", "write_off", "reminder"),
    *("approval", "customer", "unit"),
)
"""What is named without quotation marks."""


def row_words(table: str, row_id: int, values: Values, shop: Shop) -> str:
    """Return what people call a row: ``finding “Compression”``, ``payment of $25.00``."""
    thing = "credit note" if values.get("credits_id") else THINGS.get(table, _spaced(table))
    name = row_name(table, values, shop)
    if not name or table in _BARE:
        return f"{thing} {name or row_id}"
    return f"{thing} “{name}”"


def row_name(table: str, values: Values, shop: Shop) -> str:
    """Return the name alone, or empty: ``Compression``, ``$25.00``, ``T1043``."""
    if table == "unit":
        return machine_title(*(str(values.get(column, "")) for column in NAMED_BY[table]))
    if table == "ticket" and "number" in values:
        return tag_of(values["number"])
    if table == "order_line":
        order = row_of(PartOrder, values.get("order_id", values.get("order")))
        return f"order {order.number}" if order else ""
    columns = (column for column in NAMED_BY.get(table, ()) if values.get(column))
    column = next(columns, None)
    return value_words(table, column, values[column], shop) if column else ""


def value_words(
    table: str,
    column: str,
    value: Any,
    shop: Shop,
    name_of: Callable[[str, int], str] = lambda _table, row_id: str(row_id),
) -> str:
    """Return a column's value as people read it, empty where nothing is kept.

    ``name_of`` names the row of another table by its id. What is harmed is told as it stands.
    """
    if value is None or value == "":
        return ""
    telling = _TOLD_AS.get((table, column))
    try:
        if telling is not None:
            return telling(value)
        return _by_type(_FIELDS[table][column], value, shop, name_of)
    except (ArithmeticError, LookupError, TypeError, ValueError):
        return str(value)


def _by_type(field: Field, value: Any, shop: Shop, name_of: Callable[[str, int], str]) -> str:
    match field:
        case ForeignKeyField():
            return name_of(field.rel_model._meta.table_name, value)
        case MoneyField():
            return show_money(Decimal(value).scaleb(-2), shop.currency)
        case QuantityField():
            return show_quantity(Decimal(value).scaleb(-3))
        case UtcField():
            return show_moment(datetime.fromisoformat(value), shop.zone)
        case DateField():
            return show_date(date.fromisoformat(value))
        case BooleanField():
            return "yes" if value else "no"
    return " / ".join(str(value).splitlines())


def _spaced(name: str) -> str:
    return name.replace("_", " ")


def _complaint(key: str) -> str:
    return complaints().by_key[key].words


def _upkeep(key: str) -> str:
    return next((task.title for task in upkeep_tasks() if task.key == key), key)


def _titles(kept: str) -> str:
    rows = msgspec.json.decode(kept, type=tuple[UpkeepRow, ...])
    return "; ".join(row.title for row in rows)


def _fasteners(kept: str) -> str:
    rows = msgspec.json.decode(kept, type=tuple[Fasteners, ...])
    return "; ".join(row.coming_off for row in rows)


def _cautions(kept: str) -> str:
    known = cautions().by_key
    return " ".join(known[key].words for key in msgspec.json.decode(kept, type=tuple[str, ...]))


def _setting(kept: str) -> str:
    setting = msgspec.json.decode(kept, type=KeptSetting)
    return ": ".join(filter(None, (setting.title, setting.typed_limit)))


def _numbers(kept: str) -> str:
    return ", ".join(map(str, msgspec.json.decode(kept, type=tuple[int, ...])))


_TOLD_AS: dict[tuple[str, str], Callable[[Any], str]] = {
    ("ticket", "complaint_kind"): _complaint,
    ("ticket", "cause"): lambda key: cause_title(key, ""),
    ("overruled_cause", "cause"): lambda key: cause_title(key, ""),
    ("line", "reason"): lambda key: WORDS[Reason(key)],
    ("line", "renews"): _upkeep,
    ("reminder", "tasks"): _titles,
    ("teardown_step", "after"): _numbers,
    ("teardown_step", "back"): _numbers,
    ("teardown_step", "fasteners"): _fasteners,
    ("teardown_step", "cautions"): _cautions,
    ("teardown_step", "setting"): _setting,
}
"""How a column is told whose type alone does not say it."""

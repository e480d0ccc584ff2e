"""Takes apart what was made one: each gets back what was its own, as far as it is still so."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import msgspec
from peewee import ForeignKeyField

from shopdesk.errors import JobError
from shopdesk.job.merging.making_one import hanging_words
from shopdesk.job.merging.rows import ChangedRow, Moved, Values, set_values, table_named, values_of
from shopdesk.job.opened import tag_of
from shopdesk.job.shift import Change, Shift
from shopdesk.job.units import current_ownership
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import (
    Customer,
    Invoice,
    JournalEntry,
    Merge,
    Ownership,
    Phone,
    Row,
    Ticket,
    Unit,
)


@dataclass(frozen=True, slots=True)
class MergeView:
    """A merge that may be taken apart: what the other card was called, who made them one, when."""

    id: int
    called: str
    went_over: str
    """What hung on the other, in words."""
    merged_by: str
    merged_at: datetime


@dataclass(frozen=True, slots=True)
class TakenApart:
    """The card that is there again, and the tickets that stay though they may be the other's."""

    id: int
    called: str
    stayed: tuple[str, ...]


def owner_merges(shift: Shift, customer_id: int) -> tuple[MergeView, ...]:
    """Return what was made one with this owner, the last first."""
    return _merges(shift, "customer_id", customer_id)


def machine_merges(shift: Shift, unit_id: int) -> tuple[MergeView, ...]:
    """Return what was made one with this machine, the last first."""
    return _merges(shift, "unit_id", unit_id)


def take_apart(shift: Shift, merge_id: int) -> TakenApart:
    """Make two cards again of what was made one.

    What moved goes back unless it was given to somebody else since; a field goes back unless it was
    changed since; what came later stays. Raises ``JobError`` where that would make the books wrong:
    an invoice that was issued since names the one that stays, or the machine has changed hands.
    """
    with shift.changing() as change:
        merge = row_of(Merge, merge_id)
        if merge is None:
            raise JobError("These two are apart already: open their cards.")
        moved = msgspec.json.decode(merge.content, type=Moved)
        _refuse_if_invoiced(merge, moved)
        _refuse_if_handed_on(merge, moved)
        taking = _Taking(change, merge, moved)
        taking.put_back()
        change.remove(merge, taking.why)
        return TakenApart(taking.restored.id, merge.called, taking.stayed())


def _merges(shift: Shift, column: str, row_id: int) -> tuple[MergeView, ...]:
    with shift.records.reading():
        rows = rows_by(Merge, column, row_id)
        return tuple(
            MergeView(row.id, row.called, _went_over(row), row.merged_by, row.merged_at)
            for row in reversed(rows)
        )


def _went_over(merge: Merge) -> str:
    moved = msgspec.json.decode(merge.content, type=Moved)
    found: dict[str, int] = {}
    for one in moved.changed:
        if merge.gone_id in _pointing(merge, one).values():
            found[one.table] = found.get(one.table, 0) + 1
    if merge.unit_id:
        found.pop("ownership", None)
    return hanging_words(found)


def _pointing(merge: Merge, one: ChangedRow) -> Values:
    """Return the columns of a changed row that pointed to such a card, as they were before."""
    to = Customer if merge.customer_id else Unit
    columns = table_named(one.table)._meta.columns
    return {
        name: value
        for name, value in one.before.items()
        if isinstance(columns.get(name), ForeignKeyField) and columns[name].rel_model is to
    }


def _moved_ids(moved: Moved, table: type[Row]) -> list[int]:
    return [one.id for one in moved.changed if one.table == table._meta.table_name]


def _refuse_if_invoiced(merge: Merge, moved: Moved) -> None:
    ids = _moved_ids(moved, Ticket)
    bills: Sequence[Invoice] = list(
        Invoice.select().where(
            Invoice.ticket.in_(ids)
            & (Invoice.issued_at > merge.merged_at)
            & Invoice.credits.is_null()
        )
    )
    credited = {
        bill.credits_id
        for bill in Invoice.select().where(Invoice.credits.in_([bill.id for bill in bills]))
    }
    for bill in bills:
        if bill.id not in credited:
            raise JobError(
                f"Invoice {bill.number} was issued since they were made one, and names the one "
                "that stays: write a credit note for it first, or leave them as they are.",
                "invoice",
            )


def _refuse_if_handed_on(merge: Merge, moved: Moved) -> None:
    unit = row_of(Unit, merge.unit_id)
    if unit is None:
        return
    if current_ownership(unit).id not in moved.ownerships:
        raise JobError(
            "Whose the machine is was changed since they were made one, so the two can't be told "
            "apart any more: leave them as they are.",
            "unit",
        )


class _Taking:
    """One taking apart, inside its transaction."""

    def __init__(self, change: Change, merge: Merge, moved: Moved) -> None:
        self._change = change
        self._merge = merge
        self._moved = moved
        self._table: type[Row] = Customer if merge.customer_id else Unit
        self._stays_id = merge.customer_id or merge.unit_id
        self.restored: Row = self._table()
        self.why = f"not the same as {merge.called}"

    def put_back(self) -> None:
        """Write the other card again, then all that was taken out or moved, the last first."""
        name = self._table._meta.table_name
        own = next(
            one for one in self._moved.removed if (one.table, one.id) == (name, self._merge.gone_id)
        )
        self.restored = self._added(self._table, own.id, own.values)
        for one in self._moved.removed:
            if one is not own:
                self._added(table_named(one.table), one.id, one.values)
        for changed in reversed(self._moved.changed):
            self._change_back(changed)

    def stayed(self) -> tuple[str, ...]:
        """Return the tags of later tickets whose machine goes back and whose owner does not."""
        if self._table is not Customer:
            return ()
        units = [
            row.unit_id
            for row in rows_by(Ownership, "customer_id", self.restored.id)
            if row.until is None
        ]
        later = Ticket.select().where(
            Ticket.unit.in_(units)
            & (Ticket.customer == self._stays_id)
            & (Ticket.taken_in_at > self._merge.merged_at)
        )
        return tuple(tag_of(ticket.number) for ticket in later.order_by(Ticket.number))

    def _added(self, table: type[Row], row_id: int, values: Values) -> Row:
        """Add a row again, under its old id unless another has that now."""
        row = table()
        set_values(row, self._led_back(table, values))
        if row_of(table, row_id) is None:
            row.id = row_id
        self._change.add(row)
        return row

    def _change_back(self, one: ChangedRow) -> None:
        table = table_named(one.table)
        row = row_of(table, one.id)
        if row is None or self._is_another(one):
            self._phone_again(one)
            return
        now, before = values_of(row), self._led_back(table, one.before)
        back = {name: before[name] for name in before if self._is_so(table, one, name, now)}
        if back:
            set_values(row, back)
            self._change.save(row, self.why)

    def _is_another(self, one: ChangedRow) -> bool:
        """Whether the row was taken out since, and its id given to another one."""
        return bool(
            JournalEntry.select()
            .where(
                (JournalEntry.table == one.table)
                & (JournalEntry.row_id == one.id)
                & (JournalEntry.action == "added")
                & (JournalEntry.at > self._merge.merged_at)
            )
            .exists()
        )

    def _is_so(self, table: type[Row], one: ChangedRow, name: str, now: Values) -> bool:
        """Whether a column still stands as the merge left it."""
        if self._leads_there(table, name) and one.before[name] == self._merge.gone_id:
            return bool(now[name] == self._stays_id)
        return bool(now.get(name) == one.after[name])

    def _led_back(self, table: type[Row], values: Values) -> Values:
        """Return the values, those that pointed to the card that was out pointing to it again."""
        return {
            name: self.restored.id
            if self._leads_there(table, name) and value == self._merge.gone_id
            else value
            for name, value in values.items()
        }

    def _leads_there(self, table: type[Row], name: str) -> bool:
        column = table._meta.columns.get(name)
        return isinstance(column, ForeignKeyField) and column.rel_model is self._table

    def _phone_again(self, one: ChangedRow) -> None:
        """Give a phone back whose row was written anew with the card since."""
        was = self._moved.phones.get(one.id) if one.table == Phone._meta.table_name else None
        for phone in rows_by(Phone, "customer_id", self._stays_id) if was else ():
            if phone.digits == was:
                set_values(phone, {"customer_id": self.restored.id})
                self._change.save(phone, self.why)

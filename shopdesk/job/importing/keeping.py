"""Brings a list in: every row as the dry run said, in one transaction, all of it or nothing."""

from dataclasses import dataclass, field
from datetime import datetime

from shopdesk.errors import JobError, StaleError
from shopdesk.job import typed
from shopdesk.job.customers import (
    MOST_PHONES,
    CustomerEntry,
    fill_customer,
    find_customer,
    insert_customer,
    keep_phones,
    phone_rows,
    typed_phones,
)
from shopdesk.job.importing.plan import Plan, PlannedRow, Will, Work, planned
from shopdesk.job.importing.progress import EACH, Tell, in_silence
from shopdesk.job.phones import is_same_phone
from shopdesk.job.shift import Change, Shift
from shopdesk.job.units import insert_unit
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Customer, ImportRun
from shopdesk.text import counted, digits

_WHY = "brought in from a list"


@dataclass(frozen=True, slots=True)
class Brought:
    """A list that was brought in."""

    id: int
    files: str
    owners: int
    machines: int
    added_to: int
    done_by: str
    done_at: datetime
    taken_back_at: datetime | None

    @property
    def words(self) -> str:
        """What came in."""
        return (
            f"{counted(self.owners, 'new owner')}, {counted(self.machines, 'new machine')}, "
            f"{counted(self.added_to, 'owner')} added to"
        )


def bring_in(shift: Shift, work: Work, seen: Plan, tell: Tell = in_silence) -> Brought:
    """Keep all rows as ``seen``, the dry run's plan, says.

    Raises ``JobError`` while a row is wrong or there is nothing to bring in, ``StaleError`` when
    the records have changed since the dry run so that the plan would be another one, and
    ``StoppedError`` when ``tell`` does. Nothing is kept then.
    """
    _refuse_if_wrong(seen)
    with shift.changing() as change:
        plan = planned(change, work)
        if plan != seen:
            raise StaleError(
                "The records were changed since you looked at the rows: look at them again, "
                "then bring them in."
            )
        first = _last_entry() + 1
        keeper = _Keeper(change)
        for place, row in enumerate(plan.rows):
            if place % EACH == 0:
                tell(place, len(plan.rows))
            keeper.keep(row)
        last = _last_entry()
        if last < first:
            raise JobError("All of it is there already: nothing was brought in.")
        run = ImportRun(
            files=", ".join(dict.fromkeys(listing.name for listing, _ in work.lists)),
            owners=plan.new_owners,
            machines=plan.new_machines,
            added_to=len(keeper.added_to),
            first_entry=first,
            last_entry=last,
            done_by=shift.who,
            done_at=change.at,
        )
        change.add(run)
        tell(len(plan.rows), len(plan.rows))
        return brought(run)


def imports(shift: Shift) -> tuple[Brought, ...]:
    """Return what was brought in so far, the newest first."""
    with shift.records.reading():
        return tuple(map(brought, ImportRun.select().order_by(ImportRun.id.desc())))


def brought(run: ImportRun) -> Brought:
    """Return the row as a plain value."""
    return Brought(
        run.id,
        run.files,
        run.owners,
        run.machines,
        run.added_to,
        run.done_by,
        run.done_at,
        run.taken_back_at,
    )


def _refuse_if_wrong(plan: Plan) -> None:
    stops = plan.stops
    if stops:
        where = ", ".join(f"{row.list_name} line {row.line:,}" for row in stops[:3])
        more = f" and {len(stops) - 3:,} more" if len(stops) > 3 else ""
        raise JobError(
            f"Something is wrong in {where}{more}: mend the list, or say that such rows are left "
            "out or what is wrong goes into the note. Nothing was brought in."
        )


@dataclass(slots=True)
class _Keeper:
    """Writes row by row; ``owners`` are those made by this list, by their key in the plan."""

    change: Change
    owners: dict[int, Customer] = field(default_factory=dict)
    made: set[int] = field(default_factory=set)
    added_to: set[int] = field(default_factory=set)

    def keep(self, row: PlannedRow) -> None:
        """Write what the row brings."""
        if row.owner is Will.NEW and row.entry is not None:
            owner = self.owners[row.owner_key] = insert_customer(self.change, row.entry)
            self.made.add(owner.id)
        elif row.owner is Will.ADD and row.entry is not None:
            self._add_to(self._owner(row.owner_key), row.entry)
        if row.machine is Will.NEW and row.unit is not None:
            owner = self._owner(row.owner_key)
            insert_unit(self.change, owner, row.unit)
            self._note(owner)

    def _owner(self, key: int) -> Customer:
        return self.owners[key] if key in self.owners else find_customer(key)

    def _note(self, owner: Customer) -> None:
        """Count an owner who was there before this list."""
        if owner.id not in self.made:
            self.added_to.add(owner.id)

    def _add_to(self, owner: Customer, entry: CustomerEntry) -> None:
        """Fill in what is empty on the card and add phones; nothing that stands there goes."""
        listed = Customer()
        fill_customer(listed, entry)
        owner.email = owner.email or listed.email
        owner.address = owner.address or listed.address
        owner.tax_exempt_number = owner.tax_exempt_number or listed.tax_exempt_number
        owner.preferred_way = owner.preferred_way or listed.preferred_way
        owner.may_remind = owner.may_remind and listed.may_remind
        owner.notes = _with_note(owner.notes, listed.notes)
        changed = self.change.save(owner, _WHY)
        if self._add_phones(owner, entry) or changed:
            self._note(owner)

    def _add_phones(self, owner: Customer, entry: CustomerEntry) -> bool:
        rows = phone_rows(owner)
        known = [row.digits for row in rows]
        more = [
            (label, number)
            for label, number in typed_phones(entry)
            if not any(is_same_phone(digits(number), one) for one in known)
        ][: max(MOST_PHONES - len(rows), 0)]
        start = max((row.position for row in rows), default=-1) + 1
        keep_phones(self.change, owner, tuple(more), start)
        return bool(more)


def _with_note(note: str, more: str) -> str:
    """Return a note with more below it, unless that stands there or there is no room for it."""
    both = "\n".join(filter(None, (note, more)))
    return note if more in note or len(both) > typed.TEXT_LIMIT else both


def _last_entry() -> int:
    ((last,),) = answers('SELECT coalesce(max(id), 0) FROM "journal_entry"')
    return int(last)

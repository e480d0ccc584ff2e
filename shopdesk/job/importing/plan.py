"""The dry run: what would become of every row, and what is wrong in which, before any is kept."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from shopdesk.errors import JobError
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.importing.entries import Problem, ReadRow, Wrong, read_row
from shopdesk.job.importing.fields import MACHINE_PLACES
from shopdesk.job.importing.listing import Listing
from shopdesk.job.importing.machines import Machines, known_machines
from shopdesk.job.importing.matching import Matched, guess
from shopdesk.job.importing.people import Found, People, Person, as_person, known_people
from shopdesk.job.importing.progress import EACH, Tell, in_silence
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import machine_title
from shopdesk.text import counted


class Will(StrEnum):
    """What happens to an owner or a machine of a row."""

    NEW = "new"
    ADD = "add to"
    SKIP = "skip"


@dataclass(frozen=True, slots=True)
class Work:
    """Lists with where their columns go, and what was decided about their rows.

    ``known`` is what happens to a row whose owner is surely there already, ``wrong`` to one in
    which something can't be read; ``choices`` decide for single rows, by their place in the plan.
    """

    lists: tuple[tuple[Listing, tuple[Matched, ...]], ...]
    known: Will = Will.ADD
    wrong: Wrong = Wrong.STOP
    choices: Mapping[int, Will] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PlannedRow:
    """One row and what will become of it.

    The owner is ``entry`` where new or added to; ``owner_key`` is the id of an owner who is there,
    or below zero one who is new with this list.
    """

    list_name: str
    line: int
    title: str
    owner: Will
    owner_key: int
    owner_words: str
    entry: CustomerEntry | None
    machine: Will | None
    machine_words: str
    unit: UnitEntry | None
    may_be: str = ""
    """Who is there already and may be the same, and by what."""
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()
    stops: bool = False
    """Whether nothing can be brought in because of it."""

    @property
    def is_known(self) -> bool:
        """Whether somebody is there already who may be the same: the person may choose."""
        return bool(self.may_be)


@dataclass(frozen=True, slots=True)
class Plan:
    """What would be done with all rows."""

    rows: tuple[PlannedRow, ...]

    @property
    def new_owners(self) -> int:
        """How many owners would be written down."""
        return sum(row.owner is Will.NEW for row in self.rows)

    @property
    def added_to(self) -> int:
        """How many owners who are there already would be added to."""
        keys = {row.owner_key for row in self.rows if row.owner is Will.ADD and row.owner_key > 0}
        return len(keys)

    @property
    def new_machines(self) -> int:
        """How many machines would be written down."""
        return sum(row.machine is Will.NEW for row in self.rows)

    @property
    def left_out(self) -> int:
        """How many rows would change nothing at all."""
        return sum(row.owner is Will.SKIP and row.machine is not Will.NEW for row in self.rows)

    @property
    def wrong(self) -> tuple[PlannedRow, ...]:
        """The rows in which something can't be read."""
        return tuple(row for row in self.rows if row.problems)

    @property
    def stops(self) -> tuple[PlannedRow, ...]:
        """The rows for which nothing can be brought in."""
        return tuple(row for row in self.rows if row.stops)

    @property
    def words(self) -> str:
        """The counts in one line."""
        parts = (
            f"{counted(self.new_owners, 'new owner')}, {counted(self.new_machines, 'new machine')}",
            f"{counted(self.added_to, 'owner')} added to",
            f"{self.left_out:,} of {counted(len(self.rows), 'row')} left out",
            f"{len(self.wrong):,} with something wrong",
        )
        return "; ".join(parts)


def prepared(*lists: Listing, known: Will = Will.ADD, wrong: Wrong = Wrong.STOP) -> Work:
    """Return lists with their columns matched by guess."""
    return Work(tuple(guess(one) for one in lists), known, wrong)


def dry_run(shift: Shift, work: Work, tell: Tell = in_silence) -> Plan:
    """Return what would become of each row; nothing is written.

    Raises ``JobError`` where no column is matched to what says who the owner is, and
    ``StoppedError`` when ``tell`` does.
    """
    with shift.records.reading():
        change = Change(shift.who, shift.now(), load_shop())
        return planned(change, work, tell)


def planned(change: Change, work: Work, tell: Tell = in_silence) -> Plan:
    """Do what ``dry_run`` does, inside a transaction."""
    _refuse_without_owner(work)
    planner = _Planner(work, known_people(), known_machines())
    total = sum(len(listing.rows) for listing, _ in work.lists)
    rows: list[PlannedRow] = []
    for listing, matches in _owners_first(work):
        for row in listing.rows:
            if len(rows) % EACH == 0:
                tell(len(rows), total)
            read = read_row(change, listing.heads, row.cells, matches, work.wrong)
            rows.append(planner.plan(len(rows), listing.name, row.line, read))
    tell(total, total)
    return Plan(tuple(rows))


def _refuse_without_owner(work: Work) -> None:
    places = {match.place for _, matches in work.lists for match in matches}
    if not places & {"name", "first_name", "last_name", "company"}:
        raise JobError(
            "No column is matched to the owner's name: choose which column holds it.", "match"
        )


def _owners_first(work: Work) -> Iterator[tuple[Listing, tuple[Matched, ...]]]:
    """Yield lists of owners before lists of machines, which may name owners by their number."""
    return iter(
        sorted(work.lists, key=lambda one: any(match.place in MACHINE_PLACES for match in one[1]))
    )


@dataclass(slots=True)
class _Planner:
    """Plans row by row, and remembers whom and what the rows before brought."""

    work: Work
    people: People
    machines: Machines
    by_ref: dict[str, Person] = field(default_factory=dict)

    def plan(self, place: int, list_name: str, line: int, read: ReadRow) -> PlannedRow:
        """Return what becomes of the row at ``place``."""
        choice = self.work.choices.get(place)
        owner = self._owner(place, read, choice)
        if isinstance(owner, Problem):
            read = ReadRow(read.ref, read.owner, read.unit, (*read.problems, owner), read.remarks)
            owner = None
        title = read.owner.name if read.owner else read.ref
        if owner is None or self._is_left_out(read):
            return self._refused(list_name, line, title, read)
        who, will, found, words = owner
        if will is not Will.SKIP:
            self._make_known(who, read)
        machine, machine_words, remarks = self._machine(who, will, read)
        if will is Will.ADD and read.owner is None:
            will = Will.SKIP
        return PlannedRow(
            list_name=list_name,
            line=line,
            title=title or who.name,
            owner=will,
            owner_key=who.key,
            owner_words=words,
            entry=read.owner,
            machine=machine,
            machine_words=machine_words,
            unit=read.unit if machine is Will.NEW else None,
            may_be=f"{found.person.name}: {found.why}" if found else "",
            problems=read.problems,
            remarks=(*read.remarks, *remarks),
        )

    def _owner(
        self, place: int, read: ReadRow, choice: Will | None
    ) -> tuple[Person, Will, Found | None, str] | Problem | None:
        """Return whose row it is, what happens to them, who may be the same, and it in words."""
        named = self.by_ref.get(read.ref) if read.ref else None
        if read.owner is None:
            if named is None:
                return _nobody(read)
            return named, Will.ADD, None, f"of {named.name}"
        if not read.owner.name.strip():
            return None
        who = as_person(-place - 1, read.owner, read.ref)
        found = Found(named, "same number in the list", True) if named else self.people.find(who)
        if found is None or choice is Will.NEW:
            return who, Will.NEW, found, "new"
        will = choice or self._usual(found, read.ref)
        if will is Will.NEW:
            return who, Will.NEW, found, f"new; {found.person.name}: {found.why}"
        begin = "adds to" if will is Will.ADD else "left out, is"
        return found.person, will, found, f"{begin} {found.person.name}: {found.why}"

    def _usual(self, found: Found, ref: str) -> Will:
        """Return what happens if nothing is chosen: who has another number is somebody else."""
        if not found.sure:
            return Will.NEW
        if found.person.key > 0:
            return self.work.known
        other = found.person.ref
        return Will.NEW if ref and other and ref != other else Will.ADD

    def _is_left_out(self, read: ReadRow) -> bool:
        """Whether something in the row is so wrong that the row can't be brought in."""
        if self.work.wrong is Wrong.NOTE:
            return any(problem.needed for problem in read.problems)
        return bool(read.problems)

    def _refused(self, list_name: str, line: int, title: str, read: ReadRow) -> PlannedRow:
        stops = self.work.wrong is not Wrong.LEAVE_OUT
        begin = "to be mended: " if stops else "left out: "
        return PlannedRow(
            list_name=list_name,
            line=line,
            title=title,
            owner=Will.SKIP,
            owner_key=0,
            owner_words=begin + "; ".join(one.sentence for one in read.problems),
            entry=None,
            machine=None,
            machine_words="",
            unit=None,
            problems=read.problems,
            stops=stops,
        )

    def _make_known(self, who: Person, read: ReadRow) -> None:
        if who.key not in self.people.by_key:
            self.people.add(who)
        elif read.owner is not None:
            more = as_person(0, read.owner)
            self.people.add_phones(who, more.phones)
            who.email = who.email or more.email
            who.address = who.address or more.address
        if read.ref:
            self.by_ref.setdefault(read.ref, who)

    def _machine(
        self, who: Person, will: Will, read: ReadRow
    ) -> tuple[Will | None, str, tuple[str, ...]]:
        """Return what happens to the machine, it in words, and what is to be looked at."""
        unit = read.unit
        if unit is None:
            return None, "", ()
        title = machine_title(
            *(" ".join(one.split()) for one in (unit.kind, unit.make, unit.model))
        )
        if will is Will.SKIP:
            return Will.SKIP, f"{title}, left out", ()
        there = self.machines.there(who, unit)
        if there:
            return Will.SKIP, f"{title}, there already: {there}", ()
        other = self.machines.elsewhere(who, unit)
        self.machines.add(who.key, unit)
        if other is None:
            return Will.NEW, f"{title}, new", ()
        owner = self.people.by_key[other].name
        remark = (
            f"serial number {unit.serial} is on a machine of {owner} too: has it changed hands?"
        )
        return Will.NEW, f"{title}, new", (remark,)


def _nobody(read: ReadRow) -> Problem:
    if not read.ref:
        return Problem("", "", "Nobody is named in this row: write the owner's name.", True)
    return Problem(
        "",
        read.ref,
        f"Nobody in these lists has the number {read.ref[:40]}: choose the list of owners as well, "
        "or write the owner's name.",
        True,
    )

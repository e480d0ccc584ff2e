"""The ways of mending what a ticket is here for: each with its lines, and what they cure."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.job.fixing import supporting
from shopdesk.job.options.jobs import Item, Jobs, hours_of, part_ids_of
from shopdesk.job.options.lines import alike, cures_of, item_of, replaceable
from shopdesk.job.options.odds import Chances
from shopdesk.job.options.parts import FittingParts
from shopdesk.job.options.wear import Wear
from shopdesk.job.reasons import Reason
from shopdesk.job.standing import TicketRows
from shopdesk.records.tables import Line

FAILED, KIT, RENEW = "failed", "kit", "renew"
TITLES = {FAILED: "Only what failed", KIT: "The kit", RENEW: "Renew what wears"}


@dataclass(frozen=True, slots=True)
class Bench:
    """What the ways of one ticket are made of."""

    rows: TicketRows
    jobs: Jobs
    chances: Chances
    wear: Sequence[Wear]

    @property
    def parts(self) -> FittingParts:
        """The parts that fit the machine."""
        return self.jobs.parts

    def likeliest(self, keys: frozenset[str]) -> Cause:
        """Return the likeliest of some causes."""
        return self.chances.cause(
            max(sorted(keys), key=lambda key: self.chances.by_key.get(key, Decimal(0)))
        )

    def systems(self, keys: frozenset[str]) -> set[str]:
        """Return what is opened to cure these causes."""
        causes = [cause for cause in self.chances.evidence.causes if cause.key in keys]
        return {cause.system or cause.key for cause in causes}


@dataclass(frozen=True, slots=True)
class Repair:
    """A way that mends it.

    ``part_ids`` are those of its parts, a kit's contents among them; ``tasks`` the upkeep that it
    does; ``adds`` names what it renews beyond what failed.
    """

    key: str
    title: str
    items: tuple[Item, ...]
    cures: frozenset[str]
    part_ids: frozenset[int]
    tasks: frozenset[str] = frozenset()
    adds: tuple[str, ...] = ()
    words: str = ""
    """What the mechanic says of a way of their own."""
    own_id: int | None = None
    life_hours: Decimal | None = None
    """Said by the mechanic, in place of the guide."""

    @property
    def hours(self) -> Decimal:
        """The bench hours of its lines."""
        return hours_of(self.items)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A way that makes no sense here, and why."""

    title: str
    why: str


def what_failed(bench: Bench, ways: Sequence[Repair]) -> Repair | LeftOut:
    """Return only what failed: as the mechanic's own lines say it, else by the book.

    Lines on the ticket that came of one of the ``ways`` say nothing, nor does a kit.
    """
    lines = replaceable(bench.rows)
    of_a_way = any(alike(lines, way.items) for way in ways)
    of_a_kit = any(bench.parts.kit_of(line.part_id) for line in lines)
    failed = [line for line in lines if line.reason in (Reason.FAILED, Reason.KIT)]
    if of_a_way or of_a_kit or not any(line.reason == Reason.FAILED for line in failed):
        return by_the_book(bench)
    return _by_lines(bench, failed)


def by_the_book(bench: Bench) -> Repair | LeftOut:
    """Return the fix of the cause that was named, else of the likeliest."""
    chances = bench.chances
    if chances.named == SOMETHING_ELSE:
        return LeftOut(
            TITLES[FAILED], "The cause is none of the book: put its parts and time on the ticket."
        )
    if not chances.known:
        return LeftOut(TITLES[FAILED], "No cause is known for such a machine.")
    named = [cause for cause in chances.known if cause.key == chances.named]
    cause = (named or chances.known)[0]
    finding = supporting(cause, bench.rows.ticket, chances.evidence)
    items = bench.jobs.for_cause(cause, finding_id=finding.id if finding else None)
    cures = bench.parts.causes_of(part_ids_of(items)) | {cause.key}
    return _failed(bench, items, cures)


def _by_lines(bench: Bench, lines: Sequence[Line]) -> Repair:
    chances = bench.chances
    cures = cures_of(lines, bench.parts, chances)
    if not cures:
        named = chances.named if chances.named != SOMETHING_ELSE else ""
        likeliest = [cause.key for cause in chances.known[:1]]
        cures = frozenset([named] if named else likeliest)
    return _failed(bench, tuple(item_of(line, bench.parts) for line in lines), cures)


def _failed(bench: Bench, items: tuple[Item, ...], cures: frozenset[str]) -> Repair:
    ids = part_ids_of(items)
    tasks = bench.parts.tasks_of(ids) | {item.renews for item in items if item.renews}
    return Repair(FAILED, TITLES[FAILED], items, cures, ids, tasks)

"""The kit as a way out: what stands in for the single parts, and what comes along with it."""

from collections.abc import Sequence
from decimal import Decimal

from shopdesk.job.options.in_sentence import lowered
from shopdesk.job.options.jobs import Item, minutes_together
from shopdesk.job.options.parts import Kit
from shopdesk.job.options.ways import KIT, TITLES, Bench, LeftOut, Repair
from shopdesk.job.reasons import Reason
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Part

_LONGEST = 190


def kit_way(bench: Bench, failed: Repair) -> Repair | LeftOut:
    """Return the kit that takes in most of the likely causes, what failed among them."""
    fitting = [
        kit
        for kit in bench.parts.kits
        if kit.causes & failed.cures and bench.parts.price_of(kit.part) is not None
    ]
    if not fitting:
        return LeftOut(TITLES[KIT], _none_fits(bench, failed))
    kit = max(fitting, key=lambda one: (bench.chances.of(one.causes), -_price(bench, one)))
    if kit.part.id in failed.part_ids:
        return LeftOut(TITLES[KIT], f"What failed takes the whole of it: {kit.part.name}.")
    return _repair(bench, kit, failed)


def _none_fits(bench: Bench, failed: Repair) -> str:
    if not bench.parts.kits:
        return "No kit for this machine is in the catalogue."
    return f"No kit in the catalogue has the part for: {bench.likeliest(failed.cures).title}."


def _repair(bench: Bench, kit: Kit, failed: Repair) -> Repair:
    held = {part.id for part in kit.holds}
    covered = failed.cures <= kit.causes
    instead = [
        item
        for item in failed.items
        if item.kind is LineKind.PART and (item.part_id in held or covered)
    ]
    needed = {item.part_id for item in instead}
    rest = [part for part in kit.holds if part.id not in needed]
    finding = next((item.finding_id for item in failed.items if item.finding_id), None)
    main = bench.jobs.part((kit.part, Decimal(1)), Reason.FAILED, finding, _note(rest))
    others = [item for item in failed.items if item not in instead]
    return Repair(
        key=KIT,
        title=TITLES[KIT],
        items=(main, *others, *_rest_fitted(bench, rest, failed)),
        cures=failed.cures | kit.causes,
        part_ids=failed.part_ids | held | {kit.part.id},
        tasks=failed.tasks | kit.tasks,
        adds=tuple(part.name for part in rest),
    )


def _rest_fitted(bench: Bench, rest: Sequence[Part], failed: Repair) -> tuple[Item, ...]:
    """Return the bench time for what comes along with the kit, as one line; none without it.

    What goes in with the failed part takes no time of its own.
    """
    causes = bench.chances.evidence.causes
    fittings = [
        bench.jobs.fitting(part.name, [part.id], causes)
        for part in rest
        if not bench.parts.causes_of([part.id]) & failed.cures
    ]
    if not fittings:
        return ()
    minutes = minutes_together(fittings, bench.systems(failed.cures))
    names = ", ".join(lowered(one.title) for one in fittings)
    return (bench.jobs.labour(_cut(f"Fit the rest of the kit: {names}"), minutes, Reason.KIT),)


def _note(rest: Sequence[Part]) -> str:
    """Say what comes along with the kit."""
    if not rest:
        return ""
    return _cut(f"with it came: {', '.join(lowered(part.name) for part in rest)}")


def _cut(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"


def _price(bench: Bench, kit: Kit) -> Decimal:
    return bench.parts.price_of(kit.part) or Decimal(0)

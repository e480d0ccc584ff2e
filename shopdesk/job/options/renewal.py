"""Renewing what wears as a way out: what failed, with all that is worn or due by now."""

from collections.abc import Sequence

from shopdesk.job.options.in_sentence import lowered
from shopdesk.job.options.jobs import Item, minutes_together, part_ids_of
from shopdesk.job.options.lines import item_of, replaceable
from shopdesk.job.options.ways import RENEW, TITLES, Bench, LeftOut, Repair
from shopdesk.job.options.wear import Wear
from shopdesk.job.reasons import Reason
from shopdesk.pricing.totals import LineKind

_LONGEST = 200
_NOTHING = "Nothing else is recorded as worn or due that we have parts for."


def renewal(bench: Bench, failed: Repair, *, with_lines: bool) -> Repair | LeftOut:
    """Return what failed with what is worn or due; ``with_lines``: with the mechanic's own lines.

    Those are the ones for wear on the ticket.
    """
    added = _mechanics(bench) if with_lines else ()
    had = failed.part_ids | part_ids_of(added)
    done = failed.tasks | {item.renews for item in added if item.renews}
    wear = [one for one in bench.wear if not one.part_ids & had and one.task not in done]
    if not wear and not added:
        return LeftOut(TITLES[RENEW], _NOTHING)
    parts = (item for one in wear for item in one.parts)
    items = (*failed.items, *added, *parts, *_fitted(bench, wear, failed))
    ids = part_ids_of(items)
    return Repair(
        key=RENEW,
        title=TITLES[RENEW],
        items=items,
        cures=failed.cures | bench.parts.causes_of(ids),
        part_ids=ids,
        tasks=frozenset(done | {one.task for one in wear} | bench.parts.tasks_of(ids)),
        adds=(*_names(added), *(one.title for one in wear)),
    )


def _fitted(bench: Bench, wear: Sequence[Wear], failed: Repair) -> tuple[Item, ...]:
    """Return the bench time for what is renewed, as one line; none where nothing is."""
    if not wear:
        return ()
    minutes = minutes_together([one.fitting for one in wear], bench.systems(failed.cures))
    names = ", ".join(lowered(one.title) for one in wear)
    found = [one for one in wear if one.found]
    reason = Reason.WORN if found else Reason.PREVENTIVE
    finding = found[0].labour.finding_id if found else None
    return (bench.jobs.labour(f"Fit as well: {names}"[:_LONGEST], minutes, reason, finding),)


def left_undone(bench: Bench, way: Repair) -> tuple[Wear, ...]:
    """Return what is worn or due and stays as it is when this way is taken."""
    return tuple(
        one for one in bench.wear if not one.part_ids & way.part_ids and one.task not in way.tasks
    )


def _mechanics(bench: Bench) -> tuple[Item, ...]:
    worn = (Reason.WORN, Reason.PREVENTIVE)
    lines = [line for line in replaceable(bench.rows) if line.reason in worn]
    return tuple(item_of(line, bench.parts) for line in lines)


def _names(items: tuple[Item, ...]) -> tuple[str, ...]:
    return tuple(item.description for item in items if item.kind is LineKind.PART)

"""Tells how the machine is mended, set and proved."""

from collections.abc import Iterator

from shopdesk.demo.apart import put_rest_back, take_apart
from shopdesk.demo.bringing import record
from shopdesk.demo.clock import Wait
from shopdesk.demo.clocking import clock_off, clock_on
from shopdesk.demo.learning import say_what_it_was, write_card
from shopdesk.demo.told import Told
from shopdesk.job.labour.bill import bill_time, count_toward, own_hours
from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.labour.views import REPAIR
from shopdesk.job.moving import go_on
from shopdesk.job.repair import do_line
from shopdesk.job.stages import Stage
from shopdesk.job.standing import PROOF, SETTING
from shopdesk.job.views import LineView
from shopdesk.pricing.totals import LineKind


def begin_repair(told: Told) -> Iterator[Wait]:
    """The machine comes to the bench, is taken apart, and the first line is ticked off."""
    if told.now.declined:
        return
    yield Wait(days=told.days_in_the_queue())
    if not told.in_stage(Stage.REPAIR):
        told.ticket = go_on(told.cast.bench, told.id, Stage.REPAIR)
    clock_on(told)
    yield from take_apart(told)
    yield from _tick(told, _work_left(told)[:1])
    clock_off(told)


def mend(told: Told) -> Iterator[Wait]:
    """The rest is done and back together, set, proved and remembered; it goes to pickup."""
    if not told.now.declined:
        clock_on(told)
        _charge_time(told)
        yield from _tick(told, _work_left(told))
        yield from put_rest_back(told)
        routine = told.cast.scenario.routine_for(told.unit)
        yield from record(told, told.story.settings or routine.settings, SETTING)
        yield from record(told, (*told.story.again, *routine.proof), PROOF)
        clock_off(told)
        _count_time(told)
        write_card(told)
    say_what_it_was(told)
    yield Wait(minutes=5)
    told.ticket = go_on(told.cast.bench, told.id, Stage.PICKUP)


def _tick(told: Told, lines: list[LineView]) -> Iterator[Wait]:
    for line in lines:
        yield Wait(minutes=_minutes(told, line))
        told.ticket = do_line(told.cast.bench, line.id)
        told.say(f"done: {line.description}")


def _minutes(told: Told, line: LineView) -> int:
    """Return how long it takes: a part little, labour now less and now more than was quoted."""
    if line.kind is not LineKind.LABOUR:
        return told.luck.randint(1, 4)
    return max(4, round(float(line.quantity) * 60 * told.luck.uniform(0.1, 0.75)))


def _charge_time(told: Told) -> None:
    """Time and material: what was written down goes on the bill."""
    bench = told.cast.bench
    for spell in told.story.by_time:
        told.ticket = add_time(
            bench, told.id, TimeEntry(spell.time, work="repair", rate=spell.rate, note=spell.note)
        )
    if told.story.by_time:
        told.ticket = bill_time(bench, told.id)


def _count_time(told: Told) -> None:
    """The time on the clock belongs to the line whose hours were agreed."""
    clocked = any(one.line_id is None and one.work == REPAIR for one in told.now.spells)
    agreed = own_hours(told.now)
    if clocked and agreed:
        told.ticket = count_toward(told.cast.bench, agreed[0])


def _work_left(told: Told) -> list[LineView]:
    work = (LineKind.PART, LineKind.LABOUR, LineKind.SUBLET)
    return [
        line for line in told.now.lines if line.kind in work and not (line.done or line.declined)
    ]

"""Taking a machine apart and putting it back: what came off, what went back, what is left over."""

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from shopdesk.bench.care import cautions_at
from shopdesk.bench.fasteners import count_back, parse_all_fasteners
from shopdesk.bench.reassembly import reassembly
from shopdesk.bench.teardown import TeardownStep as Step
from shopdesk.bench.teardown import came_off_first
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.judging import (
    judge_dependents,
    judge_for,
    keep_judged,
    limits_at,
    take_back,
)
from shopdesk.job.opened import ticket_view
from shopdesk.job.reference import cares, cautions
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import SETTING, find_ticket, rows_of
from shopdesk.job.teardown_log import (
    after_of,
    fasteners_of,
    left_over_of,
    numbers_of,
    setting_of,
    steps_of,
)
from shopdesk.job.teardown_settings import kept_setting
from shopdesk.job.teardown_views import NOTHING
from shopdesk.job.views import TeardownStepView, TicketView
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Finding, Photo, TeardownStep, Ticket

_APART_IN = (Stage.DIAGNOSIS, Stage.APPROVAL, Stage.PARTS, Stage.REPAIR)


@dataclass(frozen=True, slots=True)
class StepEntry:
    """A step as typed.

    ``after``: numbers of the steps it comes after (``1, 3``), ``none``, or empty for the step
    before it. ``fasteners``: one kind a line, ``2 M5 x 20 T27 in cup 3, into plastic``.
    ``setting``: a check that is set by hand, or other words, with its limit (``11 to 13 N·m``,
    ``M14 gasket`` for a spark plug's torque) or only its unit.
    """

    off: str
    sub_assembly: str = ""
    after: str = ""
    fasteners: str = ""
    mark: str = ""
    routing: str = ""
    cautions: tuple[str, ...] = ()
    setting: str = ""
    setting_limit: str = ""


def note_step(shift: Shift, ticket_id: int, entry: StepEntry) -> TicketView:
    """Note what came off; it is the last step of the teardown. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        ticket = _on_bench(ticket_id)
        rows = rows_of(ticket).steps
        position = max((row.position for row in rows), default=0) + 1
        row = TeardownStep(
            ticket=ticket, position=position, noted_by=change.who, noted_at=change.at
        )
        _fill(row, entry, rows)
        change.add(row)
        _refuse_circle(ticket)
        return ticket_view(ticket, change.shop, change.today)


def change_step(shift: Shift, step_id: int, entry: StepEntry) -> TicketView:
    """Put a step right. Its tick comes off when its fasteners or its setting change."""
    with shift.changing() as change:
        row, ticket = _find_step(step_id)
        before = (fasteners_of(row), row.setting)
        _fill(row, entry, rows_of(ticket).steps)
        if (fasteners_of(row), row.setting) != before:
            _untick(change, ticket, row)
        change.save(row)
        _refuse_circle(ticket)
        return ticket_view(ticket, change.shop, change.today)


def drop_step(shift: Shift, step_id: int, why: str = "") -> TicketView:
    """Take a step out of the log; what came after it comes after what it came after."""
    with shift.changing() as change:
        row, ticket = _find_step(step_id)
        reason = typed.line(why, "why", "The reason")
        _close_gap(change, row, rows_of(ticket).steps)
        for photo in Photo.select().where(Photo.step == row.id):
            photo.step = None
            change.save(photo)
        change.remove(row, reason)
        return ticket_view(ticket, change.shop, change.today)


def tick_step(
    shift: Shift, step_id: int, fasteners_back: str = "", setting: str = ""
) -> TicketView:
    """Tick a step as back, its fasteners counted (``4``, or ``2, 2`` by kind), and what was set.

    The setting is kept as typed and judged, among the ticket's settings. What doesn't add up is
    left over until it is put right or explained. Raises ``JobError`` at the field.
    """
    with shift.changing() as change:
        row, ticket = _find_step(step_id)
        with typed.at_field("fasteners_back"):
            back = count_back(fasteners_back, fasteners_of(row))
        _untick(change, ticket, row)
        row.finding = _entered(change, ticket, row, setting)
        row.back = _json(back)
        row.done_at = change.at
        row.done_by = change.who
        change.save(row)
        if row.finding is not None:
            judge_dependents(change, ticket, row.finding.check_key)
        return ticket_view(ticket, change.shop, change.today)


def untick_step(shift: Shift, step_id: int) -> TicketView:
    """Take the tick off a step: it is off again, or was not back. Its setting goes with it."""
    with shift.changing() as change:
        row, ticket = _find_step(step_id)
        _untick(change, ticket, row)
        change.save(row, "tick taken off")
        return ticket_view(ticket, change.shop, change.today)


def explain_left_over(shift: Shift, step_id: int, why: str) -> TicketView:
    """Say why what is left over at a step may be so; empty takes that back."""
    with shift.changing() as change:
        row, ticket = _find_step(step_id)
        rows = rows_of(ticket)
        number = numbers_of(rows.steps)[row.id]
        reason = typed.line(why, "why", "The reason")
        over = {each.key for each in left_over_of(rows.steps, rows.findings)}
        if reason and number not in over:
            raise JobError(
                f"Nothing is left over at step {number}: there is nothing to explain.", "why"
            )
        row.explained = reason
        change.save(row)
        return ticket_view(ticket, change.shop, change.today)


def cautions_for(off: str) -> tuple[str, ...]:
    """Return in words what to beware of when this comes off, while it is still being typed."""
    keys = cautions_at(Step(key="", off=off), cares())
    return tuple(caution.words for caution in cautions().named(keys))


def as_entry(step: TeardownStepView) -> StepEntry:
    """Return a step as it can be typed again, to change it."""
    return StepEntry(
        off=step.off,
        sub_assembly=step.sub_assembly,
        after=step.after,
        fasteners="\n".join(step.fasteners),
        mark=step.mark,
        routing=step.routing,
        cautions=step.caution_keys,
        setting=step.setting,
        setting_limit=step.setting_limit,
    )


def _on_bench(ticket_id: int) -> Ticket:
    ticket = find_ticket(ticket_id)
    if ticket.stage not in _APART_IN:
        raise JobError(
            f"This ticket is in {ticket.stage}: move it to Diagnosis or Repair "
            "before taking the machine apart.",
            "stage",
        )
    return ticket


def _find_step(step_id: int) -> tuple[TeardownStep, Ticket]:
    row = row_of(TeardownStep, step_id)
    if row is None:
        raise JobError("That step is not in the teardown any more: open the ticket again.", "step")
    return row, _on_bench(row.ticket_id)


def _fill(row: TeardownStep, entry: StepEntry, rows: Sequence[TeardownStep]) -> None:
    row.off = typed.line(entry.off, "off", "What came off", needed=True)
    row.sub_assembly = typed.line(entry.sub_assembly, "sub_assembly", "The sub-assembly")
    row.after = _after(entry.after, rows)
    with typed.at_field("fasteners"):
        row.fasteners = _json(
            parse_all_fasteners(typed.text(entry.fasteners, "fasteners", "The fasteners"))
        )
    row.mark = typed.line(entry.mark, "mark", "The mark")
    row.routing = typed.line(entry.routing, "routing", "The routing")
    row.cautions = _json(
        [typed.choice(key, "cautions", cautions().by_key, "A caution") for key in entry.cautions]
    )
    setting = kept_setting(entry.setting, entry.setting_limit, row.ticket.unit)
    row.setting = _json(setting) if setting else ""


def _after(written: str, rows: Sequence[TeardownStep]) -> str:
    """Return the ids of the numbered steps as JSON, or empty where nothing was typed."""
    words = typed.line(written, "after", "The steps before it").casefold()
    if not words:
        return ""
    if words == NOTHING:
        return _json([])
    ids = {number: step_id for step_id, number in numbers_of(rows).items()}
    numbers = words.replace("and", ",").replace(",", " ").split()
    unknown = [number for number in numbers if number not in ids]
    if unknown:
        known = f"1 to {len(ids)}" if ids else f"“{NOTHING}”, as there is no step yet"
        raise JobError(
            f"“{unknown[0]}” is no step of this teardown: type numbers of steps, {known}.", "after"
        )
    return _json([ids[number] for number in dict.fromkeys(numbers)])


def _refuse_circle(ticket: Ticket) -> None:
    with typed.at_field("after"):
        reassembly(steps_of(rows_of(ticket).steps))


def _close_gap(change: Change, dropped: TeardownStep, rows: Sequence[TeardownStep]) -> None:
    numbers = numbers_of(rows)
    ids = {number: step_id for step_id, number in numbers.items()}
    instead = [ids[key] for key in came_off_first(steps_of(rows))[numbers[dropped.id]]]
    for row in rows:
        after = after_of(row)
        if dropped.id in after:
            kept = [step_id for step_id in after if step_id != dropped.id]
            row.after = _json(list(dict.fromkeys([*kept, *instead])))
            change.save(row)


def _untick(change: Change, ticket: Ticket, row: TeardownStep) -> None:
    """Take off what was said of the step on the way back; the caller saves the row."""
    entered = row.finding
    row.done_at = row.finding = None
    row.done_by = row.explained = ""
    row.back = _json([])
    if entered is not None:
        change.save(row)
        take_back(change, ticket, entered, "tick taken off")


def _entered(change: Change, ticket: Ticket, row: TeardownStep, written: str) -> Finding | None:
    """Judge and keep what was set; None where nothing was typed."""
    if not written.strip():
        return None
    setting = setting_of(row)
    if setting is None:
        raise JobError(
            "Nothing is to be set at this step: leave it empty, or name the setting in the step.",
            "setting",
        )
    with typed.at_field("setting"):
        check = setting.check
        judged = judge_for(ticket, change.shop, check, written, limits=limits_at(row))
    finding = Finding(ticket=ticket, phase=SETTING, found_by=change.who, found_at=change.at)
    keep_judged(finding, check, judged)
    if not check.key:
        finding.system = ""
    change.add(finding)
    return finding


def _json(value: object) -> str:
    return msgspec.json.encode(value).decode()

"""Shows a ticket's teardown, and the list that puts it back together, as plain values."""

from collections.abc import Sequence

from shopdesk.bench.care import cautions_at
from shopdesk.bench.reassembly import ReassemblyStep, reassembly
from shopdesk.bench.teardown import TeardownStep
from shopdesk.job import views
from shopdesk.job.limits import own_limits
from shopdesk.job.reference import cares, cautions
from shopdesk.job.teardown_log import (
    after_of,
    back_of,
    left_over_of,
    numbers_of,
    setting_of,
    steps_of,
)
from shopdesk.job.units import machine_of
from shopdesk.records import tables

NOTHING = "none"
"""Said of a step that comes after nothing."""


def teardown_views(
    rows: Sequence[tables.TeardownStep], photos: Sequence[views.PhotoView]
) -> tuple[views.TeardownStepView, ...]:
    """Return the steps in the order of the log, each with its photos."""
    numbers = numbers_of(rows)
    return tuple(
        _step_view(
            row,
            step,
            ", ".join(numbers[step_id] for step_id in after_of(row)),
            tuple(photo for photo in photos if photo.step_id == row.id),
        )
        for row, step in zip(rows, steps_of(rows), strict=True)
    )


def _step_view(
    row: tables.TeardownStep,
    step: TeardownStep,
    after: str,
    photos: tuple[views.PhotoView, ...],
) -> views.TeardownStepView:
    setting = setting_of(row)
    return views.TeardownStepView(
        id=row.id,
        number=int(step.key),
        off=row.off,
        sub_assembly=row.sub_assembly,
        after=(after or NOTHING) if row.after else "",
        fasteners=tuple(each.coming_off for each in step.fasteners),
        mark=row.mark,
        routing=row.routing,
        caution_keys=step.cautions,
        cautions=_caution_words(cautions_at(step, cares())),
        setting=setting.title if setting else "",
        setting_limit=setting.typed_limit if setting else "",
        noted_by=row.noted_by,
        noted_at=row.noted_at,
        photos=photos,
    )


def reassembly_views(
    rows: Sequence[tables.TeardownStep], findings: Sequence[tables.Finding], unit: tables.Unit
) -> tuple[views.ReassemblyStepView, ...]:
    """Return the way back in its order, each step with what was done about it."""
    if not rows:
        return ()
    steps = steps_of(rows, machine_of(unit), own_limits(unit))
    numbers = numbers_of(rows)
    by_key = {numbers[row.id]: row for row in rows}
    entered = {finding.id: finding for finding in findings}
    wrong = {each.key: each.words for each in left_over_of(rows, findings)}
    return tuple(
        _back_view(
            step,
            by_key[step.step.key],
            tuple(
                f"step {key}, {by_key[key].off}"
                for key in step.waits_for
                if by_key[key].done_at is None
            ),
            entered.get(by_key[step.step.key].finding_id or 0),
            wrong.get(step.step.key, ""),
        )
        for step in reassembly(steps, cares())
    )


def _back_view(
    back: ReassemblyStep,
    row: tables.TeardownStep,
    waits_for: tuple[str, ...],
    entered: tables.Finding | None,
    left_over: str,
) -> views.ReassemblyStepView:
    setting = back.step.setting
    return views.ReassemblyStepView(
        step_id=row.id,
        number=int(back.step.key),
        words=back.words,
        care=back.care,
        cautions=_caution_words(back.cautions),
        fasteners=tuple(each.going_back for each in back.step.fasteners),
        waits_for=waits_for,
        setting=setting.title if setting else "",
        limit=setting.limit.words() if setting and setting.limit else "",
        done=row.done_at is not None,
        done_by=row.done_by,
        done_at=row.done_at,
        back=back_of(row),
        entered=entered.shown if entered else "",
        verdict=entered.verdict if entered else "",
        says=entered.says if entered else "",
        left_over=left_over,
        explained=row.explained,
    )


def _caution_words(keys: Sequence[str]) -> tuple[str, ...]:
    known = cautions().by_key
    return tuple(known[key].words for key in keys if key in known)

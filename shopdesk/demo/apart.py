"""Tells how a machine is taken apart for its repair, and put back together."""

from collections.abc import Iterable, Iterator

from shopdesk.demo.clock import Wait
from shopdesk.demo.stories import Off
from shopdesk.demo.told import Told
from shopdesk.job.photos import add_photo
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import StepEntry, note_step, tick_step
from shopdesk.job.views import ReassemblyStepView


def take_apart(told: Told) -> Iterator[Wait]:
    """Each thing that comes off is noted, with its fasteners, marks and routing."""
    bench = told.cast.bench
    for one in told.story.apart:
        yield Wait(minutes=told.luck.randint(1, 4))
        told.ticket = note_step(bench, told.id, _step_entry(one))
        step = told.now.teardown[-1]
        noted = (", ".join(step.fasteners), _named("mark", step.mark), _named("way", step.routing))
        told.say(f"off {step.number}: {'; '.join(filter(None, (step.off, *noted)))}")
        if one.photo:
            picture = told.cast.pictures(one.photo)
            told.ticket = add_photo(bench, told.id, picture, step.off, step_id=step.id)


def put_half_back(told: Told) -> Iterator[Wait]:
    """The first half of what came off is back, each step ticked."""
    if told.in_stage(Stage.REPAIR):
        steps = told.now.reassembly
        yield from _put_back(told, steps[: len(steps) // 2])


def put_rest_back(told: Told) -> Iterator[Wait]:
    """All is back, fasteners counted and settings entered."""
    yield from _put_back(told, [step for step in told.now.reassembly if not step.done])


def _put_back(told: Told, steps: Iterable[ReassemblyStepView]) -> Iterator[Wait]:
    for step in steps:
        yield Wait(minutes=told.luck.randint(1, 4))
        off = told.story.apart[step.number - 1]
        told.ticket = tick_step(told.cast.bench, step.step_id, off.count, off.entered)
        ticked = next(one for one in told.now.reassembly if one.step_id == step.step_id)
        set_to = f"; {step.setting}: {ticked.says}" if ticked.says else ""
        told.say(f"back {step.number}: {off.off}, {_counted(off)}{set_to}")


def _step_entry(one: Off) -> StepEntry:
    return StepEntry(
        one.off,
        one.sub_assembly,
        one.after,
        "\n".join(one.fasteners),
        one.mark,
        one.routing,
        setting=one.setting,
        setting_limit=one.setting_limit,
    )


def _named(what: str, words: str) -> str:
    return f"{what}: {words}" if words else ""


def _counted(off: Off) -> str:
    if not off.fasteners:
        return "no fasteners"
    return "1 fastener counted back" if off.count == "1" else f"{off.count} fasteners counted back"

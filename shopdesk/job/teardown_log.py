"""Reads a ticket's teardown as the bench's thinking takes it, and says what is left over."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import msgspec

from shopdesk.bench.checks import Check, Verdict
from shopdesk.bench.fasteners import Fasteners
from shopdesk.bench.judging import NO_LIMITS
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Machine
from shopdesk.bench.reassembly import LeftOver, Tick, left_over
from shopdesk.bench.teardown import Setting, TeardownStep, own_check
from shopdesk.bench.units import Quantity
from shopdesk.job.reference import catalogue
from shopdesk.records import tables


@dataclass(frozen=True, slots=True)
class KeptSetting:
    """What is set as a step goes back: a check of the catalogue, or the shop's own.

    ``limit`` is what was typed as ``typed_limit``; None leaves a catalogue's check the limit that
    readings of this machine are held against.
    """

    title: str
    check_key: str
    quantity: str
    unit: str
    typed_limit: str
    limit: Limit | None

    @property
    def check(self) -> Check:
        """The check to judge by; raises ``CatalogueError`` for one that was taken out."""
        if self.check_key:
            return catalogue().check(self.check_key)
        return own_check(self.title, Quantity(self.quantity), self.unit)

    def limit_for(self, machine: Machine | None, own: Mapping[str, Limit]) -> Limit | None:
        """Return the limit typed at the step, else the machine's own, else the catalogue's."""
        known = catalogue().by_key.get(self.check_key)
        if self.limit or known is None or machine is None:
            return self.limit
        return own.get(self.check_key) or known.limit_for(machine)


def left_over_words(
    rows: Sequence[tables.TeardownStep], findings: Sequence[tables.Finding]
) -> tuple[str, ...]:
    """Return what is left over of a ticket's teardown and not explained, step by step."""
    found = left_over_of(rows, findings)
    return tuple(each.words for each in found if not each.explained)


def left_over_of(
    rows: Sequence[tables.TeardownStep], findings: Sequence[tables.Finding]
) -> tuple[LeftOver, ...]:
    """Return what is left over of a ticket's teardown, step by step, explained or not."""
    return left_over(steps_of(rows), ticks_of(rows, findings))


def numbers_of(rows: Sequence[tables.TeardownStep]) -> dict[int, str]:
    """Return what people call each step, by its id: its place in the log."""
    return {row.id: str(number) for number, row in enumerate(rows, start=1)}


def steps_of(
    rows: Sequence[tables.TeardownStep],
    machine: Machine | None = None,
    own: Mapping[str, Limit] = NO_LIMITS,
) -> tuple[TeardownStep, ...]:
    """Return the steps in the log's order.

    ``machine`` and its ``own`` limits by check give the catalogue's settings their limits.
    """
    numbers = numbers_of(rows)
    return tuple(_step(row, numbers, machine, own) for row in rows)


def _step(
    row: tables.TeardownStep,
    numbers: Mapping[int, str],
    machine: Machine | None,
    own: Mapping[str, Limit],
) -> TeardownStep:
    setting = setting_of(row)
    return TeardownStep(
        key=numbers[row.id],
        off=row.off,
        sub_assembly=row.sub_assembly,
        after=None if not row.after else tuple(numbers[step_id] for step_id in after_of(row)),
        fasteners=fasteners_of(row),
        mark=row.mark,
        routing=row.routing,
        cautions=msgspec.json.decode(row.cautions, type=tuple[str, ...]),
        setting=Setting(setting.title, setting.limit_for(machine, own)) if setting else None,
    )


def ticks_of(
    rows: Sequence[tables.TeardownStep], findings: Sequence[tables.Finding]
) -> dict[str, Tick]:
    """Return what was done about each step on the way back, by what people call it."""
    numbers = numbers_of(rows)
    verdicts = {finding.id: Verdict(finding.verdict) for finding in findings}
    return {
        numbers[row.id]: Tick(
            done=row.done_at is not None,
            back=back_of(row),
            setting=verdicts.get(row.finding_id or 0),
            explained=row.explained,
        )
        for row in rows
    }


def after_of(row: tables.TeardownStep) -> tuple[int, ...]:
    """Return the ids of the steps that a step was said to come after."""
    return msgspec.json.decode(row.after or "[]", type=tuple[int, ...])


def fasteners_of(row: tables.TeardownStep) -> tuple[Fasteners, ...]:
    """Return the fasteners of a step."""
    return msgspec.json.decode(row.fasteners, type=tuple[Fasteners, ...])


def back_of(row: tables.TeardownStep) -> tuple[int, ...]:
    """Return how many fasteners were put back, kind by kind."""
    return msgspec.json.decode(row.back, type=tuple[int, ...])


def setting_of(row: tables.TeardownStep) -> KeptSetting | None:
    """Return what is set as the step goes back."""
    return msgspec.json.decode(row.setting, type=KeptSetting) if row.setting else None

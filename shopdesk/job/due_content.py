"""What a message about upkeep says: one owner, all their machines, each with what is due."""

from dataclasses import dataclass
from datetime import date

import msgspec

from shopdesk.job import paper_content as paper
from shopdesk.job.paperwork import machine
from shopdesk.job.reference import upkeep_tasks
from shopdesk.records.tables import Message, Unit
from shopdesk.upkeep.tasks import each_use


@dataclass(frozen=True, slots=True)
class MachineDue:
    """One machine in a message."""

    machine: paper.MachineOnPaper
    rows: tuple[paper.UpkeepRow, ...]
    cautions: tuple[str, ...]
    """Of what the owner can do alone."""
    each_use: tuple[str, ...]
    unit_id: int = 0


@dataclass(frozen=True, slots=True)
class UpkeepMessage:
    """A letter, card, e-mail or call about upkeep; kept as it was when it was made."""

    shop: paper.Letterhead
    owner: paper.Addressee
    on: date
    machines: tuple[MachineDue, ...]
    rounds: tuple[str, ...]
    """What it tells of, so that nobody is told twice."""
    invited_for: date | None = None
    """The Monday of a quiet week that is offered, if one was worked out."""
    again: bool = False
    """Whether it comes after a first one that was not answered."""

    @property
    def due(self) -> date:
        """The day of the first task."""
        return min(row.on for one in self.machines for row in one.rows)

    @property
    def titles(self) -> str:
        """All machines as they stand within a sentence."""
        named = [one.machine.in_text for one in self.machines]
        return " and ".join(filter(None, ("; ".join(named[:-1]), named[-1])))


def content_of(row: Message) -> UpkeepMessage:
    """Return what a message about upkeep said."""
    return msgspec.json.decode(row.content, type=UpkeepMessage)


def machine_due(unit: Unit, rows: tuple[paper.UpkeepRow, ...]) -> MachineDue:
    """Return a machine with what is due on it, inside a transaction."""
    own = {row.key for row in rows if row.owner_can}
    cautions = (
        caution.words for task in upkeep_tasks() if task.key in own for caution in task.cautions
    )
    every = each_use(upkeep_tasks(), unit.kind, unit.engine)
    return MachineDue(
        machine(unit),
        rows,
        tuple(dict.fromkeys(cautions)),
        tuple(task.title for task in every),
        unit.id,
    )

"""What a message about upkeep says: one owner, all their machines, each with what is due."""

from dataclasses import dataclass
from datetime import date

from shopdesk.job import paper_content as paper
from shopdesk.job.paperwork import machine
from shopdesk.job.reference import upkeep_tasks
from shopdesk.records.tables import Unit
from shopdesk.upkeep.tasks import each_use


@dataclass(frozen=True, slots=True)
class MachineDue:
    """One machine in a message."""

    machine: paper.MachineOnPaper
    rows: tuple[paper.UpkeepRow, ...]
    cautions: tuple[str, ...]
    """Of what the owner can do alone."""
    each_use: tuple[str, ...]


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

    @property
    def due(self) -> date:
        """The day of the first task."""
        return min(row.on for one in self.machines for row in one.rows)


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
    )

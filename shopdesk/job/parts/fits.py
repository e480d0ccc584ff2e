"""What parts are for: which machines they fit, which cause they cure, which upkeep they do."""

from dataclasses import dataclass

from shopdesk.bench.machines import Kind
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.opened import part_view
from shopdesk.job.parts.views import PartView
from shopdesk.job.reference import cause_book, upkeep_tasks
from shopdesk.job.shift import Shift
from shopdesk.job.units import model_key
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import PartFit
from shopdesk.text import letters_and_digits


@dataclass(frozen=True, slots=True)
class FitEntry:
    """What a part is for, as typed: a make and model, or a kind, or any machine.

    ``cause`` and ``task`` are their keys or titles; ``quantity`` is how many it takes.
    """

    kind: str = ""
    make: str = ""
    model: str = ""
    cause: str = ""
    task: str = ""
    quantity: str = "1"


def cause_choices() -> tuple[tuple[str, str], ...]:
    """Return key and title of each cause, by title."""
    causes = cause_book().by_key.values()
    return tuple(sorted(((cause.key, cause.title) for cause in causes), key=lambda one: one[1]))


def task_choices() -> tuple[tuple[str, str], ...]:
    """Return key and title of each upkeep task, by title."""
    titles = {task.key: task.title for task in reversed(upkeep_tasks())}
    return tuple(sorted(titles.items(), key=lambda one: one[1]))


def kind_choices() -> tuple[str, ...]:
    """Return the kinds of machine that the reference data tells apart."""
    return tuple(kind.value for kind in Kind)


def add_fit(shift: Shift, part_id: int, entry: FitEntry) -> PartView:
    """Say what a part is for. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        part = find_part(part_id)
        fit = PartFit(part=part)
        _fill(fit, entry)
        change.add(fit)
        return part_view(part, change.shop)


def drop_fit(shift: Shift, fit_id: int) -> PartView:
    """Take back what a part was said to be for."""
    with shift.changing() as change:
        fit = row_of(PartFit, fit_id)
        if fit is None:
            raise JobError("That is not in the records any more: open the part again.", "fit")
        change.remove(fit)
        return part_view(fit.part, change.shop)


def _fill(fit: PartFit, entry: FitEntry) -> None:
    make = typed.line(entry.make, "make", "The make")
    model = typed.line(entry.model, "model", "The model")
    if make and not model:
        raise JobError("Type the model as well: a make alone has many.", "model")
    fit.model = " ".join(filter(None, (make, model)))
    fit.model_key = model_key(make, model)
    kind = typed.line(entry.kind, "kind", "The kind of machine")
    fit.kind = next((known for known in kind_choices() if known == kind.casefold()), kind)
    fit.cause = _key(entry.cause, "cause", "The cause", cause_choices())
    fit.task = _key(entry.task, "task", "The upkeep", task_choices())
    fit.quantity = typed.quantity(entry.quantity, "quantity")


def _key(entered: str, field: str, what: str, choices: tuple[tuple[str, str], ...]) -> str:
    """Return the key of what was typed, by key or by title."""
    wanted = letters_and_digits(typed.line(entered, field, what))
    if not wanted:
        return ""
    for key, title in choices:
        if wanted in (letters_and_digits(key), letters_and_digits(title)):
            return key
    raise JobError(f"{what} “{entered.strip()[:40]}” is not known: choose one of the list.", field)

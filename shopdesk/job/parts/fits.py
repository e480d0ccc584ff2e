"""What parts are for: which machines they fit, which cause they cure, which upkeep they do."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.machines import Kind
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.lines import CONDITIONS
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.opened import part_view
from shopdesk.job.parts.prices import costs_in_force
from shopdesk.job.parts.stock_levels import levels
from shopdesk.job.parts.views import PartView
from shopdesk.job.reference import cause_book, upkeep_tasks
from shopdesk.job.shift import Shift
from shopdesk.job.units import model_key
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import KitPart, Part, PartFit, Unit
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


def parts_for(unit: Unit, cause: str = "", task: str = "") -> tuple[tuple[Part, Decimal], ...]:
    """Return the single parts that it takes, together, to cure a cause or do an upkeep task.

    What is said of the machine's own model goes before what is said of its kind, and that before
    what is said of any machine. Parts of one name (and of one number, new and used) are one choice:
    the one taken is new rather than used, in the bin rather than not, cheap rather than dear.
    Called inside a transaction.
    """
    return tuple((same[0].part, same[0].quantity) for same in _choices(unit, cause, task))


def choices_for(
    unit: Unit, cause: str = "", task: str = ""
) -> tuple[tuple[tuple[Part, Decimal], ...], ...]:
    """Return for each part that ``parts_for`` takes all that could be taken, that one first."""
    return tuple(
        tuple((fit.part, fit.quantity) for fit in same) for same in _choices(unit, cause, task)
    )


def kits_for(unit: Unit) -> tuple[Part, ...]:
    """Return the kits for a machine: those said to fit it, then those that hold parts that do.

    Of the latter the one with the most parts that fit comes first. Called inside a transaction.
    """
    fits = _fits(unit)
    fitting = {fit.part_id for fit in fits}
    held: dict[int, set[int]] = {}
    for row in KitPart.select():
        held.setdefault(row.kit_id, set()).add(row.part_id)
    said = [fit.part for fit in _first_of_each(fits) if fit.part_id in held]
    known = {kit.id for kit in said}
    hits = {kit: len(_singles(kit, held) & fitting) for kit in held.keys() - known}
    others = Part.select().where(Part.id.in_([kit for kit, many in hits.items() if many]))
    ranked = sorted(others.where(Part.active), key=lambda kit: (-hits[kit.id], kit.folded_name))
    return (*said, *ranked)


def _singles(part_id: int, held: Mapping[int, set[int]]) -> set[int]:
    """Return the ids of the single parts in a kit, kits in it opened up."""
    if part_id not in held:
        return {part_id}
    return set().union(*(_singles(inner, held) for inner in held[part_id]))


def _choices(unit: Unit, cause: str, task: str) -> list[list[PartFit]]:
    """Return the fits to choose from, by what they are for, the one to take first."""
    if not cause and not task:
        return []
    kits = {row.kit_id for row in KitPart.select(KitPart.kit).distinct()}
    chosen = [
        fit
        for fit in _fits(unit)
        if (not cause or fit.cause == cause)
        and (not task or fit.task == task)
        and fit.part_id not in kits
    ]
    closest = _first_of_each(fit for fit in chosen if _closeness(fit) == _closeness(chosen[0]))
    ids = [fit.part_id for fit in closest]
    stand, costs = levels(ids), costs_in_force(ids)
    same: list[list[PartFit]] = []
    for fit in closest:
        group = next((group for group in same if _is_one_choice(group[0].part, fit.part)), None)
        if group is None:
            same.append([fit])
        else:
            group.append(fit)

    def place(fit: PartFit) -> tuple[int, bool, bool, Decimal, int]:
        cost = costs[fit.part_id].cost
        missing = stand[fit.part_id].free < fit.quantity
        used = CONDITIONS.index(fit.part.condition)
        return used, missing, cost is None, cost or Decimal(0), fit.part_id

    return [sorted(group, key=place) for group in same]


def _is_one_choice(one: Part, other: Part) -> bool:
    return one.folded_name == other.folded_name or one.folded_number == other.folded_number


def _fits(unit: Unit) -> list[PartFit]:
    """Return what fits a machine, the closest first."""
    by_kind = (PartFit.model_key == "") & PartFit.kind.in_(("", unit.kind))
    matches = by_kind if not unit.model_key else by_kind | (PartFit.model_key == unit.model_key)
    query = PartFit.select(PartFit, Part).join(Part).where(matches & Part.active)

    return sorted(query, key=lambda fit: (_closeness(fit), fit.part.folded_name, fit.id))


def _closeness(fit: PartFit) -> int:
    """0 for a model, 1 for a kind, 2 for any machine."""
    return 0 if fit.model_key else 1 if fit.kind else 2


def _first_of_each(fits: Iterable[PartFit]) -> list[PartFit]:
    """Return the first of each part."""
    found: dict[int, PartFit] = {}
    for fit in fits:
        found.setdefault(fit.part_id, fit)
    return list(found.values())


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

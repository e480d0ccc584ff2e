"""Which parts of the catalogue a machine takes for a cause or an upkeep task, and kits of them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.line_entry import CONDITIONS
from shopdesk.job.parts.prices import prices_in_force
from shopdesk.job.parts.stock_levels import levels
from shopdesk.job.shop import Shop
from shopdesk.pricing.money import MOST_MONEY
from shopdesk.records.tables import KitPart, Offer, Part, PartFit, Supplier, Unit

Needed = tuple[Part, Decimal]
"""A part, and how many of it."""


@dataclass(frozen=True, slots=True)
class Kit:
    """A kit for the machine: what it holds, and the causes and upkeep tasks that it is good for."""

    part: Part
    holds: tuple[Part, ...]
    causes: frozenset[str]
    tasks: frozenset[str]


class FittingParts:
    """The parts that fit one machine, read with a few queries, inside a transaction."""

    def __init__(self, unit: Unit, shop: Shop) -> None:
        self._fits = _fits_of(unit)
        contents = _contents({fit.part_id for fit in self._fits})
        fitting = {fit.part_id for fit in self._fits}
        self._kit_ids = frozenset(contents)
        self.kits = tuple(
            self._kit(kit, holds)
            for kit, holds in contents.values()
            if kit.id in fitting or all(part.id in fitting for part in holds)
        )
        self.parts: Mapping[int, Part] = {
            part.id: part
            for part in (*(fit.part for fit in self._fits), *(kit.part for kit in self.kits))
        }
        self._prices = prices_in_force(self.parts.values(), shop)
        self._levels = levels(list(self.parts))
        self._leads = _leads(list(self.parts))

    def for_cause(self, cause: str) -> tuple[Needed, ...]:
        """Return what putting a cause right takes; empty where the catalogue has nothing for it."""
        return self._best([fit for fit in self._fits if fit.cause == cause])

    def for_task(self, task: str) -> tuple[Needed, ...]:
        """Return what an upkeep task takes."""
        return self._best([fit for fit in self._fits if fit.task == task])

    def causes_of(self, part_ids: Iterable[int]) -> frozenset[str]:
        """Return the causes that these parts cure."""
        ids = frozenset(part_ids)
        return frozenset(fit.cause for fit in self._fits if fit.part_id in ids and fit.cause)

    def tasks_of(self, part_ids: Iterable[int]) -> frozenset[str]:
        """Return the upkeep tasks that these parts do."""
        ids = frozenset(part_ids)
        return frozenset(fit.task for fit in self._fits if fit.part_id in ids and fit.task)

    @property
    def tasks(self) -> tuple[str, ...]:
        """The upkeep tasks that there are parts for."""
        return tuple(dict.fromkeys(fit.task for fit in self._fits if fit.task))

    def numbered(self, folded_number: str) -> Part | None:
        """Return the fitting part of that number, spelt as it is kept for finding."""
        same = (part for part in self.parts.values() if part.folded_number == folded_number)
        return next(same, None) if folded_number else None

    def price_of(self, part: Part) -> Decimal | None:
        """Return what one sells for, or None where it has no price yet."""
        return self._prices[part.id].price

    def lead_of(self, part: Part, quantity: Decimal) -> int | None:
        """Return the days until so many are here; None where nobody offers it."""
        return 0 if self._levels[part.id].free >= quantity else self._leads.get(part.id)

    def kit_of(self, part_id: int | None) -> Kit | None:
        """Return the kit that a part is, if it is one."""
        return next((kit for kit in self.kits if kit.part.id == part_id), None)

    def _best(self, fits: list[PartFit]) -> tuple[Needed, ...]:
        """Return the single parts of the closest fit together; a kit where only kits fit.

        Parts of one name or number are one choice: new, in the bin, and cheap go first.
        """
        single = [fit for fit in fits if fit.part_id not in self._kit_ids] or fits[:1]
        closest = min((_closeness(fit) for fit in single), default=0)
        taken: list[PartFit] = []
        for fit in sorted(single, key=self._place):
            if _closeness(fit) == closest and not any(_one_choice(fit, one) for one in taken):
                taken.append(fit)
        return tuple((fit.part, fit.quantity) for fit in sorted(taken, key=lambda one: one.id))

    def _place(self, fit: PartFit) -> tuple[int, bool, Decimal, int]:
        missing = self._levels[fit.part_id].free < fit.quantity
        price = self.price_of(fit.part)
        used = CONDITIONS.index(fit.part.condition)
        return used, missing, MOST_MONEY if price is None else price, fit.id

    def _kit(self, part: Part, holds: tuple[Part, ...]) -> Kit:
        ids = [part.id, *(held.id for held in holds)]
        return Kit(part, holds, self.causes_of(ids), self.tasks_of(ids))


def _closeness(fit: PartFit) -> int:
    """Rank a fit for the model before one for the kind, and that before one for all."""
    return 0 if fit.model_key else 1 if fit.kind else 2


def _one_choice(one: PartFit, other: PartFit) -> bool:
    same_number = one.part.folded_number == other.part.folded_number
    return same_number or one.part.folded_name == other.part.folded_name


def _fits_of(unit: Unit) -> list[PartFit]:
    """Return what fits the machine."""
    rows = PartFit.select(PartFit, Part).join(Part).where(
        Part.active,
        PartFit.model_key.in_(["", unit.model_key]),
        PartFit.kind.in_(["", unit.kind]),
    )  # fmt: skip
    return list(rows.order_by(PartFit.id))


def _contents(part_ids: set[int]) -> dict[int, tuple[Part, tuple[Part, ...]]]:
    """Return by its id each active kit that is or holds one of these parts, with what it holds."""
    touched = KitPart.select(KitPart.kit).where(
        KitPart.kit.in_(list(part_ids)) | KitPart.part.in_(list(part_ids))
    )
    kits = {kit.id: kit for kit in Part.select().where(Part.id.in_(touched), Part.active)}
    rows = KitPart.select(KitPart, Part).join(Part, on=KitPart.part).where(
        KitPart.kit.in_(list(kits))
    )  # fmt: skip
    holds: dict[int, list[Part]] = {}
    for row in rows.order_by(KitPart.id):
        holds.setdefault(row.kit_id, []).append(row.part)
    return {kit_id: (kits[kit_id], tuple(parts)) for kit_id, parts in holds.items()}


def _leads(part_ids: list[int]) -> dict[int, int]:
    """Return by part the days that its quickest supplier takes."""
    offers = Offer.select(Offer, Supplier).join(Supplier).where(
        Offer.part.in_(part_ids), Supplier.active
    )  # fmt: skip
    found: dict[int, int] = {}
    for offer in offers:
        days = offer.supplier.lead_days if offer.lead_days is None else offer.lead_days
        found[offer.part_id] = min(days, found.get(offer.part_id, days))
    return found

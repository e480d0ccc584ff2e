"""What the demo shop is made from: particulars, owners, machines, and the stories of their visits.

Read from the TOML files of the demo folder; a misspelt key or a wrong type is refused there.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from shopdesk.demo.owners import Machine, Owner
from shopdesk.demo.stocked import Good, Seller
from shopdesk.demo.stories import Routine, Story
from shopdesk.demo.visits import Letter, OwnEvery, Round, Visit, Walk
from shopdesk.job.labour.flat_times import FlatTimeEntry
from shopdesk.job.settings import ShopEntry, read_shop
from shopdesk.job.shop import Shop

Kept = TypeVar("Kept")


@dataclass(frozen=True, slots=True)
class Scenario:
    """All of it."""

    shop_entry: ShopEntry
    shop: Shop
    """What the entry comes to."""
    flat_times: tuple[FlatTimeEntry, ...]
    sellers: tuple[Seller, ...]
    goods: tuple[Good, ...]
    letters: tuple[Letter, ...]
    round: Round
    own_intervals: tuple[OwnEvery, ...]
    staff: tuple[str, str]
    """Who stands at the counter, and who at the bench."""
    routines: tuple[Routine, ...]
    stories: Mapping[str, Story]
    owners: tuple[Owner, ...]
    visits: tuple[Visit, ...]
    walk: Walk

    def routine_for(self, unit: Machine) -> Routine:
        """Return what is set and proved on this machine; the scenario has it for every kind."""
        return next(routine for routine in self.routines if routine.fits(unit))


def load_scenario(folder: Path) -> Scenario:
    """Read the scenario; raises ``msgspec.ValidationError`` where a file says what can't be."""
    shop = _read(folder / "shop.toml")
    told = [_read(file)["story"] for file in sorted(folder.glob("stories-*.toml"))]
    stories = msgspec.convert([story for stories in told for story in stories], tuple[Story, ...])
    entry = msgspec.convert(shop["shop"], ShopEntry)
    return Scenario(
        shop_entry=entry,
        shop=read_shop(entry),
        flat_times=msgspec.convert(shop["flat_time"], tuple[FlatTimeEntry, ...]),
        sellers=_entries(folder / "suppliers.toml", "supplier", Seller),
        goods=_entries(folder / "parts.toml", "part", Good),
        letters=_entries(folder / "letters.toml", "letter", Letter),
        round=msgspec.convert(_read(folder / "letters.toml")["round"], Round),
        own_intervals=_entries(folder / "letters.toml", "own_interval", OwnEvery),
        staff=msgspec.convert(shop["staff"], tuple[str, str]),
        routines=_entries(folder / "routines.toml", "routine", Routine),
        stories={story.key: story for story in stories},
        owners=_entries(folder / "owners.toml", "owner", Owner),
        visits=_entries(folder / "visits.toml", "visit", Visit),
        walk=msgspec.convert(_read(folder / "walk.toml"), Walk),
    )


def _entries(file: Path, table: str, kind: type[Kept]) -> tuple[Kept, ...]:
    return tuple(msgspec.convert(entry, kind) for entry in _read(file)[table])


def _read(file: Path) -> dict[str, Any]:
    with file.open("rb") as opened:
        return tomllib.load(opened)

"""How tight a spark plug goes in, by its thread and seat."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from pathlib import Path

from shopdesk.bench.entries import read_entries
from shopdesk.bench.limits import Limit, read_bounds


class Seat(StrEnum):
    """How a plug seals: on a crushed ring, or on its cone."""

    GASKET = "gasket"
    TAPER = "taper"


def load_plug_torques(folder: Path) -> Mapping[tuple[str, Seat], Limit]:
    """Read torques.toml: the torque limit by thread ("M14") and seat. Raises CatalogueError."""
    torques: dict[tuple[str, Seat], Limit] = {}
    for entry in read_entries(folder / "torques.toml", "plug"):
        key = (entry.text("thread"), entry.one_of("seat", Seat))
        if key in torques:
            raise entry.error(f"{key[0]} with a {key[1]} seat stands here twice; keep one")
        torques[key] = read_bounds(entry)
        entry.finish()
    return torques

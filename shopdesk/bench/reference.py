"""All reference data of the bench, read once when the program starts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from shopdesk.bench.cause_book import CauseBook, load_causes
from shopdesk.bench.cautions import Cautions, load_cautions
from shopdesk.bench.checks import Catalogue, load_catalogue
from shopdesk.bench.complaints import Complaints, load_complaints
from shopdesk.bench.odds import load_odds


@dataclass(frozen=True, slots=True)
class Reference:
    """Checks with their limits, cautions, complaints and causes."""

    catalogue: Catalogue
    cautions: Cautions
    complaints: Complaints
    causes: CauseBook


def load_reference(folder: Path) -> Reference:
    """Read the data files of `folder`. Raises CatalogueError, naming the file and the entry."""
    catalogue = load_catalogue(folder)
    complaints = load_complaints(folder, catalogue)
    causes = load_causes(folder, catalogue, complaints, load_odds(folder))
    return Reference(catalogue, load_cautions(folder), complaints, causes)

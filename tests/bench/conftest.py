from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.bench.cause_book import CauseBook, load_causes
from shopdesk.bench.checks import Catalogue, load_catalogue
from shopdesk.bench.complaints import Complaints, load_complaints
from shopdesk.bench.machines import Engine, Machine, Place

SHARED = Path(__file__).parents[2] / "shared"


@pytest.fixture(scope="session")
def shared() -> Path:
    return SHARED


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue(SHARED)


@pytest.fixture
def trimmer() -> Machine:
    return Machine("string trimmer", Engine.TWO_STROKE, "Fernbrook", "FT-22")


@pytest.fixture
def mower() -> Machine:
    return Machine("lawn mower", Engine.FOUR_STROKE, "Larkmead", "M-46")


@pytest.fixture
def sea_level() -> Place:
    return Place(Decimal(0))


@pytest.fixture
def mile_high() -> Place:
    return Place(Decimal("1609.344"))


@pytest.fixture(scope="session")
def complaints(catalogue: Catalogue) -> Complaints:
    return load_complaints(SHARED, catalogue)


@pytest.fixture(scope="session")
def book(catalogue: Catalogue, complaints: Complaints) -> CauseBook:
    return load_causes(SHARED, catalogue, complaints)

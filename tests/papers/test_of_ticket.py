from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.job.causes import say_cause
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import StepEntry, note_step, tick_step
from shopdesk.papers.of_ticket import papers_of, save_papers
from tests.job.workshop import SHOP, Clock, at_stage, open_shop
from tests.papers.reading import text_of
from tests.papers.samples import WORDS


@pytest.fixture
def shift(tmp_path: Path) -> Iterator[Shift]:
    opened = open_shop(tmp_path, Clock())
    yield opened
    opened.records.close()


@pytest.mark.parametrize(
    ("stage", "names"),
    [
        (Stage.INTAKE, ["claim tag"]),
        (Stage.DIAGNOSIS, ["claim tag", "bench sheet"]),
        (Stage.PARTS, ["claim tag", "estimate 1001-1"]),
        (Stage.REPAIR, ["claim tag", "bench sheet", "estimate 1001-1"]),
        (Stage.PICKUP, ["claim tag", "estimate 1001-1", "work and why"]),
    ],
)
def test_a_ticket_has_the_papers_of_its_stage(shift: Shift, stage: Stage, names: list[str]) -> None:
    ticket = at_stage(shift, stage)
    assert list(papers_of(shift, ticket)) == [f"T1001 {name}" for name in names]


def test_the_bench_sheet_stays_once_the_machine_was_taken_apart(
    shift: Shift, tmp_path: Path
) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    entry = StepEntry("Starter", fasteners="4 M5 x 20 in cup 1", routing="left notch")
    ticket = note_step(shift, ticket.id, entry)
    text = text_of(papers_of(shift, ticket)["T1001 bench sheet"](WORDS))
    assert "4 × M5 x 20 from cup 1 back" in text
    assert "spring flies out" in text
    ticket = tick_step(shift, ticket.teardown[0].id, "4")
    saved = save_papers(shift, open_ticket(shift, ticket.id), tmp_path / "out")
    assert [paper.file.name for paper in saved] == ["T1001 claim tag.pdf", "T1001 bench sheet.pdf"]
    assert all(paper.file.read_bytes().startswith(b"%PDF") for paper in saved)


def test_the_bench_sheet_says_why_a_limit_is_lower_here(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    moved = "130 psi at sea level, lowered to 107 psi for 1,609 m: a gauge shows"
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    sheet = text_of(papers_of(shift, ticket)["T1001 bench sheet"](WORDS))
    assert f"Good: at least 107 psi {moved}" in sheet


def test_the_summary_names_what_moved_the_limit_and_the_cause(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    ticket = say_cause(shift, at_stage(shift, Stage.PICKUP).id, "stale-fuel", "nine months old")
    text = text_of(papers_of(shift, ticket)["T1001 work and why"](WORDS))
    assert "at least 107 psi [1]" in text
    assert "[1] 130 psi at sea level, lowered to 107 psi for 1,609 m: a gauge shows" in text
    assert "US Standard Atmosphere 1976; common practice, no published source" in text
    assert "What it was stale fuel: nine months old" in text

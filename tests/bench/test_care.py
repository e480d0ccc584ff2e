from __future__ import annotations

from pathlib import Path

import pytest

from shopdesk.bench.care import Care, cautions_at, load_cares
from shopdesk.bench.cautions import load_cautions
from shopdesk.bench.entries import CatalogueError
from shopdesk.bench.teardown import TeardownStep

ENTRY = '[[care]]\nkey = "a"\nwords = ["fuel line"]\nsource = "s"\n'


def test_a_part_is_known_by_its_name_or_its_plural() -> None:
    care = Care("line", ("fuel line", "primer"), "s")
    assert care.is_for(TeardownStep("1", "Fuel lines, both"))
    assert care.is_for(TeardownStep("1", "primer"))
    assert not care.is_for(TeardownStep("1", "fuel liner"))
    assert not care.is_for(TeardownStep("1", "cover", routing="past the primer"))


def test_the_cautions_of_a_step_stand_once_those_noted_first() -> None:
    cares = [Care("a", ("line",), "s", ("tank-pressure", "fuel-vapour"))]
    step = TeardownStep("1", "line", cautions=("fuel-vapour", "solvent"))
    assert cautions_at(step, cares) == ("fuel-vapour", "solvent", "tank-pressure")


def test_the_shops_own_file_is_whole(shared: Path) -> None:
    known = load_cautions(shared).by_key
    for care in load_cares(shared):
        assert care.source
        assert set(care.cautions) <= set(known)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (ENTRY, "give cautions, or say in back"),
        (ENTRY + 'cautions = ["tank-presure"]\n', "did you mean “tank-pressure”"),
        (ENTRY.replace('["fuel line"]', "[]") + 'back = "b"\n', "words must name what comes off"),
        (ENTRY.replace("words", "word") + 'back = "b"\n', "did you mean “words”"),
        ((ENTRY + 'back = "b"\n') * 2, "used twice"),
    ],
)
def test_a_wrong_edit_is_named(tmp_path: Path, shared: Path, text: str, words: str) -> None:
    (tmp_path / "cautions.toml").write_bytes((shared / "cautions.toml").read_bytes())
    (tmp_path / "care.toml").write_text(text, encoding="utf-8")
    with pytest.raises(CatalogueError, match=words):
        load_cares(tmp_path)

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from shopdesk.bench.entries import CatalogueError
from shopdesk.bench.odds import load_odds


def test_words_fall_from_almost_always_to_almost_never(shared: Path) -> None:
    words = load_odds(shared).words
    worth = list(words.values())
    assert next(iter(words)) == "almost always"
    assert list(words)[-1] == "almost never"
    assert worth == sorted(worth, reverse=True)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"usually" = 0.75', '"usually" = 1.0', "must lie between 0 and 1"),
        ('"usually" = 0.75', '"usually" = "often"', "usually must be a number"),
        ('onset = "seldom"', 'onset = "seldomly"', "did you mean “seldom”"),
        ("kind_tickets = 20\n", "", "kind_tickets is missing"),
        ('parts = "medium"', 'parts = "mediun"', "did you mean “medium”"),
        ("[parts]", "[prices]", "“prices” is unknown"),
    ],
)
def test_a_slip_is_named(shared: Path, tmp_path: Path, old: str, new: str, says: str) -> None:
    shutil.copy(shared / "odds.toml", tmp_path)
    path = tmp_path / "odds.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        load_odds(tmp_path)
    assert says in str(caught.value)
    assert "odds.toml" in str(caught.value)

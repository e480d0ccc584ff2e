from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from shopdesk.bench.cause_book import SOMETHING_ELSE, CauseBook, load_causes
from shopdesk.bench.checks import Catalogue, CatalogueError, load_catalogue
from shopdesk.bench.complaints import Complaints, load_complaints
from shopdesk.bench.machines import Engine, Kind, Machine

SOLD = {
    Engine.CORDED: ("string trimmer", "chain saw", "leaf blower", "hedge trimmer", "lawn mower"),
    Engine.CORDLESS: ("string trimmer", "chain saw", "leaf blower", "hedge trimmer", "lawn mower"),
    Engine.TWO_STROKE: tuple(Kind),
    Engine.FOUR_STROKE: tuple(Kind),
}


def test_every_machine_has_causes_and_something_else_is_the_last(book: CauseBook) -> None:
    for engine, kinds in SOLD.items():
        for kind in kinds:
            causes = book.causes_for(Machine(kind, engine))
            assert len(causes) >= 10, (kind, engine)
            assert causes[-1].key == SOMETHING_ELSE


def test_a_kind_of_machine_nobody_thought_of_still_has_causes(book: CauseBook) -> None:
    causes = book.causes_for(Machine("stump grinder", Engine.FOUR_STROKE))
    assert "stale-fuel" in {cause.key for cause in causes}


def test_every_cause_is_shown_by_a_check_that_its_machines_have(
    book: CauseBook, catalogue: Catalogue
) -> None:
    for engine, kinds in SOLD.items():
        for kind in kinds:
            machine = Machine(kind, engine)
            fitting = {check.key for check in catalogue.checks_for(machine)}
            for cause in book.causes_for(machine)[:-1]:
                assert fitting & set(cause.shows), (cause.key, kind, engine)


def test_every_complaint_has_a_likely_cause_on_some_machine(
    book: CauseBook, complaints: Complaints
) -> None:
    named = {name for cause in book.by_key.values() for name in cause.complaints}
    assert named == set(complaints.by_key)


def test_how_common_a_cause_is_may_depend_on_the_machine(book: CauseBook) -> None:
    key = book.by_key["sheared-key"]
    mower = key.weight(Machine("lawn mower", Engine.FOUR_STROKE))
    assert mower > key.weight(Machine("generator", Engine.FOUR_STROKE))
    arrester = book.by_key["arrester"]
    saw = arrester.weight(Machine("chain saw", Engine.TWO_STROKE))
    assert saw > arrester.weight(Machine("lawn mower", Engine.FOUR_STROKE))


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('common = "usually"', 'common = "mostly"', "“stale-fuel”: “mostly” is unknown"),
        ('common = "usually"', "common = 0.7", "common is missing or is no text"),
        ("bogs = ", "bog = ", "did you mean “bogs”"),
        ('"after storage" = ', '"after storing" = ', "did you mean “after storage”"),
        ("good-fuel = {", "god-fuel = {", "did you mean “good-fuel”"),
        (
            'good-fuel = { r = "usually"',
            'good-fuel = { q = "usually"',
            "“q” is unknown under shows",
        ),
        ('fuel-age = "almost always"', "fuel-age = 0.9", "must be a word of probability"),
        ('parts = "none"', 'parts = "cheap"', "“cheap” is unknown under parts"),
        ('system = "fuel"', 'system = "feul"', "did you mean “fuel”"),
        ('key = "stale-fuel"', 'key = "something-else"', "always there; leave it out"),
        ("[otherwise]\n", "[otherwise]\nfule-look = 'seldom'\n", "did you mean “fuel-look”"),
        (
            '{ "lawn mower" = "sometimes", otherwise',
            '{ "lawn mower" = "sometimes", others',
            "other",
        ),
    ],
)
def test_a_slip_names_file_entry_and_what_to_do(
    shared: Path, tmp_path: Path, old: str, new: str, says: str
) -> None:
    for path in shared.glob("*.toml"):
        shutil.copy(path, tmp_path)
    path = tmp_path / "causes.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    changed = load_catalogue(tmp_path)
    changed_complaints = load_complaints(tmp_path, changed)
    with pytest.raises(CatalogueError) as caught:
        load_causes(tmp_path, changed, changed_complaints)
    assert says in str(caught.value)
    assert "causes.toml" in str(caught.value)

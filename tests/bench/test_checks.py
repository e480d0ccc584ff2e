from __future__ import annotations

import shutil
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.bench.checks import Catalogue, CatalogueError, System, Verdict, load_catalogue
from shopdesk.bench.machines import Engine, Kind, Machine

PRACTICE = ("common practice", "from memory")


def test_there_are_enough_checks_over_every_system(catalogue: Catalogue) -> None:
    assert len(catalogue.by_key) >= 45
    by_system = Counter(check.system for check in catalogue.by_key.values())
    assert set(by_system) == set(System)


def test_checks_come_in_the_order_of_the_systems(catalogue: Catalogue, trimmer: Machine) -> None:
    order = [list(System).index(check.system) for check in catalogue.checks_for(trimmer)]
    assert order == sorted(order)


def test_every_check_is_complete(catalogue: Catalogue) -> None:
    for check in catalogue.by_key.values():
        assert Decimal(1) <= check.minutes <= 30, check.key
        assert check.how.endswith("."), check.key
        assert check.rules_out.endswith("."), check.key
        assert check.points_to.endswith("."), check.key
        assert check.source, check.key
        if check.quantity is None:
            assert len(check.seen) >= 2, check.key
            assert any(choice.is_clear for choice in check.seen), check.key
            assert any(c.is_telling and not c.is_clear for c in check.seen), check.key
        for choice in check.seen:
            if choice.verdict.is_off:
                assert choice.means, (check.key, choice.key)


def test_what_is_a_little_or_wholly_wrong_is_off() -> None:
    assert [verdict for verdict in Verdict if verdict.is_off] == [Verdict.MARGINAL, Verdict.FAIL]


def test_every_kind_of_machine_has_checks_for_safety(catalogue: Catalogue) -> None:
    for kind in Kind:
        for engine in Engine:
            found = catalogue.checks_for(Machine(kind, engine))
            assert any(check.safety for check in found), (kind, engine)


def test_the_four_first_looks_are_spark_compression_fuel_air(
    catalogue: Catalogue, trimmer: Machine
) -> None:
    firsts = sorted(
        (check for check in catalogue.checks_for(trimmer) if check.first_look),
        key=lambda check: check.first_look,
    )
    assert [check.system for check in firsts] == [
        System.SPARK,
        System.COMPRESSION,
        System.FUEL,
        System.AIR,
    ]


def test_an_electric_machine_gets_no_engine_checks(catalogue: Catalogue) -> None:
    checks = catalogue.checks_for(Machine("chain saw", Engine.CORDLESS))
    keys = {check.key for check in checks}
    assert "compression" not in keys
    assert "fuel-age" not in keys
    assert {"pack-swap", "chain-brake", "chain"} <= keys
    assert "line-head" not in keys


def test_a_limit_without_a_publication_says_so(catalogue: Catalogue) -> None:
    for check in catalogue.by_key.values():
        for rule in check.limits:
            named = any(mark in rule.limit.source for mark in ("CFR", "CCR", "ISO", "industry"))
            table = "plug maker's table" in rule.limit.source
            assert named or table or rule.limit.source.startswith(PRACTICE), check.key


def test_where_a_hand_can_be_hurt_there_is_a_caution(catalogue: Catalogue) -> None:
    for check in catalogue.by_key.values():
        if check.needs_running and check.key != "stop-switch":
            assert check.cautions, check.key
        if check.system is System.FUEL and check.minutes > 3:
            assert check.cautions, check.key


def test_a_check_that_left_the_catalogue_is_said_to_be_gone(catalogue: Catalogue) -> None:
    with pytest.raises(CatalogueError, match="no check “magneto-dance”"):
        catalogue.check("magneto-dance")


@pytest.fixture
def copied(shared: Path, tmp_path: Path) -> Path:
    for path in shared.glob("*.toml"):
        shutil.copy(path, tmp_path)
    return tmp_path


def edit(folder: Path, name: str, old: str, new: str) -> None:
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "old", "new", "says"),
    [
        ("checks-spark.toml", "[[check]]", "[[check", "checks-spark.toml is not well-formed"),
        ("checks-spark.toml", "[[check]]", "[[chek]]", "“chek” is unknown; use [[check]]"),
        ("checks-spark.toml", 'title = "Spark in a tester"\n', "", "“spark”: title is missing"),
        ("checks-spark.toml", 'title = "Spark in a tester"', "title = 3", "“spark”: title is"),
        ("checks-spark.toml", "minutes = 2\n", 'minutes = "2"\n', "“spark”: minutes must be a num"),
        ("checks-spark.toml", "minutes = 2\n", "minutes = -2\n", "not below zero"),
        ("checks-spark.toml", "minutes = 2\n", "minuts = 2\n", "“spark”: minutes is missing"),
        ("checks-spark.toml", "minutes = 2\n", "minutes = 2\nmins = 3\n", "did you mean “minutes”"),
        ("checks-spark.toml", '"two-stroke"', '"twostroke"', "did you mean “two-stroke”"),
        ("checks-spark.toml", 'system = "spark"', 'system = "sparks"', "did you mean “spark”"),
        ("checks-spark.toml", '"ignition-voltage"', '"volts"', "“volts” is unknown under cautions"),
        ("checks-spark.toml", 'key = "plug-look"', 'key = "spark"', "“spark” is used twice"),
        ("checks-spark.toml", '{ key = "w"', '{ key = "s"', "two choices have the same letter"),
        ("checks-spark.toml", '{ key = "w"', '{ key = "weak"', "key must be one small letter"),
        ("checks-spark.toml", 'usual_unit = "in"', 'usual_unit = "psi"', "not a unit of length"),
        ("checks-spark.toml", 'quantity = "length"\n', "", "usual_unit without a quantity"),
        ("limits.toml", 'check = "plug-gap"', 'check = "plug-gab"', "no check “plug-gab”"),
        ("limits.toml", 'check = "plug-gap"', 'check = "spark"', "is seen, not measured"),
        ("limits.toml", 'unit = "in"', 'unit = "bar"', "“bar” is not a unit of length"),
        ("limits.toml", "pass_from = 130", "pass_from = 100", "the figures must rise"),
        ("limits.toml", "pass_from = 130\n", "", "give pass_from, pass_to or both"),
        ("limits.toml", 'source = "common', 'sauce = "common', "source is missing"),
        ("cautions.toml", 'key = "standing"', 'key = "first"', "“standing” is missing"),
    ],
)
def test_a_slip_in_the_data_names_file_entry_and_what_to_do(
    copied: Path, name: str, old: str, new: str, says: str
) -> None:
    edit(copied, name, old, new)
    with pytest.raises(CatalogueError) as caught:
        load_catalogue(copied)
    assert says in str(caught.value)
    assert name in str(caught.value)


def test_an_empty_folder_says_what_is_missing(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError, match=r"cautions.toml cannot be read"):
        load_catalogue(tmp_path)


def test_no_checks_at_all_is_said(copied: Path) -> None:
    for path in copied.glob("checks*.toml"):
        path.unlink()
    with pytest.raises(CatalogueError, match="put the checks"):
        load_catalogue(copied)


def test_the_shop_adds_a_check_in_a_file_of_its_own(copied: Path) -> None:
    (copied / "checks-ours.toml").write_text(
        '[[check]]\nkey = "smell"\ntitle = "Smell"\nsystem = "air"\nhow = "Sniff."\nminutes = 1\n'
        'source = "our shop"\nrules_out = "Nothing burns."\npoints_to = "Something burns."\n'
        'seen = [{key = "n", words = "nothing", verdict = "pass"},'
        ' {key = "b", words = "burnt", verdict = "fail"}]\n',
        encoding="utf-8",
    )
    assert load_catalogue(copied).check("smell").title == "Smell"


def test_the_narrowest_limit_is_taken(copied: Path, trimmer: Machine) -> None:
    with (copied / "limits.toml").open("a", encoding="utf-8") as file:
        file.write(
            '[[limit]]\ncheck = "compression"\nkinds = ["string trimmer"]\nunit = "psi"\n'
            'pass_from = 110\nsource = "our shop"\n'
        )
    check = load_catalogue(copied).check("compression")
    limit = check.limit_for(trimmer)
    assert limit is not None
    assert limit.pass_from == 110
    saw = check.limit_for(Machine("chain saw", Engine.TWO_STROKE))
    assert saw is not None
    assert saw.pass_from == 130

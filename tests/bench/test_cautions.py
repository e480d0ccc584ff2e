from __future__ import annotations

from pathlib import Path

from shopdesk.bench.cautions import load_cautions
from shopdesk.bench.checks import Catalogue
from shopdesk.bench.machines import Engine, Machine


def test_the_standing_line_puts_manual_codes_and_licence_first(shared: Path) -> None:
    words = load_cautions(shared).standing.words
    assert "maker's manual, local codes and licensed practice come first" in words
    assert "never overrides the mechanic" in words


def test_every_caution_is_backed_by_a_rule_or_says_that_it_is_practice(shared: Path) -> None:
    for caution in load_cautions(shared).by_key.values():
        published = any(m in caution.backing for m in ("CFR", "WAC", "Forest Service"))
        assert published or caution.backing.startswith("common practice, no published source")
        assert caution.words.endswith(".")


def test_cautions_are_given_in_the_order_asked(shared: Path) -> None:
    found = load_cautions(shared).named(("torch", "fuelling"))
    assert [caution.key for caution in found] == ["torch", "fuelling"]


def test_a_cordless_saw_has_no_plug_lead_to_take_off(shared: Path, trimmer: Machine) -> None:
    cautions, keys = load_cautions(shared), ("spark-lead-off", "battery-out", "sharp-edges")
    saw = Machine("chain saw", Engine.CORDLESS)
    assert [c.key for c in cautions.named(keys, saw)] == ["battery-out", "sharp-edges"]
    assert [c.key for c in cautions.named(keys, trimmer)] == ["spark-lead-off", "sharp-edges"]
    assert len(cautions.named(keys)) == 3


def test_every_check_keeps_a_caution_on_every_machine_it_fits(
    catalogue: Catalogue, shared: Path
) -> None:
    cautions = load_cautions(shared)
    for engine in Engine:
        machine = Machine("chain saw", engine)
        for check in catalogue.checks_for(machine):
            shown = cautions.named(check.cautions, machine)
            assert bool(shown) == bool(check.cautions), (check.key, engine)

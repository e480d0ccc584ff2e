from __future__ import annotations

from pathlib import Path

from shopdesk.bench.cautions import load_cautions


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

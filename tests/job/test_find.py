"""The one box that finds anything, and the owners suggested while a name is typed."""

from dataclasses import replace

import pytest

from shopdesk.job.customers import CustomerEntry, add_customer, suggest_owners
from shopdesk.job.find import find_anything
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import add_unit
from shopdesk.job.views import Hit
from tests.job.workshop import (
    INTAKE,
    OTHER_OWNER,
    SAW,
    another,
    at_stage,
    everything,
    taken_in,
)


def titles(shift: Shift, words: str) -> list[str]:
    return [hit.title for hit in find_anything(shift, words)]


@pytest.fixture
def shop(shift: Shift) -> Shift:
    """Two owners with a machine each, and one ticket."""
    taken_in(shift, entry=replace(INTAKE, complaint="Überläuft, won't start 100%_sure"))
    owner = add_customer(shift, OTHER_OWNER)
    add_unit(shift, owner.id, SAW)
    return shift


@pytest.mark.parametrize("words", ["0142", "142", "555-0142", "(555) 0142", "５５５０１４２"])
def test_a_phone_is_found_by_its_last_digits(shop: Shift, words: str) -> None:
    hit = find_anything(shop, words)[0]
    assert (hit.title, hit.detail) == ("Mara Quill", "555-0142 · 1 machine")


def test_two_digits_are_no_phone(shop: Shift) -> None:
    assert "Mara Quill" not in titles(shop, "42")


@pytest.mark.parametrize("words", ["łukasz", "LUKASZ", "bright luk", "Brightwater, "[:-2], "ukas"])
def test_a_name_is_found_without_its_accents(shop: Shift, words: str) -> None:
    assert titles(shop, words)[0] == "Łukasz Brightwater"


@pytest.mark.parametrize("words", ["OS/40/77", "os4077", "os-40-77", "4077", "os 40 77"])
def test_a_serial_is_found_with_any_dashes(shop: Shift, words: str) -> None:
    hit = find_anything(shop, words)[0]
    assert (hit.title, hit.detail) == (
        "Chain saw, Osmarrow OS 40",
        "Łukasz Brightwater · serial OS/40/77",
    )


@pytest.mark.parametrize("words", ["tarnbeck", "TB-26", "tarnbeck trimmer", "string  TB-26"])
def test_a_machine_is_found_by_make_model_and_kind(shop: Shift, words: str) -> None:
    assert "String trimmer, Tarnbeck TB-26" in titles(shop, words)


@pytest.mark.parametrize("words", ["1001", "T1001", "t1001", " T 1001 "])
def test_a_tag_is_found_with_or_without_its_letter(shop: Shift, words: str) -> None:
    hit = find_anything(shop, words)[0]
    assert (hit.title, hit.ticket_id) == ("T1001  Mara Quill", 1)
    assert hit.detail.startswith("String trimmer, Tarnbeck TB-26 · Intake · Überläuft")


@pytest.mark.parametrize("words", ["uberlauft", "ÜBERLÄUFT", "won’t start", "start won't", "0%_s"])
def test_a_complaint_is_found_by_its_words(shop: Shift, words: str) -> None:
    assert titles(shop, words) == ["T1001  Mara Quill"]


@pytest.mark.parametrize("words", ["%", "_", "\\", "'", '"', "*", "100%sure", "1_1", "q%l", "--"])
def test_what_means_something_to_a_database_is_only_text(shop: Shift, words: str) -> None:
    for hit in find_anything(shop, words):
        assert hit.ticket_id or hit.unit_id
        assert words in ("%", "_", "'", "--", "*") or hit.ticket_id is None


def test_wildcards_find_only_themselves(shift: Shift) -> None:
    plain, odd = CustomerEntry("Anna Plain"), CustomerEntry("100% Cut_Grass \\ Ltd")
    add_customer(shift, plain)
    add_customer(shift, odd)
    for words in ("%", "_", "\\", "0%", "t_g"):
        assert titles(shift, words) == ["100% Cut_Grass \\ Ltd"]
        assert [one.name for one in suggest_owners(shift, words)] in ([], ["100% Cut_Grass \\ Ltd"])


@pytest.mark.parametrize("words", ["", "   ", "\n\t", "\u200b", "\x00"])
def test_nothing_typed_finds_nothing(shop: Shift, words: str) -> None:
    assert find_anything(shop, words) == ()
    assert suggest_owners(shop, words) == ()


@pytest.mark.parametrize(
    "words",
    ["nobody", "\ud800\udfff\ud800", "a\x00b\x07", "9" * 5_000, "word " * 3_000, "x" * 100_000],
)
def test_odd_words_find_nothing_and_break_nothing(shop: Shift, words: str) -> None:
    before = everything(shop)
    assert find_anything(shop, words) == ()
    assert suggest_owners(shop, words) == ()
    assert everything(shop) == before


def test_one_thing_is_found_once(shift: Shift) -> None:
    taken_in(shift, entry=replace(INTAKE, complaint="came back, was 1001"))
    hits = find_anything(shift, "1001")
    assert len(hits) == len(set(hits)) == 1


def test_hits_come_newest_first_and_no_more_than_asked(shift: Shift) -> None:
    closed = at_stage(shift, Stage.CLOSED)
    for number in range(5):
        another(shift, number)
    hits = find_anything(shift, "squeeze", most=4)
    assert [hit.title for hit in hits] == [
        *("T1006  Owner 4", "T1005  Owner 3"),
        *("T1004  Owner 2", "T1003  Owner 1"),
    ]
    assert find_anything(shift, "squeeze")[-1].ticket_id == closed.id


def test_each_hit_names_one_thing(shop: Shift) -> None:
    def named(hit: Hit) -> int:
        return sum(one is not None for one in (hit.ticket_id, hit.unit_id, hit.customer_id))

    for words in ("1001", "quill", "os 40", "start"):
        assert [named(hit) for hit in find_anything(shop, words)] != []
        assert all(named(hit) == 1 for hit in find_anything(shop, words))


def test_owners_are_suggested_by_the_beginnings_of_names_or_the_end_of_a_phone(
    shop: Shift,
) -> None:
    assert [owner.name for owner in suggest_owners(shop, "qui m")] == ["Mara Quill"]
    assert [owner.name for owner in suggest_owners(shop, "luk")] == ["Łukasz Brightwater"]
    assert [owner.name for owner in suggest_owners(shop, "0155")] == ["Łukasz Brightwater"]
    assert suggest_owners(shop, "uill") == ()
    assert len(suggest_owners(shop, "555", most=1)) <= 1

"""What things are found by, and what typed words ask for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.records.near_words import one_letter_off
from shopdesk.records.search_words import Term, asked_for, named, words_of, words_of_number
from shopdesk.text import fold


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Mara Quill", ["mara", "quill"]),
        ("O’Brien", ["o", "brien", "obrien"]),
        ("Tarnbeck TB-26", ["tarnbeck", "tb", "26", "tb26"]),
        ("Łukasz Groß-Ødegård", ["lukasz", "gross", "odegard", "grossodegard"]),
        ("Πέτρος", ["πετροσ"]),
        ("100% _!", ["100"]),
        ("", []),
    ],
)
def test_the_words_of_a_text(text: str, words: list[str]) -> None:
    assert list(words_of(text)) == words


def test_a_number_is_found_from_either_end() -> None:
    assert list(words_of_number("(303) 555-0142")) == ["3035550142", "_2410555303"]
    assert list(words_of_number("OS/40/77")) == ["os4077", "_7704so"]
    assert list(words_of_number("--")) == []


def test_a_word_is_the_beginning_of_one() -> None:
    assert asked_for("qui m") == ((Term("qui"),), (Term("m"),))
    assert asked_for("%_ '") == ()


def test_signs_with_a_digit_may_be_the_last_ones() -> None:
    assert asked_for("0142") == ((Term("0142"), Term("_2410")),)
    assert asked_for("42") == ((Term("42"),),)


def test_a_phone_may_be_kept_without_the_codes_dialled_before_it() -> None:
    (group,) = asked_for("3035550142")
    assert {Term("_2410555", begins=False), Term("_2410555303")} <= set(group)
    assert Term("_241055", begins=False) not in group


def test_digits_typed_apart_may_be_one_number() -> None:
    for group in asked_for("555 01 42"):
        assert {Term("5550142"), Term("_2410555")} <= set(group)


def test_only_words_of_letters_may_be_a_name() -> None:
    assert named(asked_for("Mara Quill")) == (
        (Term("__mara", begins=False),),
        (Term("__quill", begins=False),),
    )
    for words in ("0142", "q", "mara 0142"):
        assert named(asked_for(words)) == ()


@given(st.text(max_size=60))
def test_whatever_is_kept_is_found_by_the_same_text(text: str) -> None:
    kept = set(words_of(text))
    for group in asked_for(text):
        assert any(word.startswith(term.word) for term in group for word in kept)


@given(st.text(max_size=60))
def test_no_word_holds_what_the_index_would_cut_or_take_for_an_order(text: str) -> None:
    for word in (*words_of(text), *words_of_number(text)):
        plain = word.removeprefix("_")
        assert plain
        assert all(char.isalnum() for char in plain)


@pytest.mark.parametrize("slip", ["uill", "quil", "qulil", "qxill", "quiill"])
def test_one_slip_is_one_letter_off(slip: str) -> None:
    assert slip in one_letter_off("quill")
    assert "quill" in one_letter_off(slip)


def test_slips_in_another_script_are_of_its_letters() -> None:
    word = fold("Γιώργος")
    assert word.replace("ρ", "σ") in one_letter_off(word)
    assert word not in one_letter_off(word)

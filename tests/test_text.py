"""Text as people type it: made safe, kept whole, found again."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.text import TextError, clean_line, clean_text, digits, fold

ANY_TEXT = st.text(st.characters(), max_size=60)
LIMIT = 10_000


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("  Bogs   when\thot ", "Bogs when hot"),
        ("two\r\nlines", "two lines"),
        ("bell\x07 and nul\x00", "bell and nul"),
        ("lone \ud83d surrogate", "lone surrogate"),
        ("pair \ud83d\ude00", "pair \U0001f600"),
        ("o\u0302", "\u00f4"),
        ("e\u200b\u0301", "\u00e9"),
        ("abc\u202edef", "abcdef"),
        ("\ufeffstart", "start"),
        ("non\uffffcharacter\ufdd0", "noncharacter"),
        ("no\u00a0break", "no break"),
        ("<b>bold</b> & more", "<b>bold</b> & more"),
        ("👩‍🔧", "👩‍🔧"),
        ("Nguyễn Λάμπρος Łukasz Юрий", "Nguyễn Λάμπρος Łukasz Юрий"),
        ("\x00\t \n", ""),
    ],
)
def test_a_line_keeps_what_it_says_and_drops_what_cannot_print(typed: str, kept: str) -> None:
    assert clean_line(typed, LIMIT) == kept


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("first\r\nsecond\rthird\nfourth", "first\nsecond\nthird\nfourth"),
        ("one\u2028two\x85three\x0bfour", "one\ntwo\nthree\nfour"),
        ("a\tb  c ", "a b c"),
        ("\n\n top\n\n\n\n\nbottom \n\n", "top\n\nbottom"),
        ("para\n\npara", "para\n\npara"),
        ("\x00\n\x07", ""),
    ],
)
def test_text_keeps_its_lines(typed: str, kept: str) -> None:
    assert clean_text(typed, LIMIT) == kept


def test_the_limit_counts_what_is_kept_and_the_last_character_still_fits() -> None:
    assert clean_line("x" * 80, 80) == "x" * 80
    assert clean_line("x  " * 40, 80) == ("x " * 40).strip()


def test_too_long_says_how_long_it_is_and_what_to_do() -> None:
    with pytest.raises(TextError) as too_long:
        clean_text("x" * 10_400, 10_000, "The complaint")
    assert str(too_long.value) == (
        "The complaint is 10,400 characters long; keep it to 10,000 at most: "
        "put the rest in a note."
    )
    with pytest.raises(TextError, match=r"^This text is 81 characters long"):
        clean_line("x" * 81, 80)


@given(ANY_TEXT)
def test_cleaning_twice_changes_nothing_and_the_result_can_be_stored(typed: str) -> None:
    for clean in (clean_line, clean_text):
        kept = clean(typed, LIMIT)
        assert clean(kept, LIMIT) == kept
        assert unicodedata.is_normalized("NFC", kept)
        assert kept.encode().decode() == kept
        assert not {unicodedata.category(char) for char in kept.replace("\n", "")} & {"Cc", "Cs"}
    assert "\n" not in clean_line(typed, LIMIT)


@pytest.mark.parametrize(
    ("stored", "sought"),
    [
        ("Łukasz Żółć", "lukasz zolc"),
        ("Søren Ærø", "soren aero"),
        ("Straße", "STRASSE"),
        ("Đỗ Thị Hương", "do thi huong"),
        ("Œuvre", "oeuvre"),
        ("Þór Guðrún", "thor gudrun"),
        ("Λάμπρος", "ΛΑΜΠΡΟΣ"),
        ("Μαΐου", "μαιου"),
        ("İstanbul I\u011fd\u0131r", "istanbul igdir"),
        ("Фёдор", "федор"),
        ("O\u2019Brien", "o'brien"),
        ("Smith\u2013Jones", "smith-jones"),
        ("\uff21\uff22\uff23\uff11\uff12", "abc12"),
        ("ǿ", "o"),
    ],
)
def test_a_name_is_found_without_its_accents_and_capitals(stored: str, sought: str) -> None:
    assert fold(stored) == fold(sought)


def test_folding_keeps_different_words_apart() -> None:
    words = ["saw", "sew", "Λάμπρος", "Юрий", "mower 21", "mower 22"]
    assert len({fold(word) for word in words}) == len(words)
    assert fold("Mower") == "mower"


@given(ANY_TEXT)
def test_folding_twice_changes_nothing(text: str) -> None:
    assert fold(fold(text)) == fold(text)


@pytest.mark.parametrize(
    ("phone", "only"),
    [
        ("(555) 010-0142", "5550100142"),
        ("+1 555.010.0142 ext. 7", "155501001427"),
        ("\u0665\u0665\u0665 \uff10\uff11\uff10", "555010"),
        ("m² ½ ①", ""),
        ("none", ""),
    ],
)
def test_a_phone_is_kept_by_its_digits(phone: str, only: str) -> None:
    assert digits(phone) == only

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.fasteners import (
    MOST,
    FastenerError,
    Fasteners,
    count_back,
    parse_all_fasteners,
    parse_fasteners,
)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("2 M5 x 20 T27 in cup 3", Fasteners(2, "M5", "20", "T27", "in cup 3")),
        ("2 x M5x20, T27, cup 3", Fasteners(2, "M5", "20", "T27", "in cup 3")),
        ("2 × m5 × 20 mm T27", Fasteners(2, "M5", "20", "T27")),
        ("3 screws M5 x 25 T25 in the lid", Fasteners(3, "M5", "25", "screws T25", "in the lid")),
        ("1 M6 flange nut 10 mm", Fasteners(1, "M6", "", "flange nut 10 mm")),
        ("2 M8 x 1.25 x 30", Fasteners(2, "M8 x 1.25", "30")),
        ("2 M8 x 1,25", Fasteners(2, "M8 x 1.25")),
        (
            '4 x 1/4-20 x 3/4" slotted hex 8 mm in bag 2',
            Fasteners(4, "1/4-20", '3/4"', "slotted hex 8 mm", "in bag 2"),
        ),
        ("4 1/4-20 UNC x 3/4", Fasteners(4, "1/4-20", '3/4"')),
        ("2 5/16 x 1 1/4 hex 1/2", Fasteners(2, "5/16", '1 1/4"', "hex 1/2")),
        ("2 x 10-24 x 1/2″", Fasteners(2, "10-24", '1/2"')),
        (
            "3 #10 x 1 cross recess on the magnet tray, into plastic",
            Fasteners(3, "#10", '1"', "cross recess", "on the magnet tray", True),
        ),
        ("2 no. 8 x 1/2", Fasteners(2, "#8", '1/2"')),
        ("4 4.2 x 19 in plastic bag", Fasteners(4, "4.2", "19", "", "in plastic bag")),
        ("4 4,2 x 19 (into plastic)", Fasteners(4, "4.2", "19", into_plastic=True)),
        ("1 circlip in cup 1", Fasteners(1, head="circlip", kept="in cup 1")),
        ("3 plastic clips", Fasteners(3, head="plastic clips")),
    ],
)
def test_a_line_is_understood(typed: str, expected: Fasteners) -> None:
    assert parse_fasteners(typed) == expected


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "does not begin with how many"),
        ("M5 x 20", "does not begin with how many"),
        ("1/4-20 x 3/4", "does not begin with how many"),
        ("10-24 x 1/2", "does not begin with how many"),
        ("4.2 x 19", "does not begin with how many"),
        ("two screws", "does not begin with how many"),
        ("-2 M5", "does not begin with how many"),
        ("2", "does not"),
        ("2 x", "does not say which"),
        ("4 x 16", "does not say which"),
        ("0 M5 x 20", "0 fasteners can't be right"),
        ("900 M5 x 20", "900 fasteners can't be right"),
        ("2 " + "screw " * 60, "too long"),
    ],
)
def test_what_is_not_understood_says_what_to_type(typed: str, words: str) -> None:
    with pytest.raises(FastenerError, match=words):
        parse_fasteners(typed)


def test_one_kind_a_line_and_blank_lines_are_passed_over() -> None:
    two = parse_all_fasteners("2 M5 x 20 in cup 1\n\n  2 M5 x 30 in cup 2\n")
    assert [each.length for each in two] == ["20", "30"]
    assert parse_all_fasteners(" \n ") == ()


def test_how_it_is_said_coming_off_and_going_back() -> None:
    screws = parse_fasteners("2 M5x20 T27 on the magnet tray, into plastic")
    assert screws.coming_off == "2 × M5 x 20 T27 on the magnet tray, into plastic"
    assert screws.going_back == "2 × M5 x 20 T27 from the magnet tray"
    assert parse_fasteners("1 circlip").going_back == "1 × circlip"


_SIZES = st.sampled_from(
    [
        ("M5", "20"),
        ("M8 x 1.25", "30"),
        ("M6", ""),
        ("1/4-20", '3/4"'),
        ("#10", '1"'),
        ("4.2", "19"),
    ]
)
_HEADS = st.sampled_from(["T27", "slotted hex 8 mm", "hex nut", "cross recess"])
_PLACES = st.sampled_from(["", "in cup 3", "on the magnet tray", "in bag 2"])


@given(st.integers(1, MOST), _SIZES, _HEADS, _PLACES, st.booleans())
def test_what_is_shown_can_be_typed_again(
    count: int, size: tuple[str, str], head: str, kept: str, plastic: bool
) -> None:
    screws = Fasteners(count, *size, head, kept, plastic)
    assert parse_fasteners(screws.coming_off) == screws


@given(st.text(max_size=150))
def test_any_text_is_understood_or_refused_in_a_sentence(typed: str) -> None:
    refusal = ""
    try:
        screws = parse_fasteners(typed)
    except FastenerError as error:
        refusal = str(error)
    assert refusal.endswith(".") or 1 <= screws.count <= MOST


LOTS = (Fasteners(2, "M5", "20"), Fasteners(3, "M5", "30"))


@pytest.mark.parametrize(
    ("typed", "back"),
    [("5", (2, 3)), ("2, 3", (2, 3)), ("2 3", (2, 3)), ("1 and 3", (1, 3)), ("0, 0", (0, 0))],
)
def test_counted_back_by_kind_or_all_at_once(typed: str, back: tuple[int, ...]) -> None:
    assert count_back(typed, LOTS) == back


def test_one_kind_takes_any_count_and_none_takes_none() -> None:
    assert count_back("1", LOTS[:1]) == (1,)
    assert count_back("3", LOTS[:1]) == (3,)
    assert count_back("", ()) == ()
    assert count_back("0", ()) == ()


@pytest.mark.parametrize(
    ("typed", "off", "words"),
    [
        ("", LOTS, "5 came off"),
        ("all", LOTS, "5 came off"),
        ("4", LOTS, "in order: 2, 3"),
        ("1, 2, 3", LOTS, "in order: 2, 3"),
        ("9999", LOTS[:1], "count them again"),
        ("-1", LOTS[:1], "Count the fasteners"),
        ("2.5", LOTS[:1], "Count the fasteners"),
        ("2", (), "No fastener came off here"),
    ],
)
def test_a_count_that_can_not_be_says_so(
    typed: str, off: tuple[Fasteners, ...], words: str
) -> None:
    with pytest.raises(FastenerError, match=words):
        count_back(typed, off)

"""The history of a machine on paper: whole for its owner, without names and sums for a buyer."""

from dataclasses import replace

import pytest

from shopdesk.papers.history import draw_history
from tests.papers.history_samples import FALLING, FOR_BUYER, HISTORY, OUT, course, point
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import SHOP_A4, WORDS


@pytest.mark.parametrize(
    "item",
    [
        "History of this machine",
        "As of Sun 14 Mar 2027",
        "Zoë Łukaszewicz-Đặng",
        "Bought 2 May 2023",
        "Mara Quill, 2 May 2023 to 1 Aug 2026",
        "53% of the $250.00 that a new one costs",
        "T1093",
        "Carburettor gummed up",
        "came back for the visit before",
        "Clean and rebuild the carburettor (failed)",
        "$84.67",
        "Limit: at least 130 psi. Falling about 5 psi a year",
        "It was out of its limit when last read: 0.021 in.",
        "Clean the air filter",
    ],
)
def test_the_owners_paper_says(item: str) -> None:
    assert item in text_of(draw_history(HISTORY, WORDS))


def test_the_pictures_name_years_heights_and_unit() -> None:
    text = text_of(draw_history(HISTORY, WORDS))
    for word in ("2026", "2028", "140", "psi", "0.015"):
        assert word in text


@pytest.mark.parametrize("item", ["Quill", "Łukaszewicz", "$", "T1093", "Same again", "squeeze"])
def test_the_buyers_paper_keeps_to_itself(item: str) -> None:
    assert item not in text_of(draw_history(FOR_BUYER, WORDS))


def test_the_buyers_paper_says_what_was_done_and_what_it_is_not() -> None:
    text = text_of(draw_history(FOR_BUYER, WORDS))
    assert "owner 1, 2 May 2023 to 1 Aug 2026; owner 2, since 1 Aug 2026" in text
    assert "Carburettor kit (failed)" in text
    assert "It is no warranty." in text


def test_a_machine_that_was_never_here_for_a_repair() -> None:
    empty = replace(HISTORY, visits=(), courses=(), next_steps=(), bought_on=None)
    text = text_of(draw_history(empty, WORDS))
    assert "It was not here for a repair yet." in text
    assert "Readings over the years" not in text
    assert "Bought" not in text


def test_one_reading_is_not_drawn() -> None:
    once = replace(HISTORY, courses=(course(FALLING.points[0]),))
    assert "Readings over the years" not in text_of(draw_history(once, WORDS))


def test_many_visits_and_readings_stay_on_their_pages() -> None:
    points = [point(FALLING.points[0].on.replace(year=1990 + step), f"{150 + step}")
              for step in range(37)]  # fmt: skip
    long = replace(
        HISTORY,
        shop=SHOP_A4,
        visits=tuple(
            replace(one, complaint="word " * 80, done=("Renewed the thing (worn)",) * 12)
            for one in HISTORY.visits * 20
        ),
        courses=(course(*points), OUT, replace(FALLING, title="W" * 400), FALLING),
    )
    printed = draw_history(long, WORDS)
    assert letters_outside(printed, 28) == []
    assert printed.pages > 5
    assert all("Fernhollow" in page for page in page_texts(printed))


def test_it_is_the_same_to_the_byte() -> None:
    assert draw_history(HISTORY, WORDS).pdf == draw_history(HISTORY, WORDS).pdf

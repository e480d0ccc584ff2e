"""What is typed into a field: seen or blank, hours at the bench, words looked for, days ahead."""

from datetime import date
from decimal import Decimal

import pytest

from shopdesk.errors import JobError
from shopdesk.job.typed import MOST_WORDS, ask_which, bench_hours, day, line, text, words_looked_for

TODAY = date(2031, 4, 7)


@pytest.mark.parametrize(
    "typed", ["", " \t", "\u3164", "\u2800\u2800", "\u0301", "\u200d", "\n\uffa0"]
)
def test_what_shows_nothing_is_empty(typed: str) -> None:
    for kept in (line, text):
        assert len(kept(typed, "name", "The name")) <= 2
        with pytest.raises(JobError, match="The name is empty: type it") as caught:
            kept(typed, "name", "The name", needed=True)
        assert caught.value.field == "name"


@pytest.mark.parametrize("typed", ["ㄱ", "e\u0301", "👩\u200d🔧", "?", "7", "مارا"])
def test_what_shows_anything_is_not_empty(typed: str) -> None:
    assert line(typed, "name", "The name", needed=True)


@pytest.mark.parametrize(
    ("typed", "hours"),
    [
        ("0.5", "0.5"),
        ("0,5", "0.5"),
        ("1 1/2", "1.5"),
        ("27 min", "0.5"),
        ("90 min", "1.5"),
        ("1:15", "1.3"),
        ("1 h 15", "1.3"),
        ("2h", "2.0"),
        ("1:59", "2.0"),
        ("0:06", "0.1"),
    ],
)
def test_hours_at_the_bench_are_tenths(typed: str, hours: str) -> None:
    assert bench_hours(typed, "quantity") == Decimal(hours)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1:99", "“1:99” has 99 minutes beside its hours: an hour has 60"),
        ("1:60", "has 60 minutes beside its hours"),
        ("2 h 75 min", "has 75 minutes beside its hours"),
        ("0", "is not above zero"),
        ("1 min", "comes to 0.0 h: type hours such as 0.5, or minutes such as 27 min"),
        ("1000", "comes to 1000.0 h"),
        ("", "Nothing is typed"),
        ("long", "is not a quantity"),
    ],
)
def test_what_is_no_time_at_the_bench_is_said(typed: str, words: str) -> None:
    with pytest.raises(JobError, match=words) as caught:
        bench_hours(typed, "quantity")
    assert caught.value.field == "quantity"


def test_what_is_looked_for_is_one_clean_line_of_a_few_words() -> None:
    assert words_looked_for("  Mara \x07 Quill\n") == "Mara Quill"
    assert words_looked_for("") == words_looked_for("\u200b ") == ""
    assert words_looked_for("a " * 90) == " ".join("a" * MOST_WORDS)
    assert len(words_looked_for("x" * 10_000)) == 200


def test_a_day_of_another_age_is_a_slip() -> None:
    for typed in ("1/1/2130", "2036-04-08"):
        with pytest.raises(JobError, match="is over five years off: check the year") as caught:
            day(typed, "due_on", TODAY, day_first=False)
        assert caught.value.field == "due_on"
    assert day("2036-04-01", "due_on", TODAY, day_first=False) == date(2036, 4, 1)
    assert day("1/1/1990", "bought_on", TODAY, day_first=False, past=True) == date(1990, 1, 1)


def test_a_bare_number_that_is_more_than_a_long_day_is_asked_about() -> None:
    ask_which("10", "hours")
    ask_which("80 min", "hours")
    with pytest.raises(
        JobError, match="“80” could be minutes or hours: type 80 min, or 80 h"
    ) as no:
        ask_which("80", "hours")
    assert no.value.field == "hours"

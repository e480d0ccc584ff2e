"""Pictures laid out: bars in proportion, one scale, nothing outside, nothing over each other."""

from decimal import Decimal
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.job.reports.report import Bar, Bars, Kind, Picture, Strip, Strips
from shopdesk.papers.chart_layout import Box, Chart, Measure, Rule, Words, laid_out

LETTERS = Measure(10.0, lambda words, heavy: len(words) * (6.0 if heavy else 5.0))
WIDTH = 500.0
AMOUNTS = st.decimals(-10_000, 10_000, places=2)
LYING = st.lists(st.tuples(st.text("ab c", max_size=40), AMOUNTS), max_size=8).map(
    lambda bars: Bars("Title", tuple(Bar(label, amount, f"{amount}") for label, amount in bars))
)


@st.composite
def _standing(draw: st.DrawFn) -> Strips:
    labels = draw(st.integers(0, 40))
    amounts = st.lists(AMOUNTS, min_size=labels, max_size=labels).map(tuple)
    strips = draw(st.lists(st.builds(Strip, st.text("abc ", max_size=30), amounts), max_size=5))
    return Strips("Title", tuple(f"M{at}" for at in range(labels)), tuple(strips))


def _of(chart: Chart, kind: type) -> list[Box | Words | Rule]:
    return [mark for mark in chart.marks if isinstance(mark, kind)]


def _boxes(chart: Chart) -> list[Box]:
    return [mark for mark in chart.marks if isinstance(mark, Box)]


def _words(chart: Chart) -> list[Words]:
    return [mark for mark in chart.marks if isinstance(mark, Words)]


def _extent(words: Words) -> tuple[float, float]:
    wide = LETTERS.width(words.text, words.strong)
    left = words.x - {"start": 0.0, "middle": wide / 2, "end": wide}[words.anchor]
    return left, left + wide


@given(LYING | _standing())
def test_all_stands_inside(picture: Picture) -> None:
    chart = laid_out(picture, WIDTH, LETTERS)
    for box in _boxes(chart):
        assert box.width >= 0
        assert box.height >= 0
        assert box.x >= -0.01
        assert box.x + box.width <= WIDTH + 0.01
        assert box.y >= 0
        assert box.y + box.height <= chart.height + 0.01
    for words in _words(chart):
        left, right = _extent(words)
        assert left >= -0.01
        assert right <= WIDTH + 0.01
        assert 0 <= words.y <= chart.height


@given(LYING)
def test_lying_bars_are_in_proportion_and_below_zero_hollow(picture: Bars) -> None:
    boxes = _boxes(laid_out(picture, WIDTH, LETTERS))
    amounts = [bar.amount for bar in picture.bars if bar.amount]
    assert [box.hollow for box in boxes] == [amount < 0 for amount in amounts]
    for (one, box), (other, beside) in combinations(zip(amounts, boxes, strict=True), 2):
        assert box.width * float(abs(other)) == pytest.approx(beside.width * float(abs(one)))


@given(_standing())
def test_standing_bars_are_on_one_scale(picture: Strips) -> None:
    boxes = _boxes(laid_out(picture, WIDTH, LETTERS))
    amounts = [amount for strip in picture.strips for amount in strip.amounts if amount]
    assert [box.hollow for box in boxes] == [amount < 0 for amount in amounts]
    if amounts:
        largest = max(zip(map(abs, amounts), boxes, strict=True), key=lambda pair: pair[0])
        for amount, box in zip(amounts, boxes, strict=True):
            wanted = largest[1].height * float(abs(amount) / largest[0])
            assert box.height == pytest.approx(wanted, abs=0.01)


@given(_standing())
def test_the_words_under_a_strip_do_not_run_into_each_other(picture: Strips) -> None:
    chart = laid_out(picture, WIDTH, LETTERS)
    labels = sorted(_extent(words) for words in _words(chart) if words.text in picture.labels)
    for (_, right), (left, _) in pairwise(labels):
        assert right <= left + 0.01


def test_each_bar_has_its_name_and_its_words() -> None:
    picture = Bars("By age", (Bar("0 to 30 days", Decimal(5), "$5.00, 1 ticket"),))
    texts = [words.text for words in _words(laid_out(picture, WIDTH, LETTERS))]
    assert texts == ["By age", "0 to 30 days", "$5.00, 1 ticket"]


def test_numbers_over_the_bars_where_there_is_room() -> None:
    strip = Strip("Parts", (Decimal("1184.60"), Decimal("-20.00"), Decimal(0)))
    chart = laid_out(Strips("x", ("Jan", "Feb", "Mar"), (strip,)), WIDTH, LETTERS)
    assert [words.text for words in _words(chart)] == [
        "x",
        "Parts",
        "1,185",
        "-20",
        *("Jan", "Feb", "Mar"),
    ]


def test_only_the_largest_number_where_there_is_none() -> None:
    strip = Strip("Hours", tuple(Decimal(at) / 10 for at in range(60)))
    labels = tuple(f"Day {at}" for at in range(60))
    chart = laid_out(Strips("x", labels, (strip,), Kind.HOURS), WIDTH, LETTERS)
    numbers = [words.text for words in _words(chart) if words.text[0].isdigit()]
    assert numbers == ["5.9"]


def test_nothing_at_all() -> None:
    assert _of(laid_out(Bars("x", ()), WIDTH, LETTERS), Box) == []
    assert _of(laid_out(Strips("x", (), ()), WIDTH, LETTERS), Box) == []

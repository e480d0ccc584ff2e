"""Where points, limits and marks stand on a reading's picture."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shopdesk.job.reading_plot import plot_of
from tests.papers.history_samples import FALLING, course, point


def test_later_stands_farther_right_and_less_stands_lower() -> None:
    plot = plot_of(FALLING)
    xs, ys = [spot.x for spot in plot.spots], [spot.y for spot in plot.spots]
    assert xs == sorted(xs)
    assert ys == sorted(ys, reverse=True)
    assert [limit.words for limit in plot.limits] == ["130"]
    assert plot.limits[0].at < min(ys)


def test_where_it_reaches_its_limit_is_shown_on_the_limit() -> None:
    plot = plot_of(FALLING)
    assert plot.ahead is not None
    assert plot.ahead[0] > plot.spots[-1].x
    assert plot.ahead[1] == plot.limits[0].at


def test_a_crossing_far_off_is_left_to_the_words() -> None:
    far = replace(FALLING, crosses_on=FALLING.points[-1].on + timedelta(days=3000))
    assert plot_of(far).ahead is None


def test_a_single_reading_stands_in_the_middle() -> None:
    plot = plot_of(course(point(date(2027, 3, 14), "130")))
    assert [round(spot.x, 2) for spot in plot.spots] == [0.5]
    assert [round(spot.y, 2) for spot in plot.spots] == [0.5]


@given(
    st.lists(
        st.tuples(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 100_000)),
        min_size=1,
        max_size=12,
    )
)
def test_all_of_it_stands_within_the_picture(readings: list[tuple[date, int]]) -> None:
    points = [point(on, str(Decimal(value) / 1000)) for on, value in sorted(readings)]
    plot = plot_of(replace(course(*points), low=None))
    for place in [*(spot.x for spot in plot.spots), *(mark.at for mark in plot.days)]:
        assert 0 <= place <= 1
    for place in [*(spot.y for spot in plot.spots), *(mark.at for mark in plot.heights)]:
        assert 0 <= place <= 1
    assert 1 <= len(plot.heights) <= 6
    assert len(plot.days) <= 7

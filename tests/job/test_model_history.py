"""What fails on a model, at what age, and what it took."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.errors import JobError
from shopdesk.job.intake import TicketEntry
from shopdesk.job.model_history import what_fails_on_kind, what_fails_on_model
from shopdesk.job.shift import Shift
from tests.job.mended import mended
from tests.job.workshop import SAW, TRIMMER, taken_in


def test_the_commonest_cause_stands_first_with_what_it_took_in_the_middle(shift: Shift) -> None:
    for number, hours in enumerate(("0.5", "1", "3")):
        mended(shift, number, "bad-plug", hours=hours)
    mended(shift, 7, "air-filter")
    plug, filter_ = what_fails_on_model(shift, "TARNBECK", "tb 26")
    assert (plug.times, plug.hours, plug.parts, plug.came_back) == (
        3,
        Decimal("1.0"),
        Decimal("0.00"),
        0,
    )
    assert plug.total == Decimal("64.80")
    assert (filter_.times, filter_.years) == (1, None)


def test_the_age_is_told_where_the_day_it_was_bought_is_known(shift: Shift) -> None:
    mended(shift, 1, "bad-plug", replace(TRIMMER, bought_on="2029-04-07"))
    mended(shift, 2, "bad-plug", replace(TRIMMER, bought_on="2027-04-07"))
    mended(shift, 3, "bad-plug")
    (plug,) = what_fails_on_model(shift, "Tarnbeck", "TB-26")
    assert plug.years == Decimal("3.0")


def test_a_kind_takes_all_its_models_together(shift: Shift) -> None:
    mended(shift, 1, "bad-plug")
    mended(shift, 2, "bad-plug", replace(TRIMMER, model="TB-31"))
    mended(shift, 3, "bad-plug", SAW)
    assert [one.times for one in what_fails_on_kind(shift, "string trimmer")] == [2]


def test_what_came_back_is_counted(shift: Shift) -> None:
    first = mended(shift, 1, "bad-plug")
    taken_in(shift, first.owner.id, first.unit.id, TicketEntry("Same again."))
    assert [one.came_back for one in what_fails_on_model(shift, "Tarnbeck", "TB-26")] == [1]


def test_what_was_never_mended_here_has_no_list(shift: Shift) -> None:
    assert what_fails_on_model(shift, "Osmarrow", "OS 40") == ()
    with pytest.raises(JobError, match="No model is named"):
        what_fails_on_model(shift, "Osmarrow", "")

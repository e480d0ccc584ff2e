"""All that is remembered of a machine: its visits over all owners, and what it cost so far."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.errors import JobError
from shopdesk.job.customers import add_customer
from shopdesk.job.moving import send_back
from shopdesk.job.pickup import credit_invoice
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.unit_story import unit_story
from shopdesk.job.units import hand_on
from shopdesk.pricing.totals import ZERO
from tests.job.workshop import OTHER_OWNER, SHOP, Clock, at_stage, taken_in


def test_a_machine_that_was_never_charged_for_says_so(shift: Shift) -> None:
    story = unit_story(shift, taken_in(shift).unit.id)
    assert story.spend.words == "Nothing was charged for it here yet."
    assert (story.spend.total, story.spend.visits, story.hours) == (ZERO, 0, Decimal(0))
    assert [visit.charged for visit in story.visits] == [0]


def test_what_it_cost_stands_beside_the_price_of_a_new_one(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, prices_new={"string trimmer": Decimal("250.00")}))
    ticket = at_stage(shift, Stage.CLOSED)
    story = unit_story(shift, ticket.unit.id)
    assert story.spend.total == ticket.invoices[0].total == Decimal("84.67")
    assert story.spend.words == (
        "$84.67 so far, over one visit: 34% of the $250.00 that a new string trimmer costs "
        "by our guide."
    )
    (visit,) = story.visits
    assert (visit.hours, visit.parts) == (Decimal(1), ("Carburettor kit",))
    assert story.hours == 1


def test_what_was_credited_was_not_spent(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    send_back(shift, ticket.id, Stage.PICKUP, "wrong price")
    credit_invoice(shift, ticket.id, "wrong price")
    assert unit_story(shift, ticket.unit.id).spend.total == 0


def test_a_price_that_is_not_known_is_not_guessed(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    words = unit_story(shift, ticket.unit.id).spend.words
    assert words == "$84.67 so far, over one visit; what a new one costs is not written down."


def test_the_story_goes_over_all_owners(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    clock.forward(200)
    other = add_customer(shift, OTHER_OWNER)
    hand_on(shift, ticket.unit.id, other.id)
    clock.forward(30)
    taken_in(shift, other.id, ticket.unit.id)
    story = unit_story(shift, ticket.unit.id)
    assert [one.owner for one in story.owners] == ["Mara Quill", "Łukasz Brightwater"]
    assert story.owners[0].until == date(2031, 10, 24)
    assert [visit.owner for visit in story.visits] == ["Łukasz Brightwater", "Mara Quill"]
    assert [course.check_key for course in story.courses] == ["compression"]


def test_no_machine_no_story(shift: Shift) -> None:
    with pytest.raises(JobError, match="not in the records"):
        unit_story(shift, 99)

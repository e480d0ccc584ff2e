"""Several machines of one owner in one visit, and the terms that are named at the counter."""

from dataclasses import replace
from decimal import Decimal

from shopdesk.job.customers import CustomerEntry
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.visits import machines_here, terms_in_short, visit_slip, visit_tickets
from tests.job.workshop import SAW, SHOP, TRIMMER, Clock, at_stage, taken_in


def test_a_visit_is_what_one_owner_brought_on_one_day(shift: Shift, clock: Clock) -> None:
    first = taken_in(shift)
    second = taken_in(shift, first.owner.id, SAW)
    taken_in(shift, CustomerEntry("Ivo Tarn"), replace(TRIMMER, serial="77"))
    clock.forward(1)
    later = taken_in(shift, first.owner.id, replace(SAW, serial="78"))
    assert visit_tickets(shift, second.id) == (first.id, second.id)
    assert visit_tickets(shift, later.id) == (later.id,)


def test_the_slip_lists_the_visit_with_fee_and_terms(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, storage_per_day=Decimal("2.00"), storage_after_days=14))
    first = taken_in(shift)
    second = taken_in(shift, first.owner.id, SAW)
    slip = visit_slip(shift, second.id)
    assert [row.ticket for row in slip.rows] == [first.tag, second.tag]
    assert slip.owner.name == "Mara Quill"
    assert slip.rows[0].diagnosis_fee == Decimal("37.80")
    assert (slip.storage_per_day, slip.storage_after_days) == (Decimal("2.00"), 14)


def test_what_is_here_is_told_from_what_went_home(shift: Shift) -> None:
    closed = at_stage(shift, Stage.CLOSED)
    assert machines_here(shift, closed.owner.id) == frozenset()
    saw = taken_in(shift, closed.owner.id, SAW)
    assert machines_here(shift, closed.owner.id) == {saw.unit.id}


def test_the_terms_name_only_what_the_shop_asks() -> None:
    said = terms_in_short(SHOP)
    assert said.startswith("Finding the trouble costs $35.00 and its tax, owed even if")
    assert "Not fetched" not in said
    free = replace(SHOP, diagnosis_fee=Decimal(0), storage_per_day=Decimal("1.50"))
    assert terms_in_short(free) == (
        "Finding the trouble costs nothing if the repair is declined. "
        "Past what it may cost, or where nothing is said, we ask first. "
        "Not fetched: $1.50 a day from 30 days after it is ready."
    )
    assert "and its tax" not in terms_in_short(replace(SHOP, tax_included=True))

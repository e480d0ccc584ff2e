"""Whatever is made one and taken apart in between, the books stay sound and every card whole."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.audit import audit
from shopdesk.job.customers import CustomerEntry, change_customer
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.merging.apart import take_apart
from shopdesk.job.merging.machines import merge_machines
from shopdesk.job.merging.owners import merge_owners
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry, hand_on
from shopdesk.records.fetch import answers
from tests.job.workshop import Clock, open_shop

Ids = list[int]
Step = Callable[[Shift, int, int], object]


def ids(shift: Shift, table: str) -> Ids:
    with shift.records.reading():
        return [row_id for (row_id,) in answers(f'SELECT id FROM "{table}" ORDER BY id')]


def two_of(found: Ids, one: int, other: int) -> tuple[int, int]:
    return found[one % len(found)], found[other % len(found)]


def _taken_in(shift: Shift, one: int, other: int) -> object:
    owner, _ = two_of(ids(shift, "customer"), one, other)
    saw = UnitEntry("chain saw", "two-stroke", "Osmarrow", "OS 40", f"{one}-{other}")
    return take_in(shift, owner, saw, TicketEntry("Bogs."))


def _owners_one(shift: Shift, one: int, other: int) -> object:
    return merge_owners(shift, *two_of(ids(shift, "customer"), one, other))


def _machines_one(shift: Shift, one: int, other: int) -> object:
    return merge_machines(shift, *two_of(ids(shift, "unit"), one, other))


def _apart(shift: Shift, one: int, _other: int) -> object:
    found = ids(shift, "merge")
    return take_apart(shift, found[one % len(found)]) if found else None


def _handed_on(shift: Shift, one: int, other: int) -> object:
    unit, _ = two_of(ids(shift, "unit"), one, other)
    owner, _ = two_of(ids(shift, "customer"), other, one)
    return hand_on(shift, unit, owner)


def _phone_changed(shift: Shift, one: int, other: int) -> object:
    owner, _ = two_of(ids(shift, "customer"), one, other)
    phones = (f"555-01{one:02}", f"555-02{other:02}")
    entry = CustomerEntry(f"Owner {one}", phones, shared_phone=True)
    return change_customer(shift, owner, entry)


STEPS: tuple[Step, ...] = (
    _taken_in,
    _owners_one,
    _owners_one,
    _machines_one,
    _machines_one,
    _apart,
    _apart,
    _handed_on,
    _phone_changed,
)
steps = st.lists(
    st.tuples(st.sampled_from(STEPS), st.integers(0, 9), st.integers(0, 9)), min_size=4, max_size=14
)


@settings(max_examples=25, deadline=None)
@given(steps)
def test_in_any_order_the_books_stay_sound(taken: list[tuple[Step, int, int]]) -> None:
    with TemporaryDirectory() as folder:
        clock = Clock()
        shift = open_shop(Path(folder), clock)
        for name in ("Mara Quill", "Mara Quil", "Ivo Tarn"):
            trimmer = UnitEntry("string trimmer", "two-stroke", "Tarnbeck", "TB-26")
            take_in(
                shift,
                CustomerEntry(name, (f"555-{len(name):04}",), shared_phone=True),
                trimmer,
                TicketEntry("Dies."),
            )
        for step, one, other in taken:
            clock.forward(0.5)
            with suppress(JobError):
                step(shift, one, other)
        assert audit(shift).faults == ()
        open_ones = "SELECT unit_id FROM ownership WHERE until IS NULL ORDER BY unit_id"
        with shift.records.reading():
            assert [unit for (unit,) in answers(open_ones)] == ids_within("unit")
            assert not answers("PRAGMA foreign_key_check")
        shift.records.close()


def ids_within(table: str) -> Ids:
    return [row_id for (row_id,) in answers(f'SELECT id FROM "{table}" ORDER BY id')]

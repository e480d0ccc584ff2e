"""Whatever is typed into a text field is kept as it reads, or refused at the field, never half."""

import string
import unicodedata
from collections.abc import Callable
from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer, suggest_owners
from shopdesk.job.find import find_anything
from shopdesk.job.intake import TicketEntry, change_intake
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift
from tests.job.workshop import everything, taken_in

ANY_TEXT = st.text(st.characters(), max_size=80) | st.sampled_from(
    [
        "<b>&amp;</b>",
        "'; DROP TABLE ticket;--",
        "=1+1",
        "\u202eright to left",
        "مرحبا",
        "🪚\u200d🔥",
    ]
)
PER_SHOP = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


@PER_SHOP
@given(typed=ANY_TEXT)
def test_a_complaint_reads_as_it_was_typed(shift: Shift, typed: str) -> None:
    ticket = known_ticket(shift)
    kept = change_intake(shift, ticket, TicketEntry(f"x{typed}x")).complaint
    assert kept == open_ticket(shift, ticket).complaint
    assert visible(kept) == visible(f"x{typed}x")
    assert change_intake(shift, ticket, TicketEntry(kept)).complaint == kept
    kept.encode()


@PER_SHOP
@given(typed=ANY_TEXT, field=st.sampled_from(["quantity", "unit_price", "cost", "expected_on"]))
def test_a_number_or_day_is_kept_or_refused_at_its_field(
    shift: Shift, typed: str, field: str
) -> None:
    ticket = known_ticket(shift)
    clip = LineEntry("part", "Clip", unit_price="1", reason="worn")
    entry = replace(clip, **{field: typed})  # type: ignore[arg-type]
    before = everything(shift)
    error = refusal(lambda: add_line(shift, ticket, entry))
    if error is not None:
        assert error.field == field
        error.sentence.encode()
        assert everything(shift) == before


@PER_SHOP
@given(typed=ANY_TEXT)
def test_anything_may_be_looked_for(shift: Shift, typed: str) -> None:
    known_ticket(shift)
    assert isinstance(find_anything(shift, typed), tuple)


@PER_SHOP
@given(phone=st.text(string.printable, max_size=30))
def test_a_phone_is_kept_or_refused(shift: Shift, phone: str) -> None:
    entry = CustomerEntry("Mara", (phone,), shared_phone=True)
    error = refusal(lambda: add_customer(shift, entry))
    if error is not None:
        assert error.field == "phones"
        return
    owner = get_customer(shift, max(one.id for one in suggest_owners(shift, "mara", most=1000)))
    kept = "".join(f"{one.label}{one.number}" for one in owner.phones)
    assert visible(kept) == visible(phone)


def refusal(action: Callable[[], object]) -> JobError | None:
    """Return the error that ``action`` raised, if any."""
    try:
        action()
    except JobError as error:
        return error
    return None


def known_ticket(shift: Shift) -> int:
    """Return the one ticket of the shop, taken in the first time."""
    hits = find_anything(shift, "T1001")
    return hits[0].ticket_id or 0 if hits else taken_in(shift).id


def visible(text: str) -> str:
    """Return the letters and digits of ``text``, composed."""
    whole = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "ignore")
    return unicodedata.normalize("NFC", "".join(char for char in whole if char.isalnum()))

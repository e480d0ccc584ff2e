"""Somebody, or a machine, that is written down already: found while it is typed once more."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.job.alike import Name, is_same_street, postcodes
from shopdesk.job.customers import CustomerEntry, add_customer
from shopdesk.job.duplicates import like_machines, like_owners, machines_like, owners_like
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry, add_unit
from shopdesk.job.views import CustomerView
from tests.job.workshop import OTHER_OWNER, SAW, TRIMMER, everything

MARA = CustomerEntry(
    "Mara Quill", ("home (303) 555-0142",), "mara@example.com", "7 Orchard Row\nFernhollow 80401"
)


@pytest.fixture
def mara(shift: Shift) -> CustomerView:
    add_customer(shift, OTHER_OWNER)
    return add_customer(shift, MARA)


def found(shift: Shift, entry: CustomerEntry) -> list[tuple[str, tuple[str, ...]]]:
    return [(one.owner.name, one.why) for one in like_owners(shift, entry)]


@pytest.mark.parametrize(
    "phone", ["303 555 0142", "3035550142", "+1 303-555-0142", "work 555.0142", "(303)5550142"]
)
def test_the_same_phone_in_any_form(shift: Shift, mara: CustomerView, phone: str) -> None:
    assert found(shift, CustomerEntry("Somebody", (phone,))) == [("Mara Quill", ("same phone",))]


def test_a_few_digits_are_no_phone_yet(shift: Shift, mara: CustomerView) -> None:
    assert found(shift, CustomerEntry("", ("0142",))) == []


def test_the_same_mail_whatever_its_capitals(shift: Shift, mara: CustomerView) -> None:
    entry = CustomerEntry("", email=" Mara@Example.com ")
    assert found(shift, entry) == [("Mara Quill", ("same e-mail",))]
    assert found(shift, CustomerEntry("", email="")) == []


@pytest.mark.parametrize(
    "name", ["Mara Quill", "MARA QUILL", "Quill Mara", "Quill, Mara", "Mará Quil", "Mraa Quill"]
)
def test_a_name_alike_on_the_same_street(shift: Shift, mara: CustomerView, name: str) -> None:
    entry = CustomerEntry(name, address="7 orchard rd.")
    assert found(shift, entry) == [("Mara Quill", ("name alike, same street",))]


def test_a_name_alike_in_the_same_zip(shift: Shift, mara: CustomerView) -> None:
    entry = CustomerEntry("M. Quill", address="99 Elsewhere\nFernhollow 80401-1234")
    assert found(shift, entry) == [("Mara Quill", ("name alike, same ZIP",))]


def test_another_name_or_another_street_is_somebody_else(shift: Shift, mara: CustomerView) -> None:
    assert found(shift, CustomerEntry("Ivo Tarn", address=MARA.address)) == []
    assert found(shift, CustomerEntry("Mara Quill", address="9 Weir Street\nBend 97701")) == []


def test_the_same_name_where_no_address_tells_them_apart(shift: Shift, mara: CustomerView) -> None:
    assert found(shift, CustomerEntry("quill mara")) == [("Mara Quill", ("same name",))]


def test_who_is_alike_in_more_ways_comes_first(shift: Shift, mara: CustomerView) -> None:
    son = replace(MARA, name="Tam Quill", phones=("303 555 0142",), email="", shared_phone=True)
    add_customer(shift, son)
    first, second = like_owners(shift, MARA)
    assert first.owner == mara
    assert first.why == ("same phone", "same e-mail", "name alike, same street")
    assert second.why == ("same phone",)
    assert first.words.startswith("Mara Quill, (303) 555-0142, 7 Orchard Row (same phone, ")
    assert [one.owner.name for one in owners_like(shift, mara.id)] == ["Tam Quill"]


@pytest.mark.parametrize("serial", ["TB26-004417", "tb26004417", "TB26 004 417", "Tb26–004417"])
def test_the_same_serial_number_whatever_its_dashes(
    shift: Shift, mara: CustomerView, serial: str
) -> None:
    unit = add_unit(shift, mara.id, TRIMMER)
    (one,) = like_machines(shift, UnitEntry("", "", serial=serial), None)
    assert (one.unit, one.why) == (unit, ("same serial number",))
    assert one.words == (
        "String trimmer, Tarnbeck TB-26, serial TB26-004417, Mara Quill (same serial number)"
    )


def test_the_same_make_and_model_at_the_same_owner(shift: Shift, mara: CustomerView) -> None:
    unit = add_unit(shift, mara.id, TRIMMER)
    add_unit(shift, mara.id, SAW)
    typed = UnitEntry("trimmer", "", "TARNBECK", "tb 26")
    (one,) = like_machines(shift, typed, mara.id)
    assert (one.unit.id, one.why) == (unit.id, ("same make and model, same owner",))
    assert like_machines(shift, typed, None) == ()
    (slip,) = like_machines(shift, replace(typed, serial="TB26-004418"), mara.id)
    assert slip.unit.id == unit.id, "one sign of the serial number may be mistyped"
    assert like_machines(shift, replace(typed, serial="TB26-91"), mara.id) == ()


def test_a_machine_is_not_its_own_double(shift: Shift, mara: CustomerView) -> None:
    unit = add_unit(shift, mara.id, TRIMMER)
    assert machines_like(shift, unit.id) == ()
    twin = add_unit(shift, mara.id, replace(TRIMMER, serial=""))
    assert [one.unit.id for one in machines_like(shift, unit.id)] == [twin.id]


def test_looking_writes_nothing(shift: Shift, mara: CustomerView) -> None:
    before = everything(shift)
    like_owners(shift, MARA)
    like_machines(shift, TRIMMER, mara.id)
    assert everything(shift) == before


@given(name=st.text(max_size=60), address=st.text(max_size=80), phone=st.text(max_size=40))
def test_nothing_half_typed_raises(name: str, address: str, phone: str) -> None:
    assert Name(name).is_like(name) == bool(Name(name).words)
    postcodes(address)
    assert is_same_street(address, address) in (True, False)


@given(entry=st.builds(CustomerEntry, st.text(), st.tuples(st.text()), st.text(), st.text()))
def test_any_text_may_be_looked_for(entry: CustomerEntry) -> None:
    Name(entry.name).is_like("Mara Quill")
    is_same_street(entry.address, MARA.address)


@pytest.mark.parametrize("typed", ["%", "_", "\\", "100% Mara Quill", "'; DROP TABLE customer;--"])
def test_signs_mean_themselves(shift: Shift, mara: CustomerView, typed: str) -> None:
    entry = CustomerEntry(f"{typed} {typed}", (typed,), f"{typed}@x", f"{typed}\n{typed}")
    assert found(shift, entry) == []


@pytest.mark.parametrize(
    ("address", "code"),
    [
        ("7 Orchard Row\nFernhollow 80401", "80401"),
        ("12345 Long Road\nFernhollow, CO 80401-1234", "80401"),
        ("7 Orchard Row, Fernhollow 80401", "80401"),
        ("1 High Street\nBend SW1A 1AA", "sw1a1aa"),
        ("1 Main\nOttawa K1A 0B1", "k1a0b1"),
        ("Hauptstraße 5\n1010 Wien", "1010"),
    ],
)
def test_a_postcode_is_seen_in_an_address(address: str, code: str) -> None:
    assert postcodes(address) == {code}

"""Owners: written down, changed, and not written down twice."""

from dataclasses import replace

import pytest

from shopdesk.errors import StaleError
from shopdesk.job.customers import CustomerEntry, add_customer, change_customer, get_customer
from shopdesk.job.shift import Shift
from shopdesk.job.views import PhoneView
from tests.job.workshop import OTHER_OWNER, OWNER, everything, refused


def test_an_owner_is_kept_as_typed(shift: Shift) -> None:
    entry = CustomerEntry(
        "  Zoë   Đặng ",
        ("home: 555-0142", "", "+1 (303) 555-0143", "mobile, 555 0144"),
        "zoe@example.com",
        "7 Orchard Row\r\nFernhollow",
        "<b>cash</b> & carry",
        "EX-9",
        may_remind=False,
    )
    owner = add_customer(shift, entry)
    assert owner == get_customer(shift, owner.id)
    assert owner.name == "Zoë Đặng"
    assert owner.phones == (
        PhoneView("home", "555-0142"),
        PhoneView("", "+1 (303) 555-0143"),
        PhoneView("mobile", "555 0144"),
    )
    assert owner.address == "7 Orchard Row\nFernhollow"
    assert owner.notes == "<b>cash</b> & carry"
    assert (owner.tax_exempt_number, owner.may_remind) == ("EX-9", False)


@pytest.mark.parametrize("name", ["", "   ", "\t\n", "\u200b\u2060", "\x00\x07", "\ud800"])
def test_a_name_is_needed(shift: Shift, name: str) -> None:
    with refused(shift, "name", "The owner's name is empty: type it"):
        add_customer(shift, CustomerEntry(name))


@pytest.mark.parametrize(
    ("field", "change"),
    [
        ("name", {"name": "x" * 201}),
        ("address", {"address": "x" * 10_001}),
        ("notes", {"notes": "x" * 10_001}),
        ("tax_exempt_number", {"tax_exempt_number": "x" * 201}),
        ("email", {"email": "x" * 201}),
        ("phones", {"phones": ("5" * 201,)}),
    ],
)
def test_what_is_too_long_is_refused_at_its_field(
    shift: Shift, field: str, change: dict[str, object]
) -> None:
    with refused(shift, field, "characters long; keep it to", "put the rest in a note"):
        add_customer(shift, replace(OWNER, **change))  # type: ignore[arg-type]


@pytest.mark.parametrize("email", ["mara", "mara@", "@example.com", "mara quill@example.com"])
def test_what_is_no_address_of_mail_is_refused(shift: Shift, email: str) -> None:
    with refused(shift, "email", email, "type it like name@example.com, or leave it empty"):
        add_customer(shift, replace(OWNER, email=email))


@pytest.mark.parametrize("phone", ["call her", "12", "ext. ++", "(((", "🙂"])
def test_what_is_no_phone_is_refused(shift: Shift, phone: str) -> None:
    with refused(shift, "phones", "is no phone number: type its digits"):
        add_customer(shift, replace(OWNER, phones=(phone,)))


def test_one_phone_typed_twice_is_refused(shift: Shift) -> None:
    with refused(shift, "phones", "5550142 is typed twice: drop one"):
        add_customer(shift, replace(OWNER, phones=("555-0142", "home 555 0142")))


def test_more_phones_than_anyone_has_are_refused(shift: Shift) -> None:
    with refused(shift, "phones", "9 phones are too many: keep the best 8"):
        add_customer(shift, replace(OWNER, phones=tuple(f"555-010{n}" for n in range(9))))


def test_another_owners_phone_is_refused_until_it_is_shared(shift: Shift) -> None:
    add_customer(shift, OWNER)
    second = replace(OTHER_OWNER, phones=("(555) 0142",))
    with refused(shift, "phones", "Mara Quill's phone: choose that owner", "mark the phone"):
        add_customer(shift, second)
    household = add_customer(shift, replace(second, shared_phone=True))
    assert household.phones == (PhoneView("", "(555) 0142"),)


def test_a_shared_phone_that_is_kept_is_not_asked_about_again(shift: Shift) -> None:
    add_customer(shift, OWNER)
    shared = replace(OTHER_OWNER, phones=("555-0142",), shared_phone=True)
    owner = add_customer(shift, shared)
    moved = change_customer(shift, owner.id, replace(shared, shared_phone=False, address="Hill"))
    assert moved.address == "Hill"


def test_an_owner_keeps_their_own_phone_when_changed(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    changed = change_customer(shift, owner.id, replace(OWNER, phones=("555-0142", "555-0143")))
    assert [phone.number for phone in changed.phones] == ["555-0142", "555-0143"]
    assert changed == get_customer(shift, owner.id)


def test_a_change_to_anothers_phone_is_refused(shift: Shift) -> None:
    add_customer(shift, OWNER)
    other = add_customer(shift, OTHER_OWNER)
    with refused(shift, "phones", "Mara Quill's phone"):
        change_customer(shift, other.id, replace(OTHER_OWNER, phones=("555-0142",)))


def test_a_change_of_nothing_writes_nothing(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    before = everything(shift)
    assert change_customer(shift, owner.id, OWNER, owner.version) == owner
    assert everything(shift) == before


def test_a_change_over_someone_elses_change_is_refused(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    change_customer(shift, owner.id, replace(OWNER, notes="dog"), owner.version)
    with pytest.raises(StaleError, match="changed elsewhere meanwhile: open it again"):
        change_customer(shift, owner.id, replace(OWNER, notes="cat"), owner.version)
    assert get_customer(shift, owner.id).notes == "dog"


def test_an_owner_that_is_gone_is_said(shift: Shift) -> None:
    with refused(shift, "customer", "find them again"):
        get_customer(shift, 77)
    with refused(shift, "customer", "find them again"):
        change_customer(shift, 77, OWNER)


@pytest.mark.parametrize(
    "name",
    [
        "Robert'); DROP TABLE customer;--",
        '=HYPERLINK("http://example.com")',
        '"Quill, Mara";;\t',
        "مارا كويل",
        "🪚 Мара Ὀδυσσεύς Nguyễn",
        "<b>Mara</b> & <i>",
        "%_\\",
    ],
)
def test_a_name_is_kept_to_the_letter(shift: Shift, name: str) -> None:
    assert add_customer(shift, CustomerEntry(name)).name == name.strip()


@pytest.mark.parametrize("typed", ["exempt", "yes", "n/a"])
def test_nobody_is_exempt_without_a_certificate_number(shift: Shift, typed: str) -> None:
    with refused(shift, "tax_exempt_number", "is no certificate number: type the number"):
        add_customer(shift, replace(OWNER, tax_exempt_number=typed))

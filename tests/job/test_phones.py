"""Phones: a label and one number, and when two numbers are one phone."""

from dataclasses import replace

import pytest

from shopdesk.errors import JobError
from shopdesk.job.customers import add_customer, change_customer, suggest_owners
from shopdesk.job.find import find_anything
from shopdesk.job.phones import is_same_phone, split_label
from shopdesk.job.shift import Shift
from tests.job.workshop import OTHER_OWNER, OWNER, refused


@pytest.mark.parametrize(
    ("typed", "label", "number"),
    [
        ("555-0142", "", "555-0142"),
        ("home: (303) 555-0142", "home", "(303) 555-0142"),
        ("work +1 303 555 0142", "work", "+1 303 555 0142"),
        ("555-0142 ext. 12345", "", "555-0142 ext. 12345"),
        ("555-0142 x12345", "", "555-0142 x12345"),
        ("555-0142 after 5 pm", "", "555-0142 after 5 pm"),
        ("mobile, 555-0142 (her son)", "mobile", "555-0142 (her son)"),
    ],
)
def test_a_phone_is_a_label_and_a_number(typed: str, label: str, number: str) -> None:
    assert split_label(typed, "phones") == (label, number)


@pytest.mark.parametrize(
    "typed",
    [
        "home 555-0143 work 555-0144",
        "555-0143 / 555-0144",
        "555-0143, 555-0144",
        "555-0143; 555-0144",
        "555-0143 or 555-0144",
    ],
)
def test_two_phones_are_typed_one_by_one(typed: str) -> None:
    with pytest.raises(JobError, match="is more than one phone: type each by itself"):
        split_label(typed, "phones")


def test_more_digits_than_any_phone_has_are_refused() -> None:
    with pytest.raises(JobError, match=r"“5555.*…” has 150 digits, and no phone has more than 20"):
        split_label("5" * 150, "phones")
    assert split_label("5" * 20, "phones") == ("", "5" * 20)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("5550142", "5550142", True),
        ("5550142", "3035550142", True),
        ("13035550142", "5550142", True),
        ("3035550142", "3045550142", False),
        ("550142", "5550142", False),
        ("550142", "550142", True),
        ("5550142", "55501421", False),
    ],
)
def test_the_shorter_number_ends_the_longer_of_the_same_phone(
    one: str, other: str, same: bool
) -> None:
    assert is_same_phone(one, other) is is_same_phone(other, one) is same


@pytest.mark.parametrize("known", ["555-0142", "(303) 555-0142"])
@pytest.mark.parametrize("typed", ["555-0142", "+1 (303) 555-0142"])
def test_a_phone_with_its_codes_is_known_without_them(shift: Shift, known: str, typed: str) -> None:
    owner = add_customer(shift, replace(OWNER, phones=(known,)))
    with refused(shift, "phones", f"{typed} is already Mara Quill's phone"):
        add_customer(shift, replace(OTHER_OWNER, phones=(typed,)))
    assert [one.id for one in suggest_owners(shift, typed)] == [owner.id]
    assert [hit.customer_id for hit in find_anything(shift, typed)] == [owner.id]


def test_phones_of_other_codes_are_other_phones(shift: Shift) -> None:
    add_customer(shift, replace(OWNER, phones=("(303) 555-0142",)))
    other = add_customer(shift, replace(OTHER_OWNER, phones=("(304) 555-0142",)))
    with refused(shift, "phones", "is already Mara Quill's phone"):
        change_customer(shift, other.id, replace(OTHER_OWNER, phones=("1-303-555-0142",)))


def test_one_phone_typed_with_and_without_its_code_is_typed_twice(shift: Shift) -> None:
    with refused(shift, "phones", "5550142 is typed twice: drop one"):
        add_customer(shift, replace(OWNER, phones=("555-0142", "home (303) 555-0142")))


def test_an_owner_is_offered_by_three_last_digits_and_not_by_fewer(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    assert [one.id for one in suggest_owners(shift, "142")] == [owner.id]
    for few in ("42", "2"):
        assert suggest_owners(shift, few) == ()

"""Phones, e-mail and addresses set out tidily; nothing foreign is touched, nothing is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.job.tidy import Tidied, tidy_address, tidy_email, tidy_phones
from shopdesk.text import digits


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("5550142", "555-0142"),
        ("303 555 0142", "303-555-0142"),
        ("home 3035550142", "home 303-555-0142"),
        ("13035550142", "1-303-555-0142"),
        ("(303) 555-0142", "(303) 555-0142"),
        ("555-0142 x12", "555-0142 x12"),
        ("+44 20 7946 0018", "+44 20 7946 0018"),
        ("call her", "call her"),
        ("5550142\nwork 5550143\n", "555-0142\nwork 555-0143"),
    ],
)
def test_bare_digits_are_set_out_and_the_rest_stays(typed: str, shown: str) -> None:
    assert tidy_phones(typed, "US") == Tidied(shown)


@pytest.mark.parametrize("country", ["DE", "GB", "PL"])
def test_another_countrys_numbers_are_left_alone(country: str) -> None:
    assert tidy_phones("3035550142\n12345", country) == Tidied("3035550142\n12345")


def test_a_number_with_a_digit_missing_is_asked_about() -> None:
    assert tidy_phones("303555014", "US") == Tidied(
        "303555014", "303555014 has 9 digits: is it whole?"
    )


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        (" mara@Example.COM ", "mara@example.com"),
        ("mailto:Mara@example.com", "Mara@example.com"),
        ("<mara@example.com>,", "mara@example.com"),
        ("żółw@przykład.pl", "żółw@przykład.pl"),
        ("no address", "no address"),
        ("", ""),
    ],
)
def test_an_address_of_mail_is_freed_of_what_surrounds_it(typed: str, shown: str) -> None:
    assert tidy_email(typed) == Tidied(shown)


def test_a_domain_without_a_dot_is_asked_about() -> None:
    assert tidy_email("mara@example").doubt == "“example” has no dot: is the address whole?"


@pytest.mark.parametrize(
    ("country", "typed", "shown"),
    [
        (
            "US",
            "7  Orchard Row \nFernhollow CO 804011234",
            "7 Orchard Row\nFernhollow CO 80401-1234",
        ),
        ("US", "Bend, OR 97701", "Bend, OR 97701"),
        ("CA", "1 Main\nOttawa ON k1a0b1", "1 Main\nOttawa ON K1A 0B1"),
        ("DE", "Mühlweg 7\n80401 Tannau", "Mühlweg 7\n80401 Tannau"),
        ("US", "Mühlweg 7\n1010 Wien", "Mühlweg 7\n1010 Wien"),
    ],
)
def test_a_zip_is_written_as_it_is_in_the_shops_country(
    country: str, typed: str, shown: str
) -> None:
    assert tidy_address(typed, country) == Tidied(shown)


def test_a_zip_with_a_digit_missing_is_asked_about() -> None:
    assert tidy_address("Fernhollow CO 8040", "US").doubt == (
        "The ZIP 8040 has 4 digits: is it whole?"
    )


@given(st.text(max_size=120), st.sampled_from(["US", "CA", "DE"]))
def test_no_digit_is_lost_and_tidying_twice_changes_nothing(typed: str, country: str) -> None:
    for tidy in (tidy_phones, tidy_address):
        once = tidy(typed, country).text
        assert digits(once) == digits(typed)
        assert tidy(once, country).text == once
    mail = tidy_email(typed).text
    assert tidy_email(mail).text == mail

"""The e-mail draft: a message any mail program reads, the letter in it whole."""

from dataclasses import replace
from datetime import UTC, datetime
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from io import BytesIO

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from shopdesk.errors import JobError
from shopdesk.job.due_content import UpkeepMessage
from shopdesk.job.typed import email
from shopdesk.papers.mail_draft import mail_draft
from shopdesk.papers.upkeep_letter import draw_upkeep_letter
from tests.papers.samples import OWNER, SHOP, WORDS
from tests.papers.upkeep_samples import AGAIN, ONE, THREE

MADE = datetime(2028, 2, 21, 15, 4, 5, tzinfo=UTC)
LETTER = draw_upkeep_letter(THREE, WORDS).pdf


def read(content: UpkeepMessage, letter: bytes = LETTER) -> EmailMessage:
    message = message_from_bytes(mail_draft(content, letter, WORDS, MADE), policy=default)
    assert isinstance(message, EmailMessage)
    return message


def body_of(message: EmailMessage) -> str:
    part = message.get_body(("plain",))
    assert part is not None
    return str(part.get_content()).replace("\r\n", "\n")


def test_it_opens_for_sending_with_all_heads_filled() -> None:
    message = read(THREE)
    assert message.defects == []
    assert message["X-Unsent"] == "1"
    (to,) = message["To"].addresses
    assert (to.display_name, to.addr_spec) == ("Zoë Łukaszewicz-Đặng", "zoe@example.com")
    (sender,) = message["From"].addresses
    assert sender.addr_spec == "bench@fernhollow.example.com"
    assert message["Date"].datetime == MADE
    assert message["Subject"] == (
        "Upkeep due for your string trimmer, Tarnbeck TB-26; chain saw, Osmarrow OS 40 "
        "and push mower, Tarnbeck TM-46"
    )


def test_the_text_says_what_is_due() -> None:
    text = body_of(read(THREE))
    for item in (
        "Dear Zoë Łukaszewicz-Đặng,",
        "Chain saw, Osmarrow OS 40:\n- Clean the air filter (Thu 15 Jun 2028)",
        "In the week of Mon 6 Mar 2028 we have room",
        "call 555-0142",
        "Fernhollow Small Engines\n14 Millrace Lane",
    ):
        assert item in text


def test_a_second_one_is_gentler() -> None:
    message = read(AGAIN)
    assert str(message["Subject"]).startswith("Once more: upkeep for your string trimmer")
    assert "Some weeks ago we wrote to you" in body_of(message)
    assert "In the week of" not in body_of(message)


def test_the_letter_in_it_is_whole() -> None:
    message = read(THREE)
    (attached,) = message.iter_attachments()
    assert isinstance(attached, EmailMessage)
    assert attached.get_content_type() == "application/pdf"
    assert attached.get_filename() == "Upkeep 2028-02-21.pdf"
    assert attached.get_content() == LETTER
    assert (
        "Upkeep that falls due"
        in PdfReader(BytesIO(attached.get_content())).pages[0].extract_text()
    )


def test_a_shop_without_an_address_leaves_the_sender_to_the_mail_program() -> None:
    message = read(replace(ONE, shop=replace(SHOP, email="")))
    assert message["From"] is None
    assert message["To"]


def test_lines_end_and_are_folded_as_mail_has_them() -> None:
    """RFC 5322, 2.1.1: lines end with CRLF and hold at most 998 characters, 78 where it can be."""
    file = mail_draft(THREE, LETTER, WORDS, MADE)
    assert b"\n" not in file.replace(b"\r\n", b"")
    assert max(map(len, file.split(b"\r\n"))) <= 998
    assert max(len(line) for line in file.split(b"\r\n\r\n")[0].split(b"\r\n")) <= 78


@pytest.mark.parametrize("typed", ["ü@example.com", "a,b@example.com", "<a>@example.com", "a@b..c"])
def test_an_address_that_no_mail_goes_to_is_said(typed: str) -> None:
    with pytest.raises(JobError, match="is no address that an e-mail can go to") as caught:
        read(replace(ONE, owner=replace(OWNER, email=typed)))
    assert caught.value.field == "email"


def test_a_domain_in_other_letters_is_written_as_mail_needs_it() -> None:
    (to,) = read(replace(ONE, owner=replace(OWNER, email="zoe@mühle.example")))["To"].addresses
    assert to.addr_spec == "zoe@xn--mhle-0ra.example"


@settings(max_examples=60, deadline=None)
@given(
    name=st.text(max_size=60), typed=st.text(max_size=40).map(lambda part: f"{part}@example.com")
)
def test_nothing_typed_can_add_a_head_or_another_address(name: str, typed: str) -> None:
    try:
        address = email(typed, "email")
    except JobError:
        assume(False)
    owner = replace(OWNER, name=name or "x", email=address)
    try:
        message = read(replace(ONE, owner=owner), b"%PDF")
    except JobError:
        return
    heads = set(message.keys())
    assert heads == {"X-Unsent", "Date", "To", "From", "Subject", "Content-Type", "MIME-Version"}
    assert len(message["To"].addresses) == 1
    assert message["To"].addresses[0].domain == "example.com"

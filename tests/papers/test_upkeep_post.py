"""Many messages at once: one PDF of letters, one of cards, drafts in a folder, a list to call."""

from dataclasses import replace
from datetime import UTC, datetime
from email import message_from_bytes
from email.policy import default
from io import BytesIO
from pathlib import Path

from pypdf import PdfReader

from shopdesk.job.due_content import UpkeepMessage
from shopdesk.papers.upkeep_letter import draw_upkeep_letter
from shopdesk.papers.upkeep_post import UpkeepPost
from tests.papers.reading import page_texts, text_of
from tests.papers.samples import OWNER, SHOP, WORDS
from tests.papers.upkeep_samples import AGAIN, ONE, THREE

MADE = datetime(2028, 2, 21, 15, 4, 5, tzinfo=UTC)


def to(name: str, content: UpkeepMessage = ONE) -> UpkeepMessage:
    return replace(content, owner=replace(OWNER, name=name))


def test_letters_follow_each_other_in_one_file(tmp_path: Path) -> None:
    post = UpkeepPost(WORDS, tmp_path)
    for number in range(12):
        post.add(to(f"Owner {number}", THREE if number % 3 else ONE), "letter", number, MADE)
    printed = post.letters.printed("Letters")
    alone = sum(draw_upkeep_letter(one, WORDS).pages for one in (ONE, THREE, THREE)) * 4
    assert (post.letters.papers, printed.pages, len(page_texts(printed))) == (12, alone, alone)
    firsts = [text for text in page_texts(printed) if "Page 1 of" in text]
    assert [text.partition("Dear ")[2].partition(",")[0] for text in firsts] == [
        f"Owner {number}" for number in range(12)
    ]
    metadata = PdfReader(BytesIO(printed.pdf)).metadata
    assert metadata
    assert metadata.title == "Letters"


def test_characters_that_cant_be_printed_are_gathered(tmp_path: Path) -> None:
    post = UpkeepPost(WORDS, tmp_path)
    for name in ("Zoë \N{SNOWMAN}", "\N{SNOWMAN} and \N{HEBREW LETTER ALEF}"):
        post.add(to(name), "letter", 1, MADE)
    assert post.letters.printed("").missing == ("\N{SNOWMAN}", "\N{HEBREW LETTER ALEF}")


def test_each_goes_its_way(tmp_path: Path) -> None:
    post = UpkeepPost(WORDS, tmp_path / "mails")
    for number, way in enumerate(("letter", "postcard", "e-mail", "phone", "text", "e-mail")):
        post.add(to(f"Owner/{number}"), way, number, MADE)
    assert (post.letters.papers, post.cards.papers, len(post.calls)) == (1, 1, 2)
    assert [file.name for file in post.mails] == ["Owner 2 2.eml", "Owner 5 5.eml"]
    for file in post.mails:
        message = message_from_bytes(file.read_bytes(), policy=default)
        assert message["X-Unsent"] == "1"
    assert post.cards.printed("Cards").pages == 1
    assert post.troubles == []


def test_two_owners_of_one_name_have_a_draft_each(tmp_path: Path) -> None:
    post = UpkeepPost(WORDS, tmp_path)
    for number in (7, 8):
        post.add(ONE, "e-mail", number, MADE)
    assert len(set(post.mails)) == len(list(tmp_path.glob("*.eml"))) == 2


def test_an_address_that_no_mail_goes_to_stops_nobody_else(tmp_path: Path) -> None:
    post = UpkeepPost(WORDS, tmp_path)
    wrong = replace(ONE, owner=replace(OWNER, email="a,b@example.com"))
    for number, content in enumerate((wrong, ONE)):
        post.add(content, "e-mail", number, MADE)
    assert len(post.mails) == 1
    assert post.troubles == [
        "“a,b@example.com” (Zoë Łukaszewicz-Đặng) is no address that an e-mail can go to: "
        "put it right first."
    ]


def test_the_list_to_call_says_whom_and_why(tmp_path: Path) -> None:
    post = UpkeepPost(WORDS, tmp_path)
    post.add(THREE, "phone", 1, MADE)
    post.add(to("Mara Quill", AGAIN), "text", 2, MADE)
    text = text_of(post.call_list(SHOP, ONE.on))
    for item in (
        "To call about upkeep",
        "Zoë Łukaszewicz-Đặng",
        "555-0117",
        "555-0118",
        "Chain saw, Osmarrow OS 40, about Wed 1 Mar 2028",
        "Room in the week of Mon 6 Mar 2028",
        "Mara Quill",
        "by text, second time",
    ):
        assert item in text

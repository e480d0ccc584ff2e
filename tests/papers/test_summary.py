import struct
import zlib
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image

from shopdesk.job.paper_content import CreditRow
from shopdesk.papers.summary import draw_summary
from shopdesk.papers.words import Words
from tests.papers.reading import letters_outside, page_texts, picture_shapes, text_of
from tests.papers.samples import SUMMARY, WORDS, with_photos


@pytest.mark.parametrize(
    "item",
    [
        "Work performed and why",
        "All of it came to $124.00 with tax",
        "Yes: it started cold and died",
        "Needle pop-off",
        "6 psi",
        "10 to 18 psi [1]",
        "not good",
        "14 psi: good",
        "borderline",
        "So the ignition is in order.",
        "The cylinder holds.",
        "[2] common practice, scaled by the US Standard Atmosphere 1976",
        "Why: failed. The needle leaked at 6 psi, limit 10.",
        "Cracked at one ear. It still holds",
        "0.012 in",
        "2 pulls",
        "Tue 15 Jun 2027 Clean the air filter",
        "Why then: about 25 h of use",
        "Caution: Never run the engine indoors",
        "The maker's manual for your machine, local codes and licensed practice come first",
        "diaphragm: a thin flexible sheet",
    ],
)
def test_the_summary_says(item: str) -> None:
    done = (*SUMMARY.done, replace(SUMMARY.done[0], what="Diaphragm renewed"))
    not_done = (replace(SUMMARY.not_done[0], why="Cracked at one ear"),)
    assert item in text_of(draw_summary(replace(SUMMARY, done=done, not_done=not_done), WORDS))


def test_failed_and_preventive_stand_apart() -> None:
    text = text_of(draw_summary(SUMMARY, WORDS))
    order = [
        "Mended because it had failed",
        "Fuel line renewed",
        "Renewed or serviced though it had not failed",
        "Spark plug renewed",
        "Offered, and not done",
        "New guard",
        "How we left it set",
        "How we know that it runs",
        "What to do next, and when",
        "You can do these yourself",
        "Run it dry before winter",
        "Better left to us",
        "Renew the fuel filter",
        "Take care",
    ]
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_only_the_trade_words_used_are_explained() -> None:
    text = text_of(draw_summary(SUMMARY, WORDS))
    assert "compression: how hard" in text
    assert "valve lash:" not in text


def test_many_trade_words_run_over_pages_in_two_columns() -> None:
    terms = {f"compression{n}": "squeezes. " * 40 for n in range(60)}
    words = Words({**WORDS.papers, "terms": terms})
    note = replace(SUMMARY.found[0], note=" ".join(terms))
    printed = draw_summary(replace(SUMMARY, found=(note,)), words)
    assert text_of(printed).count("squeezes.") == 60 * 40
    assert letters_outside(printed, 28) == []


def test_where_limits_come_from_and_the_trade_words_stay_together() -> None:
    for count in range(1, 12):
        pages = page_texts(draw_summary(replace(SUMMARY, proof=SUMMARY.proof * count), WORDS))
        (last,) = (page for page in pages if "Where the limits come from" in page)
        assert "Words used on this paper" in last
        assert "turns of the engine" in last


def test_what_is_due_already_is_due_now() -> None:
    due = replace(SUMMARY.next_steps[0], on=SUMMARY.on)
    text = text_of(draw_summary(replace(SUMMARY, next_steps=(due,)), WORDS))
    assert "Now Clean the air filter" in text
    assert "13 Mar 2027 Clean" not in text


def test_a_machine_returned_as_it_came() -> None:
    bare = replace(
        SUMMARY, returned_as_is=True, found=(), done=(), settings=(), proof=(), next_steps=()
    )
    text = text_of(draw_summary(bare, WORDS))
    assert "Caution: Your machine goes back as it came" in text
    assert "Nothing was measured" in text
    assert "How we left it set" not in text
    assert "What to do next" not in text


def test_no_second_reading_no_column_for_it() -> None:
    once = tuple(replace(row, after="", verdict_after="") for row in SUMMARY.found)
    assert "After our work" not in text_of(draw_summary(replace(SUMMARY, found=once), WORDS))


def test_photos_keep_their_shape_and_a_lost_one_is_named(tmp_path: Path) -> None:
    files = []
    for name, size in (("wide", (400, 200)), ("tall", (200, 400))):
        files.append(tmp_path / f"{name}.jpg")
        Image.new("RGB", size, "grey").save(files[-1])
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(files[0].read_bytes()[:200])
    printed = draw_summary(with_photos([*files, broken, tmp_path / "gone.png"]), WORDS)
    text = text_of(printed)
    assert "Photo 1: wide" in text
    assert "The photo “Photo 3: broken” could not be read." in text
    assert "The photo “Photo 4: gone” could not be read." in text
    shapes = picture_shapes(printed)
    assert [round(width / height, 2) for width, height in shapes] == [2.0, 0.5]
    assert all(width <= 260 and height <= 171 for width, height in shapes)


def test_a_photo_with_too_many_pixels_is_named_not_loaded(tmp_path: Path) -> None:
    head = b"IHDR" + struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    file = tmp_path / "vast.png"
    size_and_check = struct.pack(">I", 13), struct.pack(">I", zlib.crc32(head))
    file.write_bytes(b"\x89PNG\r\n\x1a\n" + size_and_check[0] + head + size_and_check[1])
    assert "could not be read" in text_of(draw_summary(with_photos([file]), WORDS))


def test_thirty_findings_repeat_their_head() -> None:
    many = replace(SUMMARY, found=SUMMARY.found * 6)
    pages = page_texts(draw_summary(many, WORDS))
    assert sum("What we looked at" in page for page in pages) >= 2
    assert sum(page.count("Needle pop-off") for page in pages) == 6


@pytest.mark.parametrize(
    ("owed", "words"),
    [
        ("0.00", "All of it came to $124.00 with tax, and is paid"),
        ("84.00", "All of it came to $124.00 with tax; $84.00 is still to pay"),
    ],
)
def test_it_says_whether_it_is_paid(owed: str, words: str) -> None:
    assert words in text_of(draw_summary(replace(SUMMARY, owed=Decimal(owed)), WORDS))


def test_a_credit_is_told_at_the_sum_and_at_its_line() -> None:
    done = (replace(SUMMARY.done[0], credited="the kit was faulty."), *SUMMARY.done[1:])
    credits = (CreditRow(Decimal("19.87"), "the kit was faulty."),)
    text = text_of(draw_summary(replace(SUMMARY, done=done, credits=credits), WORDS))
    assert "That is after a credit of $19.87: the kit was faulty." in text
    assert text.count("Credited: the kit was faulty.") == 1
    assert "Credited" not in text_of(draw_summary(SUMMARY, WORDS))

"""What holds for each paper: size, feet, properties, sameness, long and hostile contents."""

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from shopdesk.papers.bench_sheet import draw_bench_sheet
from shopdesk.papers.claim_tag import draw_tag
from shopdesk.papers.estimate import draw_estimate
from shopdesk.papers.invoice import draw_invoice
from shopdesk.papers.options import draw_options
from shopdesk.papers.printed import Printed
from shopdesk.papers.reminder import draw_reminder
from shopdesk.papers.summary import draw_summary
from shopdesk.papers.upkeep_letter import draw_upkeep_letter
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import (
    BENCH,
    CHARGES,
    CREDIT,
    ESTIMATE,
    INVOICE,
    OWNER,
    REMINDER,
    SHOP,
    SHOP_A4,
    SUMMARY,
    TAG,
    WORDS,
    totals,
)
from tests.papers.upkeep_samples import THREE, TRIMMER_DUE
from tests.papers.ways_out import SHEET, WAYS_OUT

Draw = Callable[..., Printed]

PAPERS: dict[str, tuple[Draw, Any]] = {
    "tag": (draw_tag, TAG),
    "estimate": (draw_estimate, ESTIMATE),
    "invoice": (draw_invoice, INVOICE),
    "credit": (draw_invoice, CREDIT),
    "summary": (draw_summary, SUMMARY),
    "reminder": (draw_reminder, REMINDER),
    "upkeep letter": (draw_upkeep_letter, THREE),
    "bench": (draw_bench_sheet, BENCH),
    "ways out": (draw_options, SHEET),
    "estimate with ways out": (draw_estimate, replace(ESTIMATE, ways_out=WAYS_OUT)),
}
LONG = ("word <b>&amp; žluťoučký " * 450)[:10_000]
FORTY = tuple(
    replace(
        CHARGES[index % 5],
        description=f"Line {index}. " + "LONGPARTNAME" * (20 if index % 7 == 3 else 0),
        part_number="PN" * (60 if index % 5 == 1 else 2),
    )
    for index in range(40)
)
LONG_PAPERS: dict[str, tuple[Draw, Any]] = {
    "estimate": (
        draw_estimate,
        replace(ESTIMATE, rows=FORTY, totals=totals(FORTY), found=(LONG,)),
    ),
    "invoice": (
        draw_invoice,
        replace(INVOICE, rows=FORTY, totals=totals(FORTY), complaint=LONG),
    ),
    "one endless line": (
        draw_invoice,
        replace(INVOICE, rows=(replace(CHARGES[0], description="W" * 3000, evidence=LONG),)),
    ),
    "endless names": (
        draw_invoice,
        replace(INVOICE, owner=replace(OWNER, name="W" * 900, address=("W" * 900,))),
    ),
    "summary": (
        draw_summary,
        replace(
            SUMMARY,
            found=tuple(replace(row, note="note " * 90) for row in SUMMARY.found * 6),
            done=(replace(SUMMARY.done[0], why=LONG),),
            cautions=(LONG,),
        ),
    ),
    "reminder": (
        draw_reminder,
        replace(REMINDER, tasks=tuple(replace(task, words=LONG) for task in REMINDER.tasks)),
    ),
    "upkeep letter": (
        draw_upkeep_letter,
        replace(
            THREE,
            machines=(replace(TRIMMER_DUE, cautions=(LONG,), each_use=(LONG,)),) * 5,
            owner=replace(OWNER, name="W" * 900, address=("W" * 900,) * 9),
        ),
    ),
    "bench": (
        draw_bench_sheet,
        replace(
            BENCH,
            complaint=LONG,
            checks=(replace(BENCH.checks[0], title=LONG, how=LONG),) + BENCH.checks * 12,
            teardown=tuple(replace(row, mark=LONG, routing="W" * 900) for row in BENCH.teardown),
            reassembly=tuple(replace(row, care=(LONG,)) for row in BENCH.reassembly),
        ),
    ),
}
each_paper = pytest.mark.parametrize(("draw", "content"), PAPERS.values(), ids=PAPERS)
each_long = pytest.mark.parametrize(("draw", "content"), LONG_PAPERS.values(), ids=LONG_PAPERS)


@each_paper
@pytest.mark.parametrize(
    ("shop", "size"), [(SHOP, (612, 792)), (SHOP_A4, (595, 842))], ids=["letter", "A4"]
)
def test_every_page_has_the_shops_size(
    draw: Draw, content: Any, shop: Any, size: tuple[int, int]
) -> None:
    printed = draw(replace(content, shop=shop), WORDS)
    pages = PdfReader(BytesIO(printed.pdf)).pages
    assert len(pages) == printed.pages
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in pages} == {size}


@each_paper
def test_another_paper_size_is_refused(draw: Draw, content: Any) -> None:
    with pytest.raises(ValueError, match="choose letter or A4"):
        draw(replace(content, shop=replace(SHOP, paper="legal")), WORDS)


@each_paper
def test_the_same_content_makes_the_same_bytes(draw: Draw, content: Any) -> None:
    assert draw(content, WORDS).pdf == draw(content, WORDS).pdf


@each_paper
def test_the_file_says_what_it_is(draw: Draw, content: Any) -> None:
    reader = PdfReader(BytesIO(draw(content, WORDS).pdf))
    assert reader.metadata
    assert reader.metadata.author == "Fernhollow Small Engines"
    assert reader.metadata.title
    assert "String trimmer" in str(reader.metadata.subject)
    assert str(reader.root_object["/Lang"]) == "en"


@each_paper
def test_every_letter_is_inside_the_file(draw: Draw, content: Any) -> None:
    reader = PdfReader(BytesIO(draw(content, WORDS).pdf))
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            name = font.get_object()["/BaseFont"]
            assert "Roboto" in name or name == "/Helvetica"


@each_long
def test_long_contents_stay_between_the_margins(draw: Draw, content: Any) -> None:
    printed = draw(content, WORDS)
    assert printed.pages > 1
    assert letters_outside(printed, 28) == []


@each_long
def test_each_page_bears_its_number_and_the_tickets(draw: Draw, content: Any) -> None:
    printed = draw(content, WORDS)
    for number, page in enumerate(page_texts(printed), 1):
        assert f"Page {number} of {printed.pages}" in page
        if draw not in (draw_reminder, draw_upkeep_letter):
            assert "Ticket T1043" in page


def test_forty_lines_are_all_there_under_repeated_heads() -> None:
    pages = page_texts(draw_invoice(LONG_PAPERS["invoice"][1], WORDS))
    text = " ".join(pages)
    assert all(f"Line {index}." in text for index in range(40))
    assert all("What, and why" in page for page in pages if "Line " in page)


def test_a_long_table_begins_on_the_page_of_its_heading() -> None:
    printed = draw_summary(LONG_PAPERS["summary"][1], WORDS)
    assert "What we looked at" in page_texts(printed)[0]


@each_paper
def test_what_cannot_be_printed_is_reported(draw: Draw, content: Any) -> None:
    name = "Mina 山 🙂"
    owner = name if draw is draw_bench_sheet else replace(OWNER, name=name)
    printed = draw(replace(content, owner=owner), WORDS)
    assert printed.missing == ("山", "🙂")
    assert "Mina [U+5C71] [U+1F642]" in text_of(printed)


hostile = st.text(
    alphabet=st.characters(codec=None, exclude_characters="") | st.sampled_from("<>&/{}%\n\x00"),
    max_size=40,
)


@settings(max_examples=12, deadline=None)
@given(hostile, hostile, hostile)
def test_no_typed_text_breaks_a_paper(name: str, what: str, why: str) -> None:
    owner = replace(OWNER, name=name, address=(what,), email=why)
    machine = replace(TAG.machine, title=what, serial=why)
    rows = (replace(CHARGES[0], description=what, part_number=name, why=why, evidence=name),)
    both: dict[str, Any] = {"owner": owner, "machine": machine}
    assert draw_tag(replace(TAG, complaint=what, accessories=why, **both), WORDS).pages
    assert draw_invoice(replace(INVOICE, rows=rows, complaint=why, **both), WORDS).pages
    assert draw_estimate(replace(ESTIMATE, rows=rows, found=(what,), **both), WORDS).pages
    found = (replace(SUMMARY.found[0], title=what, note=why, before=name, source=what),)
    deeds = (replace(SUMMARY.done[0], what=what, why=why),)
    summary = replace(SUMMARY, found=found, done=deeds, cautions=(why,), **both)
    assert draw_summary(summary, WORDS).pages
    tasks = (replace(REMINDER.tasks[0], title=what, words=why, because=name),)
    assert draw_reminder(replace(REMINDER, tasks=tasks, **both), WORDS).pages
    steps = tuple(replace(row, off=what, mark=why) for row in BENCH.teardown)
    back = tuple(replace(row, setting=why, limit=name) for row in BENCH.reassembly)
    checks = (replace(BENCH.checks[0], title=what, how=why, limit=name),)
    sheet = replace(BENCH, checks=checks, teardown=steps, reassembly=back, machine=machine)
    assert draw_bench_sheet(replace(sheet, owner=name, complaint=what), WORDS).pages

"""The slip of a visit with several machines, and all their tags behind it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from shopdesk.job.paper_content import Letterhead, VisitSlipContent, VisitSlipRow
from shopdesk.papers.visit_slip import draw_visit, draw_visit_slip
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import COMPLAINT, MACHINE, OWNER, SHOP, SHOP_A4, TAG, WORDS

TRIMMER = VisitSlipRow(
    ticket="T1043",
    machine=MACHINE,
    complaint=COMPLAINT,
    accessories="guard, harness",
    promised=date(2031, 4, 14),
    limit=Decimal("60.00"),
    diagnosis_fee=Decimal("37.54"),
)
SAW = VisitSlipRow(
    ticket="T1044",
    machine=replace(MACHINE, title="Chain saw, Osmarrow OS 40", serial=""),
    complaint="Chain creeps.",
    accessories="",
    promised=None,
    limit=None,
    diagnosis_fee=Decimal("37.54"),
)
SLIP = VisitSlipContent(
    shop=SHOP,
    owner=OWNER,
    on=date(2031, 4, 7),
    rows=(TRIMMER, SAW),
    storage_per_day=Decimal("2.00"),
    storage_after_days=30,
)


def test_every_machine_stands_with_its_tag_day_and_limit() -> None:
    said = text_of(draw_visit_slip(SLIP, WORDS))
    for words in (
        "Taken in Mon 7 Apr 2031",
        "String trimmer, Tarnbeck TB-26",
        "T1043 Mon 14 Apr 2031 $60.00",
        "serial TB26-004417 · with it: guard, harness",
        "“It starts cold, then dies",
        "Chain saw, Osmarrow OS 40",
        "T1044 no date yet ask first",
        "Machines: 2",
        "Zoë Łukaszewicz-Đặng",
    ):
        assert words in said, words


def test_the_terms_are_those_of_the_tag() -> None:
    said = text_of(draw_visit_slip(SLIP, WORDS))
    assert "$37.54 with tax for each machine" in said
    assert "costs $2.00 a day for storage, from 30 days after" in said
    assert "Check your local law" in said
    assert "Owner's signature" in said
    free = replace(SLIP, storage_per_day=Decimal(0))
    assert "for storage" not in text_of(draw_visit_slip(free, WORDS))


def test_fees_that_differ_are_named_one_by_one_and_none_is_said() -> None:
    differing = replace(SLIP, rows=(TRIMMER, replace(SAW, diagnosis_fee=Decimal("0.00"))))
    assert "$37.54, $0.00 with tax" in text_of(draw_visit_slip(differing, WORDS))
    none = replace(SLIP, rows=tuple(replace(row, diagnosis_fee=Decimal(0)) for row in SLIP.rows))
    assert "None. You owe nothing" in text_of(draw_visit_slip(none, WORDS))


def test_the_tags_follow_the_slip_in_one_file() -> None:
    tags = (TAG, replace(TAG, ticket="T1044"))
    printed = draw_visit(SLIP, tags, WORDS)
    pages = page_texts(printed)
    assert len(pages) == printed.pages == 3
    assert "T1043" in pages[1]
    assert "T1044" in pages[2]
    assert draw_visit(SLIP, tags, WORDS) == printed, "the same content makes the same bytes"
    assert PdfReader(BytesIO(printed.pdf)).metadata


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_thirty_machines_with_endless_words_stay_between_the_margins(shop: Letterhead) -> None:
    long = replace(TRIMMER, complaint="word <b>& " * 900, accessories="W" * 300)
    content = replace(SLIP, shop=shop, rows=(long,) * 30)
    printed = draw_visit_slip(content, WORDS)
    assert printed.pages > 1
    assert letters_outside(printed, 28) == []


def test_another_paper_size_is_refused() -> None:
    with pytest.raises(ValueError, match="choose letter or A4"):
        draw_visit_slip(replace(SLIP, shop=replace(SHOP, paper="legal")), WORDS)

from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from PIL import Image

from shopdesk.job.paper_content import BenchSheetContent, PhotoOnPaper
from shopdesk.papers.bench_sheet import draw_bench_sheet
from tests.papers.reading import page_texts, picture_shapes, text_of
from tests.papers.samples import BENCH, COMPLAINT, HOT, SHOP_A4, WORDS


def said(content: BenchSheetContent) -> str:
    return text_of(draw_bench_sheet(content, WORDS))


@pytest.mark.parametrize(
    "item",
    [
        "T1043",
        "String trimmer, Tarnbeck TB-26",
        "Zoë Łukaszewicz-Đặng · TB26-004417 · two-stroke, 26 cc",
        COMPLAINT,
        "Caution: The maker's manual comes first. [1]",
        "Compression reads Good: at least 107 psi",
        "Good: at least 107 psi 130 psi at sea level, lowered to 107 psi for 1,609 m.",
        "throttle open. 4 min, with gauge, 14 mm adapter.",
        "Full speed reads No limit is known: note what it shows. Warm, no load. 2 min.",
        "1. Muffler 2 × M5 x 20 T27 in cup 3 1 × M6 nut in cup 3 Mark: arrow towards",
        "Routing: plug lead behind the post",
        "2. Needle (carburettor) Comes after step 1",
        "2 × M5 x 20 T27 from cup 3 back 1 × M6 nut from cup 3 back",
        "plug torque: 18.0 to 21.6 lbf·ft set at",
        "Different lengths: each goes back into the hole it came from.",
        "Loosen the fuel cap first: pressure sprays fuel. [1]",
        "[2] Forest Service Tech Tip",
    ],
)
def test_the_sheet_says(item: str) -> None:
    assert item in said(BENCH)


def test_checks_come_first_and_the_proof_run_last() -> None:
    looking, proving = said(BENCH), said(replace(BENCH, proving=True))
    assert looking.index("Checks to do") < looking.index("What came off")
    assert "Proof run" not in looking
    order = [proving.index(words) for words in ("What came off", "Back together", "Proof run")]
    assert order == sorted(order)
    assert "Checks to do" not in proving


def test_the_way_back_is_in_its_own_order() -> None:
    back = said(BENCH).partition("Back together")[2]
    places = [back.index(words) for words in ("3. Spark plug", "2. Needle", "1. Muffler")]
    assert places == sorted(places)


def test_each_section_says_a_caution_in_full_once_and_then_how_it_begins() -> None:
    sections = said(BENCH).partition("Checks to do")[2]
    for section in ("What came off", "Back together", "What backs"):
        of_section, _, sections = sections.partition(section)
        assert of_section.count(HOT.words) == 1
    assert said(BENCH).count("burns skin long after the engine stops.") == 4


def test_there_is_room_to_write_what_comes_off_until_the_way_back_begins() -> None:
    empty = replace(BENCH, checks=(), teardown=(), reassembly=())
    assert "Fasteners, where kept" in said(empty)
    assert "Back together" not in said(empty)
    assert "Checks to do" not in said(empty)
    first, *rest = BENCH.reassembly
    ticked = replace(first, ticked=True, entered="20 lbf·ft, pass", explained="one was spare")
    text = said(replace(BENCH, reassembly=(ticked, *rest)))
    assert "Fasteners, where kept" not in text
    assert "plug torque: 20 lbf·ft, pass" in text
    assert "Left over, because: one was spare" in text
    assert "set at" not in text


def test_what_is_back_needs_no_count() -> None:
    back = tuple(replace(row, ticked=True) for row in BENCH.reassembly)
    text = said(replace(BENCH, reassembly=back)).partition("Back together")[2]
    assert "from cup 3 1 × M6 nut from cup 3 Mark" in text


@pytest.mark.parametrize("content", [BENCH, replace(BENCH, shop=SHOP_A4)], ids=["letter", "A4"])
def test_a_long_log_never_parts_a_step(content: BenchSheetContent) -> None:
    first = content.teardown[0]
    many = tuple(replace(first, number=n, off=f"Part {n}") for n in range(1, 41))
    back = tuple(replace(content.reassembly[2], number=n) for n in range(40, 0, -1))
    pages = page_texts(draw_bench_sheet(replace(content, teardown=many, reassembly=back), WORDS))
    for page in pages:
        assert page.count(". Part ") == page.count("Routing:") == page.count("Mark: arrow")
    assert sum(page.count(". Part ") for page in pages) == 80
    for heading in ("What came off", "Back together"):
        (page,) = (page for page in pages if heading in page.replace("What came off Fast", ""))
        assert ". Part " in page.partition(heading)[2]


def test_what_is_to_be_read_at_arms_length_is_big() -> None:
    text = pdfium.PdfDocument(draw_bench_sheet(BENCH, WORDS).pdf)[0].get_textpage()
    found = text.search("at least 107 psi")
    start, _ = found.get_next()
    _, low, _, high = text.get_charbox(start, loose=True)
    assert high - low >= 12


def test_photos_of_a_step_keep_their_shape_and_a_lost_one_is_named(tmp_path: Path) -> None:
    files = []
    for name, size in (("wide", (640, 400)), ("tall", (400, 640))):
        files.append(tmp_path / f"{name}.jpg")
        Image.effect_noise(size, 60).convert("RGB").save(files[-1], quality=85)
    photos = tuple(PhotoOnPaper(f, f.stem) for f in (*files, tmp_path / "gone.jpg"))
    first, *rest = BENCH.teardown
    printed = draw_bench_sheet(
        replace(BENCH, teardown=(replace(first, photos=photos), *rest)), WORDS
    )
    assert "The photo “gone” could not be read." in text_of(printed)
    shapes = picture_shapes(printed)
    assert [width / height for width, height in shapes] == pytest.approx([1.6, 0.625], rel=0.01)
    assert all(height <= 111 for _, height in shapes)

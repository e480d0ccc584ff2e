from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from reportlab.platypus import SimpleDocTemplate

from shopdesk.papers import styles
from shopdesk.papers.typesetter import Typesetter, pieces


def printed_text(typed: str) -> str:
    out = BytesIO()
    SimpleDocTemplate(out).build([Typesetter().paragraph(typed, styles.BODY)])
    return "".join(page.extract_text() for page in PdfReader(out).pages)


@pytest.mark.parametrize(
    "name",
    [
        "Łukasz Żółć-Ğöçmen Şțefan Őrsi ẞ",
        "Αλέξανδρος Ώρα Ϊφι",
        "Јован Ђурђевић, Їжак Ґанок Ўлад",
        "Nguyễn Thị Ngọc Ưu, Đặng Hữu Phước",
        "€ £ ₫ ½ ° Ω × – — “ ” … №",
    ],
)
def test_names_of_the_scripts_we_carry_print_as_typed(name: str) -> None:
    typesetter = Typesetter()
    assert typesetter.lines(name) == name
    assert typesetter.missing == ()
    assert printed_text(name).split() == name.split()


def test_a_decomposed_name_prints_composed() -> None:
    assert Typesetter().lines("Zoe\u0308 \u0110a\u0323\u0306ng") == "Zoë Đặng"


def test_what_no_face_has_prints_as_its_code_and_is_reported_once() -> None:
    typesetter = Typesetter()
    assert typesetter.lines("fine 🙂 and 山 and 🙂") == "fine [U+1F642] and [U+5C71] and [U+1F642]"
    assert typesetter.missing == ("🙂", "山")


def test_unseen_characters_vanish_and_are_not_reported() -> None:
    typesetter = Typesetter()
    assert typesetter.lines("a\x00b\x1bc\ud800d\u202ee\u200bf\ufe0fg\ufeff") == "abcdefg"
    assert typesetter.missing == ()


def test_line_breaks_of_every_system_stay() -> None:
    assert Typesetter().lines("a\r\nb\rc\u2028d\te") == "a\nb\nc\nd e"
    assert Typesetter().line("a\r\n  b\tc ") == "a b c"


def test_markup_prints_as_typed() -> None:
    typed = '<b>bold</b> &amp; <font color="red">x</font> <img src="file:///etc/passwd"/> <br/>'
    assert " ".join(printed_text(typed).split()) == typed


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet=st.sampled_from("ab <>&;/\"'=\n\t{}%\\[]()#xé🙂\x07"), max_size=60))
def test_nothing_typed_breaks_a_paragraph_or_gets_lost(typed: str) -> None:
    wanted = "".join(Typesetter().lines(typed).split())
    if wanted:
        assert "".join(printed_text(typed).split()) == wanted


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="ab \n", max_size=400), st.integers(1, 20), st.integers(2, 60))
def test_pieces_hold_every_letter_in_order(text: str, per_line: int, most: int) -> None:
    cut = pieces(text, per_line, most)
    assert "".join("".join(cut).split()) == "".join(text.split())
    assert all(len(piece) <= most for piece in cut)


def test_pieces_break_at_spaces() -> None:
    assert pieces("one two three", 10, 8) == ["one two", " three"]
    assert pieces("abcdefgh", 10, 3) == ["abc", "def", "gh"]
    assert pieces("", 10, 3) == []

"""vCards 2.1, 3.0 and 4.0 as rows, and against a library that reads and writes them."""

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.importing.listing import listing_of
from shopdesk.job.importing.matching import guess
from shopdesk.job.importing.text_in import ReadText
from shopdesk.job.importing.vcards import read_vcards


def card(*lines: str, version: str = "3.0") -> tuple[str, ...]:
    text = "\r\n".join(["BEGIN:VCARD", f"VERSION:{version}", *lines, "END:VCARD", ""])
    ((_, cells),) = read_vcards(text, "cards.vcf")
    return cells


def test_version_3() -> None:
    assert card(
        "N:Quill;Mara;;Dr;",
        "FN:Dr Mara Quill",
        "ORG:Quill Nursery\\, Ltd;Gardens",
        "TEL;TYPE=HOME,VOICE:555-0142",
        "TEL;TYPE=CELL,PREF:+1 555 0143",
        "EMAIL;TYPE=INTERNET:mara@example.com",
        "EMAIL:other@example.com",
        "ADR;TYPE=HOME:;;7 Orchard Row;Fernhollow;CO;80001;",
        "NOTE:Gate code 12\\; dog\\nRing twice",
        "PHOTO;ENCODING=b;TYPE=JPEG:AAAA",
    ) == (
        "Dr Mara Quill",
        "Quill Nursery, Ltd",
        "cell +1 555 0143\nhome 555-0142",
        "mara@example.com",
        "7 Orchard Row\nFernhollow, CO 80001",
        "Gate code 12; dog\nRing twice\nOther e-mail: other@example.com",
    )


def test_version_4() -> None:
    cells = card(
        "FN;PREF=2:Not this",
        "FN;PREF=1:Łukasz Brightwater",
        'item1.TEL;VALUE=uri;TYPE="voice,work":tel:+1-555-0155;ext=102',
        "EMAIL:mailto:lu@example.com?subject=x",
        'ADR;LABEL="a:b;c":;;1 Mill Row;Fernhollow;;80001;Nowhere',
        version="4.0",
    )
    assert cells[0] == "Łukasz Brightwater"
    assert cells[2:5] == (
        "work +1-555-0155 ext 102",
        "lu@example.com",
        "1 Mill Row\n80001 Fernhollow\nNowhere",
    )


def test_version_2_with_quoted_printable() -> None:
    cells = card(
        "N;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:M=C3=BCller;J=\r\n=C3=B6rg",
        "TEL;CELL;VOICE:555-0166",
        "NOTE;ENCODING=QUOTED-PRINTABLE;CHARSET=ISO-8859-1:caf=E9=0D=0Aat two",
        version="2.1",
    )
    assert cells[0] == "Jörg Müller"
    assert cells[2] == "cell 555-0166"
    assert cells[5].splitlines() == ["café", "at two"]


def test_a_folded_line_goes_on() -> None:
    assert card("FN:Mara Qu", " ill", "NOTE:a", "\tb")[0] == "Mara Quill"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("BEGIN:VCARD\nFN:Mara\n", "line 1 has no end"),
        ("BEGIN:VCARD\nFN:Mara\nBEGIN:VCARD\nEND:VCARD\n", "does not end before the next one"),
    ],
)
def test_a_card_that_is_not_closed(text: str, sentence: str) -> None:
    with pytest.raises(JobError, match=sentence):
        list(read_vcards(text, "cards.vcf"))


def test_cards_are_a_list_like_any_other() -> None:
    text = "BEGIN:VCARD\nVERSION:3.0\nFN:Mara\nTEL:555-0142\nEND:VCARD\n" * 2
    found, matches = guess(listing_of("cards.vcf", ReadText(text, "UTF-8")))
    assert [row.line for row in found.rows] == [1, 6]
    assert [one.place for one in matches] == [
        *("name", "company", "phones", "email", "street", "notes")
    ]


LINE = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp", "Zs"]), min_size=1
)


@given(LINE, LINE, LINE, LINE)
def test_what_another_library_writes(name: str, note: str, street: str, town: str) -> None:
    written = vobject.vCard()
    written.add("n").value = vobject.vcard.Name(family=name)
    written.add("fn").value = name
    written.add("note").value = f"{note}; {note},\n{note}"
    written.add("adr").value = vobject.vcard.Address(street=street, city=town)
    ((_, cells),) = read_vcards(written.serialize(), "cards.vcf")
    assert cells[0] == name
    assert cells[5] == f"{note}; {note},\n{note}"
    address = "\n".join(part for line in (street, town) if (part := line.strip(" ,")))
    assert cells[4] == address


@given(st.text(max_size=300))
def test_anything_between_begin_and_end(text: str) -> None:
    try:
        list(read_vcards(f"BEGIN:VCARD\n{text}\nEND:VCARD\n", "cards.vcf"))
    except JobError:
        return

"""The hybrid invoice: what PDF/A-3 and Factur-X ask of the file, as far as it can be seen offline.

Looked at here: fonts inside, one symbolic cmap each, no Encoding beside it, every printed letter
in them and as wide as said; output intent with an sRGB profile; XMP that is not compressed, agrees
with the document's information and names PDF/A-3B and Factur-X; the XML as an associated file; file
identifiers; no script, encryption, LZW or soft mask; line ends before ``endstream``. Not looked at,
for no validator of PDF/A runs without Java: the rest of ISO 19005-3.
"""

import re
from dataclasses import replace
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

import facturx
import pytest
from PIL import ImageCms
from pypdf import PageObject, PdfReader

from shopdesk.job.paper_content import InvoiceContent
from shopdesk.papers.e_invoice import e_invoice_xml
from shopdesk.papers.invoice import draw_invoice
from tests.papers.embedded_fonts import advances, cmaps, glyphs, printed_codes
from tests.papers.reading import text_of
from tests.papers.samples import CREDIT, INVOICE, WORDS, charge

LONG = tuple(charge("part", f"Łøng part Ωж {number}", "1", "1.00") for number in range(90))


def e_invoice(content: InvoiceContent) -> InvoiceContent:
    shop = replace(content.shop, tax_number="DE123456789", currency="€")
    return replace(content, shop=shop, currency_code="EUR", country="DE", e_invoice=True)


CONTENTS = {
    "invoice": e_invoice(INVOICE),
    "credit note": e_invoice(CREDIT),
    "over pages, many letters": e_invoice(replace(INVOICE, rows=LONG)),
}


@pytest.fixture(params=list(CONTENTS))
def content(request: pytest.FixtureRequest) -> InvoiceContent:
    return CONTENTS[request.param]


@pytest.fixture
def pdf(content: InvoiceContent) -> bytes:
    return draw_invoice(content, WORDS).pdf


def root(pdf: bytes) -> Any:
    return PdfReader(BytesIO(pdf)).root_object


def test_another_library_finds_the_xml_and_what_it_is(pdf: bytes, content: InvoiceContent) -> None:
    name, xml = facturx.get_xml_from_pdf(pdf, check_xsd=True, check_schematron=False)
    assert (name, xml) == ("factur-x.xml", e_invoice_xml(content))
    assert facturx.get_level(facturx.facturx.etree.fromstring(xml)) == "en16931"


def test_the_pages_are_those_of_the_plain_invoice(pdf: bytes, content: InvoiceContent) -> None:
    plain = draw_invoice(replace(content, e_invoice=False), WORDS)
    drawn = draw_invoice(content, WORDS)
    assert drawn.pages == len(PdfReader(BytesIO(pdf)).pages)
    said, before = text_of(drawn), text_of(plain)
    words = "This file also carries the invoice as XML for programs to read"
    assert words in said
    assert words not in before
    assert len(said) > len(before)


def test_the_same_invoice_gives_the_same_bytes(pdf: bytes, content: InvoiceContent) -> None:
    assert draw_invoice(content, WORDS).pdf == pdf


def test_a_plain_invoice_carries_nothing() -> None:
    assert "/AF" not in root(draw_invoice(INVOICE, WORDS).pdf)


def test_every_font_is_inside_with_one_symbolic_cmap(pdf: bytes) -> None:
    fonts = [
        font.get_object()
        for page in PdfReader(BytesIO(pdf)).pages
        for font in resources(page)["/Font"].values()
    ]
    assert len(fonts) >= 3
    for font in fonts:
        described = font["/FontDescriptor"]
        assert described["/Flags"] & 4
        assert "/Encoding" not in font
        assert "/ToUnicode" in font
        assert cmaps(described["/FontFile2"].get_data()) == [(1, 0)]


def resources(page: PageObject) -> Any:
    return page["/Resources"]


def test_every_letter_printed_is_in_its_font_and_as_wide_as_the_file_says(pdf: bytes) -> None:
    printed = printed_codes(PdfReader(BytesIO(pdf)))
    assert sum(len(codes) for _, codes in printed) > 60
    for font, codes in printed:
        data = font["/FontDescriptor"]["/FontFile2"].get_data()
        glyph, width = glyphs(data), advances(data)
        for code in codes:
            assert glyph[code] != 0
            said = float(font["/Widths"][code - font["/FirstChar"]])
            assert said == pytest.approx(width[glyph[code]], abs=1)


def test_the_colours_are_defined_and_nothing_else_is_used(pdf: bytes) -> None:
    (intent,) = root(pdf)["/OutputIntents"]
    assert intent["/S"] == "/GTS_PDFA1"
    profile = intent["/DestOutputProfile"]
    assert profile["/N"] == 3
    made = ImageCms.ImageCmsProfile(BytesIO(profile.get_data())).profile
    assert (made.xcolor_space.strip(), made.device_class) == ("RGB", "mntr")
    assert made.version < 5
    for page in PdfReader(BytesIO(pdf)).pages:
        drawn = page.get_contents()
        assert drawn is not None
        assert not re.search(rb"\s(k|K|cs|CS|sh|gs)\s", drawn.get_data())


def test_the_metadata_can_be_read_by_any_program_and_agrees(
    pdf: bytes, content: InvoiceContent
) -> None:
    reader = PdfReader(BytesIO(pdf))
    stream = root(pdf)["/Metadata"]
    assert "/Filter" not in stream
    assert (stream["/Type"], stream["/Subtype"]) == ("/Metadata", "/XML")
    packet = stream.get_data().decode()
    assert packet.startswith('<?xpacket begin="\N{BYTE ORDER MARK}"')
    read = ElementTree.fromstring(packet[packet.index("<x:") : packet.rindex("<?")])
    said = {
        each.tag.rpartition("}")[2]: "".join(each.itertext()).strip()
        for each in read.iter()
        if "pdfa/ns/property" not in each.tag
    }
    about = reader.metadata
    assert about is not None
    assert (said["part"], said["conformance"]) == ("3", "B")
    assert (said["title"], said["creator"], said["description"]) == (
        about.title,
        about.author,
        about.subject,
    )
    assert said["ConformanceLevel"] == "EN 16931"
    assert said["DocumentFileName"] == "factur-x.xml"
    day = content.on.isoformat()
    assert said["CreateDate"] == said["ModifyDate"] == f"{day}T12:00:00+00:00"
    assert about.creation_date is not None
    assert about.creation_date.date() == content.on


def test_the_xml_is_an_associated_file_of_the_whole_document(pdf: bytes) -> None:
    catalog = root(pdf)
    spec = catalog["/AF"][0]
    assert spec["/AFRelationship"] == "/Alternative"
    assert spec["/F"] == spec["/UF"] == "factur-x.xml"
    inside = spec["/EF"]["/F"]
    assert inside["/Subtype"] == "/text/xml"
    assert inside["/Params"]["/Size"] == len(inside.get_data())
    assert catalog["/Names"]["/EmbeddedFiles"]["/Names"][1] == spec


def test_the_file_itself_is_as_an_archive_asks(pdf: bytes) -> None:
    assert re.match(rb"%PDF-1\.7\n%[\x80-\xff]{4}", pdf)
    mark: Any = PdfReader(BytesIO(pdf)).trailer["/ID"]
    first, second = mark
    assert first == second
    assert b"/Encrypt" not in pdf
    for never in (b"/JavaScript", b"/LZWDecode", b"/Launch", b"/OpenAction", b"/SMask", b"/XFA"):
        assert never not in pdf
    ends = [pdf[each.start() - 1 : each.start()] for each in re.finditer(rb"endstream", pdf)]
    assert set(ends) == {b"\n"}

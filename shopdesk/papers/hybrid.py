"""Makes of a drawn invoice one file for eyes and programs: PDF/A-3 with the invoice as XML inside.

Follows Factur-X 1.0 and ISO 19005-3 (PDF/A-3) level B: fonts inside, colours defined by an output
intent, metadata as XMP, the XML as an associated file. The PDF itself is left as it was drawn.
"""

import hashlib
from datetime import UTC, date, datetime, time
from io import BytesIO
from typing import cast
from xml.sax.saxutils import escape

from PIL import ImageCms
from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DictionaryObject,
    NameObject,
    NumberObject,
    StreamObject,
    TextStringObject,
)

XML_NAME = "factur-x.xml"
_MADE_WITH = "shopdesk"


def with_xml(pdf: bytes, xml: bytes, on: date) -> bytes:
    """Return ``pdf`` as PDF/A-3 that carries ``xml``; ``on`` dates both.

    The same input gives the same bytes. Every font of ``pdf`` must be inside it.
    """
    moment = datetime.combine(on, time(12), UTC)
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pdf)))
    writer.pdf_header = "%PDF-1.7"
    _carry(writer, xml, moment)
    _define_colours(writer)
    _describe(writer, moment)
    mark = ByteStringObject(hashlib.md5(pdf + xml, usedforsecurity=False).digest())
    writer._ID = ArrayObject((mark, mark))
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _carry(writer: PdfWriter, xml: bytes, moment: datetime) -> None:
    """Put the XML in, as an alternative to what the pages say."""
    file = writer.add_attachment(XML_NAME, xml)
    file.alternative_name = TextStringObject(XML_NAME)
    file.description = TextStringObject("The invoice as EN 16931 XML")
    file.associated_file_relationship = NameObject("/Alternative")
    file.subtype = NameObject("/text/xml")
    file.modification_date = moment
    file.size = NumberObject(len(xml))
    writer.root_object[NameObject("/AF")] = ArrayObject([file.pdf_object.indirect_reference])


def _define_colours(writer: PdfWriter) -> None:
    """Say that the colours are sRGB; the profile is made here, so none is shipped."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile[24:36] = bytes.fromhex("07d000010001000000000000")  # made on 1 Jan 2000, not now
    stream = StreamObject()
    stream.set_data(bytes(profile))
    stream[NameObject("/N")] = NumberObject(3)
    name = TextStringObject("sRGB")
    writer.root_object[NameObject("/OutputIntents")] = ArrayObject(
        [
            DictionaryObject(
                {
                    NameObject("/Type"): NameObject("/OutputIntent"),
                    NameObject("/S"): NameObject("/GTS_PDFA1"),
                    NameObject("/OutputConditionIdentifier"): name,
                    NameObject("/Info"): name,
                    NameObject("/DestOutputProfile"): writer._add_object(stream),
                }
            )
        ]
    )


def _describe(writer: PdfWriter, moment: datetime) -> None:
    """Write who made what and when, alike in the file's two places for it."""
    said = cast(DictionaryObject, writer.metadata)
    words = {key: str(said[f"/{key}"]) for key in ("Title", "Author", "Subject")}
    stamp = f"D:{moment:%Y%m%d%H%M%S}+00'00'"
    writer.metadata = {
        **{f"/{key}": value for key, value in words.items()},
        "/Creator": _MADE_WITH,
        "/Producer": _MADE_WITH,
        "/CreationDate": stamp,
        "/ModDate": stamp,
    }
    facts = {key.lower(): escape(value) for key, value in words.items()}
    packet = _XMP.format(**facts, moment=moment.isoformat(), made_with=_MADE_WITH, file=XML_NAME)
    writer.xmp_metadata = packet.encode()
    kept = writer.root_object["/Metadata"].get_object()
    assert isinstance(kept, StreamObject)
    kept[NameObject("/Type")] = NameObject("/Metadata")
    kept[NameObject("/Subtype")] = NameObject("/XML")


_XMP = """<?xpacket begin="\N{BYTE ORDER MARK}" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>B</pdfaid:conformance>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
<pdf:Producer>{made_with}</pdf:Producer>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/">
<xmp:CreatorTool>{made_with}</xmp:CreatorTool>
<xmp:CreateDate>{moment}</xmp:CreateDate>
<xmp:ModifyDate>{moment}</xmp:ModifyDate>
</rdf:Description>
<rdf:Description rdf:about=""
  xmlns:fx="urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#">
<fx:DocumentType>INVOICE</fx:DocumentType>
<fx:DocumentFileName>{file}</fx:DocumentFileName>
<fx:Version>1.0</fx:Version>
<fx:ConformanceLevel>EN 16931</fx:ConformanceLevel>
</rdf:Description>
<rdf:Description rdf:about=""
  xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
  xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"
  xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>Factur-X PDFA Extension Schema</pdfaSchema:schema>
<pdfaSchema:namespaceURI>urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>fx</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq>
<rdf:li rdf:parseType="Resource">
<pdfaProperty:name>DocumentFileName</pdfaProperty:name>
<pdfaProperty:valueType>Text</pdfaProperty:valueType>
<pdfaProperty:category>external</pdfaProperty:category>
<pdfaProperty:description>The name of the embedded XML document</pdfaProperty:description>
</rdf:li>
<rdf:li rdf:parseType="Resource">
<pdfaProperty:name>DocumentType</pdfaProperty:name>
<pdfaProperty:valueType>Text</pdfaProperty:valueType>
<pdfaProperty:category>external</pdfaProperty:category>
<pdfaProperty:description>The type of the document in capital letters</pdfaProperty:description>
</rdf:li>
<rdf:li rdf:parseType="Resource">
<pdfaProperty:name>Version</pdfaProperty:name>
<pdfaProperty:valueType>Text</pdfaProperty:valueType>
<pdfaProperty:category>external</pdfaProperty:category>
<pdfaProperty:description>The version of the standard of the XML document</pdfaProperty:description>
</rdf:li>
<rdf:li rdf:parseType="Resource">
<pdfaProperty:name>ConformanceLevel</pdfaProperty:name>
<pdfaProperty:valueType>Text</pdfaProperty:valueType>
<pdfaProperty:category>external</pdfaProperty:category>
<pdfaProperty:description>The conformance level of the XML document</pdfaProperty:description>
</rdf:li>
</rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>"""

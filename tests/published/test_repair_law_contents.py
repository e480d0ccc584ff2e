"""What two published repair rules want on the papers, ticked off against the papers' own text.

Minnesota Statutes 325F.56 to 325F.66 (repairs of motor vehicles and household machines) and the
California Code of Regulations, title 16, sections 3353 and 3356 (vehicles: a norm for our trade).
"""

import pytest

from shopdesk.papers.estimate import draw_estimate
from shopdesk.papers.invoice import draw_invoice
from tests.papers.reading import text_of
from tests.papers.samples import AS_IS, COMPLAINT, ESTIMATE, INVOICE, WORDS

ESTIMATE_ITEMS = {
    "Minn. Stat. 325F.56-.66, estimate: name of the shop": "Fernhollow Small Engines",
    "Minn. Stat. 325F.56-.66, estimate: address of the shop": "14 Millrace Lane · Fernhollow",
    "Minn. Stat. 325F.56-.66, estimate: the problem as told": COMPLAINT,
    "Minn. Stat. 325F.56-.66, estimate: parts": "Carburettor kit · part CK-2201",
    "Minn. Stat. 325F.56-.66, estimate: a new part": "new 1 $18.40",
    "Minn. Stat. 325F.56-.66, estimate: a used part": "used 1 $4.00",
    "Minn. Stat. 325F.56-.66, estimate: labour": "Labour $68.00",
    "Minn. Stat. 325F.56-.66, estimate: tax": "Sales tax 7.25% on $28.90 $2.10",
    "Minn. Stat. 325F.56-.66, estimate: storage": "No storage is charged unless",
    "Minn. Stat. 325F.56-.66, estimate: no more without a new yes": "$136.40 with tax",
    "Minn. Stat. 325F.56-.66, estimate: replaced parts on request": "I want the replaced parts",
    "16 CCR 3353, estimate: a spoken yes with who, when, number": "who, how, when, number called",
    "16 CCR 3353, estimate: authorised by the owner": "Signature",
}
INVOICE_ITEMS = {
    "Minn. Stat. 325F.56-.66, invoice: date": "Sat 13 Mar 2027",
    "Minn. Stat. 325F.56-.66, invoice: name of the shop": "Fernhollow Small Engines",
    "Minn. Stat. 325F.56-.66, invoice: address of the shop": "14 Millrace Lane · Fernhollow",
    "Minn. Stat. 325F.56-.66, invoice: symptoms as told": COMPLAINT,
    "Minn. Stat. 325F.56-.66, invoice: all repairs": "Carburettor off, cleaned, kit fitted, set",
    "Minn. Stat. 325F.56-.66, invoice: each part": "Fuel line, cut to length · part FL-090",
    "Minn. Stat. 325F.56-.66, invoice: condition, new": "new 2 $3.25 $6.50",
    "Minn. Stat. 325F.56-.66, invoice: condition, used": "used 1 $4.00 $4.00",
    "Minn. Stat. 325F.56-.66, invoice: tax": "Sales tax 7.25% on $28.90 $2.10",
    "Minn. Stat. 325F.56-.66, invoice: storage": "No storage is charged unless",
    "Minn. Stat. 325F.56-.66, invoice: charge for the estimate": "Finding the trouble (diagnosis",
    "Minn. Stat. 325F.56-.66, invoice: replaced parts": "You asked for the replaced parts",
    "16 CCR 3356, invoice: each service with its price": "0.8 h $85.00 $68.00",
    "16 CCR 3356, invoice: subtotal of parts": "Parts $28.90",
    "16 CCR 3356, invoice: subtotal of labour": "Labour $68.00",
    "16 CCR 3356, invoice: total": "Total $124.00",
    "16 CCR 3353, invoice: the yes, its date and time": "Tue 9 Mar 2027 10:12",
    "16 CCR 3353, invoice: the yes, how and the number": "by phone (555-0117)",
    "16 CCR 3353, invoice: the yes, by whom": "Zoë Łukaszewicz-Đặng said yes",
    "16 CCR 3353, invoice: the yes, its amount": "said yes to $124.00",
    "16 CCR 3358, invoice: one identifier for all records": "Ticket T1043",
}


@pytest.mark.parametrize("words", ESTIMATE_ITEMS.values(), ids=ESTIMATE_ITEMS)
def test_the_estimate_holds(words: str) -> None:
    assert words in text_of(draw_estimate(ESTIMATE, WORDS))


@pytest.mark.parametrize("words", INVOICE_ITEMS.values(), ids=INVOICE_ITEMS)
def test_the_invoice_holds(words: str) -> None:
    assert words in text_of(draw_invoice(INVOICE, WORDS))


def test_a_declined_repair_still_gets_its_invoice_and_charge() -> None:
    """Minn. Stat. 325F.56-.66: the charge for the estimate stands on the invoice."""
    text = text_of(draw_invoice(AS_IS, WORDS))
    assert "Finding the trouble (diagnosis fee) 1 $30.00 $30.00" in text
    assert COMPLAINT in text

"""What two published repair rules ask for, ticked off on papers of a ticket that went all the way.

Minnesota Statutes 325F.56 to 325F.66 (repairs of household machines) and California Code of
Regulations, title 16, sections 3353 and 3356 (vehicles: a norm for our trade). The papers are those
the job makes: an estimate, a yes by telephone, more work and a second yes, the invoice.
"""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.job.approval import approve, estimate_as_given, quote
from shopdesk.job.diagnosis import record_observation
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.pickup import invoice_as_issued, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Supplies
from shopdesk.job.stages import Stage
from shopdesk.papers.estimate import draw_estimate
from shopdesk.papers.invoice import draw_invoice
from shopdesk.pricing.allowance import ExcessRule
from shopdesk.pricing.totals import LineKind
from tests.job.workshop import INTAKE, KIT, SAYS, SHOP, Clock, open_shop, refused, taken_in
from tests.papers.reading import text_of
from tests.papers.samples import WORDS

NOTHING_OVER = replace(
    SHOP,
    excess=ExcessRule(),
    supplies=Supplies(Decimal(5), frozenset({LineKind.LABOUR}), Decimal("15.00")),
)
STARTER = LineEntry(
    "part", "Starter", unit_price="42", reason="worn", condition="rebuilt", part_number="ST-9"
)
WORK = LineEntry("labour", "Carburettor cleaned, kit fitted", "1", reason="failed")
SEIZED = LineEntry("labour", "Starter off and on", "0.5", reason="worn")


@pytest.fixture(scope="module")
def papers(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, str]:
    """The text of the estimate and of the invoice."""
    return worked(tmp_path_factory.mktemp("law"))


def worked(folder: Path) -> tuple[str, str]:
    shift = open_shop(folder, Clock(), NOTHING_OVER)
    ticket = taken_in(shift, entry=replace(INTAKE, old_parts_back=True))
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    record_observation(shift, ticket.id, "Carburettor", "gummed up", "fail")
    add_line(shift, ticket.id, KIT)
    add_line(shift, ticket.id, WORK)
    go_on(shift, ticket.id, Stage.APPROVAL)
    quoted = quote(shift, ticket.id)
    estimate = text_of(draw_estimate(estimate_as_given(shift, quoted.estimates[-1].id), WORDS))
    approve(shift, ticket.id, SAYS)
    go_on(shift, ticket.id, Stage.REPAIR)
    add_line(shift, ticket.id, STARTER)
    ticket = add_line(shift, ticket.id, SEIZED)
    _asks_again(shift, ticket.id)
    for line in ticket.lines:
        if line.is_work:
            do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    bill = issue_invoice(shift, ticket.id).invoices[-1]
    invoice = text_of(draw_invoice(invoice_as_issued(shift, bill.id), WORDS))
    shift.records.close()
    return estimate, invoice


def _asks_again(shift: Shift, ticket_id: int) -> None:
    """16 CCR 3353(c): nothing over the estimate is done before the owner was asked again."""
    with refused(shift, "stage", "no approval recorded for $167.29: record who said yes and how"):
        go_on(shift, ticket_id, Stage.PICKUP)
    approve(shift, ticket_id, replace(SAYS, how="by text", note="and the starter"))


ESTIMATE = {
    "Minn. Stat. 325F.58, shop's name": "Fernhollow Small Engines",
    "Minn. Stat. 325F.58, shop's address": "14 Millrace Lane",
    "Minn. Stat. 325F.58, owner": "Mara Quill",
    "Minn. Stat. 325F.58, problem as told": "Starts, then dies when I squeeze the trigger.",
    "Minn. Stat. 325F.58, part, new": "new 1 $18.40 $18.40",
    "Minn. Stat. 325F.58, labour": "1 h $60.00 $60.00",
    "Minn. Stat. 325F.58, other charges": "Shop supplies, 5% of labour, at most $15.00",
    "Minn. Stat. 325F.58, tax": "Sales tax 8% on $81.40 $6.51",
    "Minn. Stat. 325F.58, total": "Total $87.91",
    "Minn. Stat. 325F.58, storage": "Storage",
    "16 CCR 3353, not over the estimate": "$87.91 with tax. We do not go over that",
    "16 CCR 3353, charge if the owner says no": "$37.80",
    "local law governs": "check your local law",
}
INVOICE = {
    "Minn. Stat. 325F.60, date": "Mon 7 Apr 2031",
    "Minn. Stat. 325F.60, all work done": "Starter off and on",
    "Minn. Stat. 325F.60, part, rebuilt": "rebuilt 1 $42.00 $42.00",
    "Minn. Stat. 325F.60, part number": "part ST-9",
    "Minn. Stat. 325F.60, labour": "0.5 h $60.00 $30.00",
    "Minn. Stat. 325F.60, materials": "Shop supplies, 5% of labour, at most $15.00",
    "Minn. Stat. 325F.60, tax": "Sales tax 8% on",
    "Minn. Stat. 325F.60, symptoms as told": "Starts, then dies when I squeeze the trigger.",
    "16 CCR 3356, subtotal of parts": "Parts $60.40",
    "16 CCR 3356, subtotal of labour": "Labour $90.00",
    "16 CCR 3353, spoken yes: who, amount": "Mara Quill said yes to $87.91",
    "16 CCR 3353, spoken yes: number": "by phone 555-0142",
    "16 CCR 3353, spoken yes: date and time": "Mon 7 Apr 2031, 09:00",
    "16 CCR 3353, added work: new yes with its amount": "said yes to $167.29",
    "16 CCR 3353, added work: how": "by text",
    "16 CCR 3358, one identifier": "T1001",
    "replaced parts were asked for": "You asked for the replaced parts",
}


@pytest.mark.parametrize("words", ESTIMATE.values(), ids=ESTIMATE)
def test_the_estimate_of_the_job_holds(papers: tuple[str, str], words: str) -> None:
    assert words in papers[0]


@pytest.mark.parametrize("words", INVOICE.values(), ids=INVOICE)
def test_the_invoice_of_the_job_holds(papers: tuple[str, str], words: str) -> None:
    assert words in papers[1]

"""What the papers are told: the claim tag, charges with their why, and the work performed."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image

from shopdesk.job.approval import approve, decline
from shopdesk.job.causes import say_cause
from shopdesk.job.diagnosis import confirm_complaint, record_finding, record_observation
from shopdesk.job.invoices.crediting import PartCredit, credit_part
from shopdesk.job.lines import LineEntry, add_line, turn_down
from shopdesk.job.moving import go_on
from shopdesk.job.paperwork import charge_rows, tag_content
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.payments import give_back, take_payment
from shopdesk.job.photos import add_photo
from shopdesk.job.pickup import credit_invoice, invoice_as_issued, issue_invoice
from shopdesk.job.reasons import NO_FINDING
from shopdesk.job.reference import cautions
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import find_ticket, rows_of
from shopdesk.job.summary import summary_content
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind
from tests.job.workshop import HOUR, INTAKE, KIT, SAYS, at_stage, refused, taken_in


def test_the_claim_tag_says_what_was_agreed_at_the_counter(shift: Shift) -> None:
    entry = replace(INTAKE, accessories="guard", condition="scratched", limit="60")
    tag = tag_content(shift, taken_in(shift, entry=replace(entry, old_parts_back=True)).id)
    assert (tag.ticket, tag.owner.name) == ("T1001", "Mara Quill")
    assert tag.owner.phones == ("home 555-0142",)
    assert (tag.machine.title, tag.machine.serial) == (
        "String trimmer, Tarnbeck TB-26",
        "TB26-004417",
    )
    assert (tag.complaint, tag.onset) == (INTAKE.complaint, "crept in")
    assert (tag.accessories, tag.condition) == ("guard", "scratched")
    assert (tag.taken_in, tag.promised) == (date(2031, 4, 7), date(2031, 4, 14))
    assert (tag.limit, tag.diagnosis_fee) == (Decimal("60.00"), Decimal("37.80"))
    assert tag.old_parts_back
    assert tag.shop.address == ("14 Millrace Lane", "Fernhollow")
    with refused(shift, "ticket", "find it again"):
        tag_content(shift, 77)


def test_an_invoice_says_why_each_line_is_there_and_what_was_paid(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    finding = record_finding(shift, ticket.id, "compression", "80").findings[-1]
    add_line(
        *(shift, ticket.id),
        replace(KIT, description="Ring", reason="worn", finding_id=finding.id, supply="on hand"),
    )
    add_line(shift, ticket.id, LineEntry("discount", "Neighbour", unit_price="5"))
    approve(shift, ticket.id, SAYS)
    take_payment(shift, ticket.id, "20", "cash")
    set_supply(shift, ticket.lines[0].id, "on hand")
    ticket = go_on(shift, ticket.id, Stage.REPAIR)
    for line in ticket.lines[:3]:
        do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Runs", "pass", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    billed = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "5", "card")
    give_back(shift, ticket.id, "1", "card")
    content = invoice_as_issued(shift, billed.invoices[-1].id)
    kit, labour, ring, discount = content.rows
    assert (kit.why, kit.evidence) == ("failed", NO_FINDING)
    assert (labour.why, labour.evidence) == ("failed", "")
    assert ring.why == "worn"
    assert ring.evidence.startswith("Compression: 80 psi (should be: at least")
    assert (discount.net, discount.taxed) == (Decimal("-5.00"), True)
    assert [(row.amount, row.deposit) for row in content.payments] == [(Decimal("20.00"), True)]
    assert content.totals.due == content.totals.total - 20
    assert content.approvals[0].when == "Mon 7 Apr 2031, 09:00"
    assert content.approvals[0].how == "by phone 555-0142"


def test_a_charge_names_what_is_charged_and_why(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    add_line(shift, ticket.id, LineEntry("fee", "Disposal", unit_price="5", reason="asked"))
    turn_down(shift, ticket.lines[1].id)
    shop = replace(shift.shop, taxed=frozenset({LineKind.PART}))
    with shift.records.reading():
        rows = charge_rows(rows_of(find_ticket(ticket.id)), shop)
    assert [(row.kind, row.description, row.net, row.taxed) for row in rows] == [
        ("part", KIT.description, Decimal("18.40"), True),
        ("fee", "Disposal", Decimal("5.00"), False),
    ]
    assert [(row.why, row.evidence, row.condition) for row in rows] == [
        ("failed", NO_FINDING, "new"),
        ("asked for by the owner", "", ""),
    ]


def test_the_work_performed_is_told_from_complaint_to_what_next(
    shift: Shift, tmp_path: Path
) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    confirm_complaint(shift, ticket.id, "seen", "dies at once")
    finding = record_finding(shift, ticket.id, "compression", "80").findings[-1]
    add_line(shift, ticket.id, replace(KIT, finding_id=finding.id))
    add_line(shift, ticket.id, replace(HOUR, description="New grip", reason="asked"))
    ticket = go_on(shift, ticket.id, Stage.APPROVAL)
    approve(shift, ticket.id, replace(SAYS, declined_line_ids=(ticket.lines[1].id,)))
    go_on(shift, ticket.id, Stage.REPAIR)
    do_line(shift, ticket.lines[0].id)
    record_finding(shift, ticket.id, "plug-gap", ".025", phase="setting")
    record_finding(shift, ticket.id, "compression", "142", phase="proof")
    Image.new("RGB", (9, 9)).save(tmp_path / "a.png")
    add_photo(shift, ticket.id, tmp_path / "a.png", "the ring")
    told = summary_content(shift, ticket.id)
    assert told.confirmed == "We saw the same trouble here. dies at once"
    compression = told.found[0]
    assert (compression.before, compression.after) == ("80 psi", "142 psi")
    assert (compression.verdict, compression.verdict_after) == ("fail", "pass")
    assert "130" in compression.limit
    assert [(row.what, row.had_failed) for row in told.done] == [("Carburettor kit", True)]
    assert [row.what for row in told.not_done] == ["New grip"]
    assert [row.before for row in told.settings] == ["0.025 in"]
    assert [row.before for row in told.proof] == ["142 psi"]
    assert told.total == Decimal("19.87")
    assert any("fuel line" in words for words in told.cautions)
    assert cautions().standing.words not in told.cautions
    assert [photo.caption for photo in told.photos] == ["the ring"]
    assert told.photos[0].file.is_file()
    assert told.next_steps
    assert not told.returned_as_is


@pytest.mark.parametrize(
    ("readings", "cleared"),
    [
        ({"spark": "s", "compression": "142"}, ["spark", "compression"]),
        ({"spark": "s", "compression": "80"}, ["spark", ""]),
        ({"spark": "s", "plug-gap": ".060"}, ["", ""]),
        ({"spark": "w", "plug-gap": ".025"}, ["", ""]),
        ({"plug-gap": ".025", "primer": "7", "air-filter": "c"}, ["", "", ""]),
    ],
)
def test_a_first_look_clears_its_system_unless_more_of_it_was_off(
    shift: Shift, readings: dict[str, str], cleared: list[str]
) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    for check, reading in readings.items():
        record_finding(shift, ticket.id, check, reading)
    assert [row.clears for row in summary_content(shift, ticket.id).found] == cleared


def test_advice_for_the_bench_is_left_out_of_the_summary(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    record_finding(shift, ticket.id, "spark", "s")
    record_finding(shift, ticket.id, "plug-gap", ".025")
    record_finding(shift, ticket.id, "compression", "80")
    told = summary_content(shift, ticket.id)
    assert [row.rules_out for row in told.found] == [
        "Coil, lead and stop switch make a spark.",
        "The plug gap is not what weakens the spark.",
        "",
    ]


def credited_ticket(shift: Shift) -> TicketView:
    """Return a ticket invoiced and paid: kit 18.40, labour 60.00, two plugs at 6.00; 97.63."""
    ticket = at_stage(shift, Stage.PICKUP)
    plugs = replace(KIT, description="Plugs", quantity="2", unit_price="6", part_number="")
    ticket = add_line(shift, ticket.id, plugs)
    approve(shift, ticket.id, SAYS)
    do_line(shift, ticket.lines[-1].id)
    ticket = issue_invoice(shift, ticket.id)
    return take_payment(shift, ticket.id, str(ticket.balance), "card")


def test_the_summary_takes_off_what_was_credited_and_says_why(shift: Shift) -> None:
    ticket = credited_ticket(shift)
    assert summary_content(shift, ticket.id).credits == ()
    credit_part(shift, ticket.id, PartCredit("the kit was faulty", ((1, "1"),)))
    credit_part(shift, ticket.id, PartCredit("one plug was ours", ((3, "1"),)))
    credit_part(shift, ticket.id, PartCredit("for the wait", amount="1.08"))
    told = summary_content(shift, ticket.id)
    assert told.total == Decimal("97.63") - Decimal("19.87") - Decimal("6.48") - Decimal("1.08")
    assert [(row.amount, row.why) for row in told.credits] == [
        (Decimal("19.87"), "the kit was faulty"),
        (Decimal("6.48"), "one plug was ours"),
        (Decimal("1.08"), "for the wait"),
    ]
    assert [(row.what, row.credited) for row in told.done] == [
        (KIT.description, "the kit was faulty"),
        (HOUR.description, ""),
        ("Plugs", "1 of 2: one plug was ours"),
    ]


def test_an_invoice_credited_whole_and_written_anew_is_no_credit(shift: Shift) -> None:
    ticket = credited_ticket(shift)
    credit_invoice(shift, ticket.id, "wrong name")
    assert summary_content(shift, ticket.id).owed is None
    issue_invoice(shift, ticket.id)
    told = summary_content(shift, ticket.id)
    assert (told.total, told.owed, told.credits) == (Decimal("97.63"), Decimal("0.00"), ())
    assert [row.credited for row in told.done] == ["", "", ""]


def test_declined_the_summary_says_it_goes_home_as_it_came(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    decline(shift, ticket.id, SAYS)
    told = summary_content(shift, ticket.id)
    assert told.returned_as_is
    assert told.done == ()
    assert told.next_steps == ()
    assert [row.what for row in told.not_done] == [KIT.description, HOUR.description]


@pytest.mark.parametrize(
    ("key", "words", "said"),
    [
        ("air-filter", "", "choked air filter"),
        ("stale-fuel", "nine months old", "stale fuel: nine months old"),
        ("something-else", "a wasp nest in the muffler", "a wasp nest in the muffler"),
        ("", "", ""),
    ],
)
def test_the_summary_names_the_cause(shift: Shift, key: str, words: str, said: str) -> None:
    ticket = say_cause(shift, at_stage(shift, Stage.REPAIR).id, key, words)
    assert summary_content(shift, ticket.id).cause == said


def test_a_complaint_that_was_not_looked_into_says_nothing(shift: Shift) -> None:
    assert summary_content(shift, taken_in(shift).id).confirmed == ""

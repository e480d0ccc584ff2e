"""The one ticket that goes through the whole job: what is said of it, and its papers."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.demo.folder import PAPERS
from shopdesk.job.reasons import NO_FINDING
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS, PROOF, SETTING
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from tests.demo.conftest import Ran


def _text(file: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(file).pages).split())


def _paper(ran: Ran, name: str) -> Path:
    (found,) = (ran.folder / PAPERS).glob(f"*{name}*.pdf")
    return found


def test_it_went_home_mended_paid_and_explained(followed: TicketView) -> None:
    assert (followed.stage, followed.outcome) == (Stage.CLOSED, "mended")
    assert followed.balance == 0
    assert {one.phase for one in followed.findings} == {DIAGNOSIS, SETTING, PROOF}
    assert {one.verdict for one in followed.findings if one.phase == DIAGNOSIS} == {
        "pass",
        "marginal",
        "fail",
    }
    assert all(one.verdict == "pass" for one in followed.findings if one.phase == PROOF)
    assert all(line.done for line in followed.lines if line.kind in ("part", "labour"))
    assert NO_FINDING not in {line.evidence for line in followed.lines}
    assert followed.photos
    assert followed.reminders


def test_an_owner_said_yes_by_phone_before_work_began(followed: TicketView) -> None:
    (word,) = followed.approvals
    assert (word.yes, word.how, word.amount) == (True, "by phone", followed.estimates[0].total)


@pytest.mark.parametrize(
    "stage",
    [
        Stage.INTAKE,
        Stage.DIAGNOSIS,
        Stage.APPROVAL,
        Stage.PARTS,
        Stage.REPAIR,
        Stage.PICKUP,
        Stage.CLOSED,
    ],
)
def test_every_stage_is_told(ran: Ran, stage: Stage) -> None:
    assert any(line.startswith(f"{stage:<11}") for line in ran.said)


def test_the_odds_are_told_before_and_after_the_look(ran: Ran) -> None:
    told = " ".join(" ".join(ran.said).split())
    before, after = (told.index(f"likeliest {when}: ") for when in ("before a look", "after it"))
    assert before < told.index("next: Spark in a tester.") < after
    assert told[after:].startswith("likeliest after it: cracked or collapsed fuel line over 99%")
    assert "“Spark arrester screen” does not come from the likelier causes" in told[after:]


def test_it_comes_apart_and_goes_back_turned_round(ran: Ran, followed: TicketView) -> None:
    told = " ".join(" ".join(ran.said).split())
    places = [told.index(words) for words in ("off 1: Engine cover", "off 6: Muffler", "back 1:")]
    assert places == sorted(places)
    assert told.index("back 4: Metering cover") < told.index("back 3: Carburettor")
    assert "plug torque: 20 lbf·ft, pass: 18.0 to 21.6 lbf·ft" in told
    assert "Engine cover, 4 fasteners counted back" in told
    assert [step.number for step in followed.reassembly][-1] == 1
    assert all(step.done for step in followed.reassembly)


def test_what_it_was_is_said_at_the_end_and_kept(ran: Ran, followed: TicketView) -> None:
    told = " ".join(" ".join(ran.said).split())
    assert "our card of this model, trap: draw the lines" in told
    assert "it was: cracked or collapsed fuel line: return line split at the grommet" in told
    assert followed.cause == "cracked-fuel-line"


def test_a_reading_is_told_with_verdict_limit_and_source(ran: Ran, followed: TicketView) -> None:
    told = " ".join(" ".join(ran.said).split())
    assert "Compression: 126 psi, pass: at least 117 psi (130 psi at sea level" in told
    assert "common practice, no published source" in told
    agreed = show_money(followed.approvals[0].amount)
    assert f"Phoebe Castellan-Roe says yes to {agreed} by phone 555-0150" in told


def test_six_papers_are_named_and_there(ran: Ran) -> None:
    files = sorted(path.name for path in (ran.folder / PAPERS).iterdir())
    assert len(files) == 6
    assert all(any(name in line for line in ran.said) for name in files)


@pytest.mark.parametrize("paper", ["claim tag", "estimate", "invoice", "work and why"])
def test_a_paper_names_ticket_owner_and_machine(ran: Ran, paper: str) -> None:
    text = _text(_paper(ran, paper))
    assert f"T{ran.number}" in text
    assert "Phoebe Castellan-Roe" in text
    assert "Tarnbeck TB-26" in text
    assert "It ran when I hung it up." in text


def test_the_invoice_says_what_it_came_to_and_what_was_paid_before(
    ran: Ran, followed: TicketView
) -> None:
    text = _text(_paper(ran, "invoice"))
    assert show_money(followed.invoices[0].total) in text
    assert "$20.00" in text
    assert "SL-4408" in text


def test_the_letter_says_what_falls_due(ran: Ran, followed: TicketView) -> None:
    text = _text(_paper(ran, "reminder"))
    for title in followed.reminders[-1].titles:
        assert title in text


def test_the_money_is_told_step_by_step(ran: Ran, followed: TicketView) -> None:
    told = " ".join(" ".join(ran.said).split())
    steps = [
        "diagnosis on the clock: ",
        "way out, Only what failed: ",
        "We would take “",
        f"estimate {followed.number}-1: ",
        "deposit of $20.00 taken by card",
        "a basket, cheapest: ",
        "the soonest one is taken. Order P",
        f"T{followed.number} got 1 × Carburettor diaphragm and gasket kit and is in Repair now.",
        "repair on the clock: ",
        f"the chain of invoices ends in invoice {followed.invoices[0].number} with the seal ",
        "next upkeep ",
    ]
    places = [told.index(step) for step in steps]
    assert places == sorted(places)

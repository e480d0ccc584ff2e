"""The demo shop: enough of everything, every turn of the job, nobody real, the same each time."""

import os
import re
import shutil
import sqlite3
import subprocess
import sys
from collections import Counter
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.machines import Kind
from shopdesk.demo.folder import RECORDS
from shopdesk.demo.narrator import WIDEST
from shopdesk.job.audit import audit
from shopdesk.job.board import open_tickets
from shopdesk.job.customers import get_customer
from shopdesk.job.due_list import due_list
from shopdesk.job.find import find_anything
from shopdesk.job.history import customer_history, unit_history, unit_owners
from shopdesk.job.model_notes import model_card
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift
from shopdesk.job.shop_history import shop_history
from shopdesk.job.stages import AS_IS, MENDED, NOT_FETCHED, Move, Stage
from shopdesk.job.views import TicketView
from shopdesk.records.examine import examine
from shopdesk.records.tables import (
    Approval,
    Customer,
    Finding,
    Invoice,
    Line,
    Payment,
    Photo,
    Ticket,
    Unit,
)
from tests.demo.conftest import TODAY, Ran

FICTION = re.compile(r"5555550?1\d\d|55501\d\d")
"""The numbers kept for fiction: 555-0100 to 555-0199, with or without an area code of its kind."""
ONCE_MADE = ("schema_migration",)


def _tables(file: Path) -> dict[str, list[tuple[Any, ...]]]:
    with closing(sqlite3.connect(file)) as database:
        names = [
            name
            for (name,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if not name.startswith("sqlite_") and name not in ONCE_MADE
        ]
        return {name: database.execute(f'SELECT * FROM "{name}"').fetchall() for name in names}


def _tickets(shift: Shift, **wanted: object) -> list[TicketView]:
    with shift.records.reading():
        ids = [row.id for row in Ticket.select().filter(**wanted).order_by(Ticket.id)]
    return [open_ticket(shift, ticket_id) for ticket_id in ids]


def test_there_is_a_shop_full_of_them(shift: Shift) -> None:
    with shift.records.reading():
        assert Customer.select().count() >= 40
        assert Unit.select().count() >= 60
        assert {row.kind for row in Unit.select()} == set(Kind)
        assert {row.engine for row in Unit.select()} == {
            "two-stroke",
            "four-stroke",
            "corded",
            "cordless",
        }
        assert Ticket.select().count() >= 150
        first = min(row.taken_in_at.date() for row in Ticket.select())
        assert timedelta(days=3.8 * 365) < TODAY - first < timedelta(days=4.2 * 365)
        assert Photo.select().count() >= 20


def test_spring_is_the_busy_time(shift: Shift) -> None:
    with shift.records.reading():
        months = Counter(row.taken_in_at.month for row in Ticket.select())
    assert sum(months[month] for month in (3, 4, 5)) > 1.5 * sum(
        months[month] for month in (7, 8, 12)
    )


def test_most_visits_hold_judged_readings_with_limit_and_source(shift: Shift) -> None:
    with shift.records.reading():
        findings = list(Finding.select().where(Finding.check_key != ""))
        verdicts = Counter(row.verdict for row in findings)
    assert len(findings) > 700
    assert min(verdicts[verdict] for verdict in ("pass", "marginal", "fail")) > 40
    assert all(row.source for row in findings if row.verdict == "fail")
    assert any("850 m" in row.correction for row in findings if row.check_key == "compression")


def test_what_failed_is_borne_out_by_a_finding(shift: Shift) -> None:
    with shift.records.reading():
        failed = Line.select().where(Line.reason.in_(["failed", "worn"]) & (Line.kind != "fee"))
        bare = [line.description for line in failed if line.finding_id is None]
    assert bare == []


def test_an_open_ticket_stands_at_every_stage(shift: Shift) -> None:
    rows = [row for rows in open_tickets(shift).values() for row in rows]
    assert {row.stage for row in rows} == set(Stage) - {Stage.CLOSED}


@pytest.mark.parametrize("move", [move for move in Move if move is not Move.NOBODY])
def test_something_waits_for_each_of_them(shift: Shift, move: Move) -> None:
    assert open_tickets(shift)[move]


def test_some_are_late(shift: Shift) -> None:
    late = [row for rows in open_tickets(shift).values() for row in rows if row.days_late]
    assert len(late) >= 3


def test_both_turns_of_approval_parts_and_pickup_are_there(shift: Shift) -> None:
    where = {(row.stage, move) for move, rows in open_tickets(shift).items() for row in rows}
    assert where >= {
        (Stage.APPROVAL, Move.COUNTER),
        (Stage.APPROVAL, Move.OWNER),
        (Stage.PARTS, Move.COUNTER),
        (Stage.PARTS, Move.SUPPLIER),
        (Stage.PICKUP, Move.COUNTER),
        (Stage.PICKUP, Move.OWNER),
    }


def test_the_shop_knows_what_its_tickets_turned_out_to_be(shift: Shift) -> None:
    mended = _tickets(shift, outcome=MENDED)
    named = [ticket for ticket in mended if ticket.cause]
    assert len(named) > 0.9 * len(mended)
    assert {ticket.cause for ticket in named} >= {SOMETHING_ELSE, "hard-diaphragms", "worn-pack"}
    assert all(ticket.cause_title for ticket in named)
    assert not any(
        ticket.cause
        for rows in open_tickets(shift).values()
        for row in rows
        if row.stage in (Stage.INTAKE, Stage.DIAGNOSIS)
        for ticket in [open_ticket(shift, row.ticket_id)]
    )
    counts = shop_history(shift, "string trimmer", "two-stroke", "Tarnbeck", "TB-26")
    assert sum(counts.model.values()) >= 3
    assert sum(counts.rest_of_kind.values()) >= 5


def test_some_machines_were_taken_apart_and_all_went_back(shift: Shift) -> None:
    apart = [ticket for ticket in _tickets(shift, outcome=MENDED) if ticket.teardown]
    assert len(apart) >= 5
    assert {ticket.unit.kind for ticket in apart} >= {"string trimmer", "chain saw", "lawn mower"}
    for ticket in apart:
        assert all(step.done and not step.left_over for step in ticket.reassembly)
    assert any(
        "circlips" in words for one in apart for step in one.teardown for words in step.fasteners
    )
    assert any(step.entered for one in apart for step in one.reassembly)


def test_one_saw_lies_on_the_bench_half_together(shift: Shift) -> None:
    (saw,) = [
        ticket
        for ticket in _tickets(shift, stage=Stage.REPAIR)
        if any(step.done for step in ticket.reassembly)
    ]
    assert saw.unit.kind == "chain saw"
    waiting = [step for step in saw.reassembly if not step.done]
    assert 0 < len(waiting) < len(saw.reassembly)
    assert any("not all is back together" in words for words in saw.missing_before(Stage.PICKUP))


def test_models_have_cards_grown_from_tickets(shift: Shift) -> None:
    trimmer = model_card(shift, "Tarnbeck", "TB-26")
    saw = model_card(shift, "Brindmoor", "BM 45")
    assert trimmer is not None
    assert saw is not None
    assert {note.kind for note in trimmer.notes} == {"setting", "hose length", "trap", "usual part"}
    assert all(note.tag for note in trimmer.notes)
    assert trimmer.record.causes
    assert [limit.check_key for limit in saw.limits] == ["idle-speed"]
    judged = [
        finding.source
        for ticket in _tickets(shift, outcome=MENDED)
        if (ticket.unit.make, ticket.unit.model) == ("Brindmoor", "BM 45")
        for finding in ticket.findings
        if finding.check_key == "idle-speed"
    ]
    assert any(source.startswith("maker's sheet, page 3") for source in judged)


def test_comebacks_point_to_the_visit_before_and_cost_nothing(shift: Shift) -> None:
    comebacks = [one for one in _tickets(shift) if one.comeback_of]
    assert len(comebacks) >= 3
    for ticket in comebacks:
        assert {line.reason for line in ticket.lines} in ({"comeback"}, {"warranty"})
        assert all(line.value for line in ticket.lines)
        assert ticket.totals.total == 0
        visits = {visit.number: visit for visit in unit_history(shift, ticket.unit.id)}
        assert ticket.comeback_of in visits
        assert visits[ticket.comeback_of or 0].outcome == MENDED


def test_some_said_no_and_paid_the_diagnosis(shift: Shift) -> None:
    as_is = _tickets(shift, outcome=AS_IS)
    assert sum(ticket.declined for ticket in as_is) >= 3
    for ticket in as_is:
        assert {line.reason for line in ticket.lines if not line.declined} == {"diagnosis"}
        assert ticket.balance == 0


def test_some_took_only_part_of_what_was_offered(shift: Shift) -> None:
    mended = _tickets(shift, outcome=MENDED)
    assert any(line.declined for ticket in mended for line in ticket.lines)


def test_one_was_never_fetched(shift: Shift) -> None:
    (ticket,) = _tickets(shift, outcome=NOT_FETCHED)
    assert "never fetched" in ticket.balance_reason


def test_one_bill_was_taken_back_and_written_anew(shift: Shift) -> None:
    with shift.records.reading():
        notes = list(Invoice.select().where(Invoice.credits.is_null(False)))
        (ticket_id,) = {row.ticket_id for row in notes if row.total == -row.credits.total}
    ticket = open_ticket(shift, ticket_id)
    first, credit, second = ticket.invoices
    assert credit.credits == first.number
    assert credit.total == -first.total
    assert second.total < first.total
    assert ticket.balance == 0


def test_deposits_and_every_way_of_paying(shift: Shift) -> None:
    with shift.records.reading():
        assert {row.method for row in Payment.select()} >= {"cash", "card", "cheque"}
        assert Payment.select().where(Payment.note == "deposit").count() >= 2
        assert {row.how for row in Approval.select()} >= {"by phone", "in person", "by text"}


def test_a_machine_was_sold_on_and_kept_its_history(shift: Shift) -> None:
    with shift.records.reading():
        units = [row.id for row in Unit.select()]
    (owners,) = [found for one in units if len(found := unit_owners(shift, one)) > 1]
    assert [one.owner for one in owners] == ["Jessamy Croftlow", "Emrys Pendrift"]
    assert owners[0].until == owners[1].since


def test_a_household_shares_one_phone(shift: Shift) -> None:
    found = [hit for hit in find_anything(shift, "5550117") if hit.customer_id]
    assert len(found) == 3
    assert {hit.title.split()[-1] for hit in found} == {"Threlkeld-Oake"}


def test_the_school_pays_no_tax(shift: Shift) -> None:
    (hit,) = [hit for hit in find_anything(shift, "village school") if hit.customer_id]
    assert hit.customer_id is not None
    assert get_customer(shift, hit.customer_id).tax_exempt_number
    visits = customer_history(shift, hit.customer_id)
    assert visits
    for visit in visits:
        assert open_ticket(shift, visit.ticket_id).totals.tax == 0


@pytest.mark.parametrize(
    "script", ["LATIN SMALL LETTER L WITH STROKE", "GREEK", "CYRILLIC", "HORN"]
)
def test_names_come_in_many_letters(shift: Shift, script: str) -> None:
    import unicodedata

    with shift.records.reading():
        names = "".join(row.name for row in Customer.select())
    assert any(script in unicodedata.name(letter, "").upper() for letter in names.casefold())


def test_nobody_can_be_called_or_written_to(ran: Ran) -> None:
    texts = [
        value
        for rows in _tables(ran.folder / RECORDS).values()
        for row in rows
        for value in row
        if isinstance(value, str)
    ]
    numbers = {
        re.sub(r"\D", "", found)
        for text in texts
        for found in re.findall(r"(?:\(\d{3}\) ?)?\b\d{3}-\d{4}\b", text)
    }
    assert len(numbers) > 40
    assert [number for number in numbers if not FICTION.fullmatch(number)] == []
    mails = {found for text in texts for found in re.findall(r"[\w.]+@[\w.-]+\w", text)}
    assert mails
    assert {mail.partition("@")[2] for mail in mails} <= {
        "example.com",
        "example.org",
        "example.net",
    }


def test_the_owner_hears_of_upkeep(shift: Shift) -> None:
    due = due_list(shift, shift.today + timedelta(days=90))
    assert len(due) > 10
    assert [one.due_on for one in due] == sorted(one.due_on for one in due)
    assert all(machine.rows for one in due for machine in one.machines)
    assert any(one.way for one in due)


def test_the_records_are_sound(shift: Shift) -> None:
    assert examine(shift.records).faults == ()
    assert audit(shift).faults == ()


def test_nothing_happened_after_the_eve(ran: Ran) -> None:
    with closing(sqlite3.connect(ran.folder / RECORDS)) as database:
        (last,) = database.execute("SELECT max(at) FROM journal_entry").fetchone()
    assert last[:10] <= TODAY.isoformat()
    assert last < f"{TODAY.isoformat()} 01:00"


def test_the_same_day_makes_the_same_shop(ran: Ran, tmp_path: Path) -> None:
    """Run it once more, in a process of its own and without a display, and compare row by row."""
    folder = tmp_path / "again"
    command = ["-m", "shopdesk", "demo", "--folder", str(folder), "--today", TODAY.isoformat()]
    done = subprocess.run(
        [sys.executable, *command],
        env={name: value for name, value in os.environ.items() if name != "DISPLAY"}
        | {"COLUMNS": str(shutil.get_terminal_size((WIDEST, 40)).columns)},
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parents[2],
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert _tables(folder / RECORDS) == _tables(ran.folder / RECORDS)
    *told, why_no_window = done.stdout.replace(str(folder), str(ran.folder)).splitlines()
    assert told == ran.said[:-1]
    assert why_no_window.startswith("The window was not opened. There is no display here")
    assert ran.said[-1] == "The window was not opened. --no-window was asked for."

"""One owner's own data: handed out whole, erased when they ask, the books still proved."""

import json
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from shopdesk.errors import JobError
from shopdesk.job.approval import decline, quote
from shopdesk.job.audit import audit
from shopdesk.job.customers import CustomerEntry, add_customer, change_customer, get_customer
from shopdesk.job.drafts import Place, drafts_left, keep_draft
from shopdesk.job.erasing import ERASED, erase_owner, what_erasing_does
from shopdesk.job.lines import add_line
from shopdesk.job.merging.apart import owner_merges
from shopdesk.job.merging.owners import merge_owners
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.own_data import owner_data, write_owner_data
from shopdesk.job.pickup import hand_over
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import change_unit, hand_on
from shopdesk.job.views import TicketView
from shopdesk.records.examine import examine
from shopdesk.records.tables import Invoice, JournalEntry
from tests.job.workshop import (
    HOUR,
    INTAKE,
    OTHER_OWNER,
    OWNER,
    SAW,
    SAYS,
    TRIMMER,
    at_stage,
    taken_in,
)

SECRETS = ("quill", "mara@example.com", "orchard row", "5550142", "555-0142", "squeeze the trigger")
ISSUED = {"invoice", "stored_file", "estimate", "approval"}
"""Where the name of an owner who was billed stays, and in the journal's entries on these."""


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    """Mara's trimmer, mended, paid for and gone."""
    return at_stage(shift, Stage.CLOSED)


def told_in(shift: Shift) -> set[str]:
    """Return the tables in whose rows, or whose journal, any of the secrets stands."""
    found: set[str] = set()
    with closing(sqlite3.connect(shift.records.file)) as raw:
        tables = [
            name for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        for table in tables:
            cursor = raw.execute(f'SELECT * FROM "{table}"')
            names = [column[0] for column in cursor.description]
            for row in cursor:
                if any(secret in str(row).lower() for secret in SECRETS):
                    at = dict(zip(names, row, strict=True))
                    found.add(at["table"] if table == "journal_entry" else table)
    return found


def test_all_that_is_kept_about_an_owner(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    taken_in(shift, OTHER_OWNER, SAW)
    data = owner_data(shift, ticket.owner.id)
    assert data.owner.name == "Mara Quill"
    assert data.tickets == (ticket.id,)
    file = write_owner_data(data, tmp_path / "mara")
    said = json.loads(file.read_text("utf-8"))
    assert said["owner"]["phones"] == "home 555-0142"
    assert [one["complaint"] for one in said["tickets"]] == [INTAKE.complaint]
    assert len(said["invoices"]) == len(said["machines"]) == 1
    assert "cost" not in said["lines"][0]
    assert "Brightwater" not in file.read_text("utf-8")


def test_a_machine_that_has_another_owner_tells_nothing_of_them(
    shift: Shift, ticket: TicketView
) -> None:
    other = add_customer(shift, OTHER_OWNER)
    change_unit(shift, ticket.unit.id, replace(TRIMMER, notes="Łukasz rings first"))
    hand_on(shift, ticket.unit.id, other.id)
    (machine,) = owner_data(shift, ticket.owner.id).content["machines"]
    assert machine["serial"] == "TB26-004417"
    assert not {"owner_id", "owner_name", "owner_phones", "machine_notes"} & machine.keys()


def test_erasing_leaves_the_name_only_where_it_was_billed(shift: Shift, ticket: TicketView) -> None:
    with shift.records.reading():
        before = [(row.number, row.content, row.hash) for row in Invoice.select()]
    change_customer(shift, ticket.owner.id, replace(OWNER, notes="Mara Quill pays late"))
    done = erase_owner(shift, ticket.owner.id)
    assert not done.refusal
    owner = get_customer(shift, ticket.owner.id)
    assert (owner.name, owner.phones, owner.email, owner.address, owner.notes) == (
        *(ERASED, (), "", "", ""),
    )
    assert not owner.may_remind
    assert told_in(shift) <= ISSUED
    with shift.records.reading():
        assert [(row.number, row.content, row.hash) for row in Invoice.select()] == before
    assert audit(shift).faults == ()
    assert examine(shift.records).faults == ()
    assert open_ticket(shift, ticket.id).complaint == "erased on request"


def test_of_an_owner_who_was_never_billed_nothing_is_left_in_the_file(shift: Shift) -> None:
    ticket = taken_in(shift)
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    add_line(shift, ticket.id, HOUR)
    quote(shift, ticket.id)
    decline(shift, ticket.id, SAYS)
    go_on(shift, ticket.id, Stage.PICKUP)
    assert hand_over(shift, ticket.id).stage is Stage.CLOSED
    keep_draft(shift, Place("owner", ticket.owner.id), "Mara", {"f": {"name": "Mara Quill"}})
    erase_owner(shift, ticket.owner.id)
    assert told_in(shift) == set()
    assert drafts_left(shift) == ()
    assert audit(shift).faults == ()
    held = shift.records.file.read_bytes().lower()
    held += shift.records.file.with_name(f"{shift.records.file.name}-wal").read_bytes().lower()
    for secret in SECRETS:
        assert secret.encode() not in held


def test_it_is_refused_while_a_ticket_is_open(shift: Shift) -> None:
    ticket = taken_in(shift)
    told = what_erasing_does(shift, ticket.owner.id)
    assert told.refusal == f"Ticket {ticket.tag} of Mara Quill is still open: close it first."
    with pytest.raises(JobError, match="is still open"):
        erase_owner(shift, ticket.owner.id)
    assert get_customer(shift, ticket.owner.id).name == "Mara Quill"


def test_an_owner_is_erased_once(shift: Shift) -> None:
    owner = add_customer(shift, CustomerEntry("Mara Quill"))
    told = what_erasing_does(shift, owner.id)
    assert "backups and papers written before today" in told.stays[-1]
    assert told.refusal == ""
    erase_owner(shift, owner.id)
    with pytest.raises(JobError, match="was erased already"):
        erase_owner(shift, owner.id)


def test_who_stood_twice_is_erased_twice(shift: Shift) -> None:
    twice = add_customer(shift, replace(OWNER, email="", phones=("555-0142",)))
    once = add_customer(shift, CustomerEntry("M Quill", ("555-0143",), "mara@example.com"))
    merge_owners(shift, once.id, twice.id)
    erase_owner(shift, once.id)
    assert told_in(shift) == set()
    assert owner_merges(shift, once.id) == ()
    assert audit(shift).faults == ()
    with shift.records.reading():
        assert sorted(found_in_journal(shift)) == []


def found_in_journal(shift: Shift) -> list[str]:
    """Return what the journal still tells of phones."""
    entries = JournalEntry.select().where(JournalEntry.table == "phone")
    return [entry.after for entry in entries if "555" in entry.after + entry.before]

"""The journal of a ticket in words: who changed what, when, and from what to what."""

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from shopdesk.errors import JobError
from shopdesk.job.after import make_reminder
from shopdesk.job.causes import say_cause
from shopdesk.job.change_words import COLUMNS, NAMED_BY, THINGS
from shopdesk.job.changes import ColumnChange, RowChange, ticket_changes
from shopdesk.job.diagnosis import correct_finding, drop_finding, record_finding
from shopdesk.job.lines import add_line, change_line
from shopdesk.job.photos import add_photo
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import StepEntry, note_step, tick_step
from shopdesk.records.replay import JOURNALLED
from shopdesk.records.tables import JournalEntry, Ticket
from tests.job.parts.storeroom import offered, ordered, part, waiting
from tests.job.workshop import KIT, another, at_stage

UNSAID = {
    "ticket": {"number"},
    "finding": {
        *("ticket_id", "check_key", "system", "typed", "number", "typed_unit", "si_value"),
        *("si_unit", "outcome", "rules_out", "points_to", "says", "found_by", "found_at"),
    },
    "line": {"ticket_id", "position"},
    "estimate": {"ticket_id", "content", "made_at"},
    "approval": {"ticket_id", "noted_by"},
    "invoice": {"ticket_id", "content", "issued_at", "issued_by", "previous_hash", "hash"},
    "payment": {"ticket_id", "taken_by", "taken_at"},
    "write_off": {"ticket_id", "written_by", "written_at"},
    "reminder": {"unit_id", "customer_id", "ticket_id", "message_id", "made_at"},
    "teardown_step": {"ticket_id", "position", "noted_by", "noted_at"},
    "photo": {"ticket_id", "width", "height", "sha256", "added_at"},
    "model_note": {"model_key", "ticket_id", "written_by", "written_at"},
    "overruled_cause": {"ticket_id", "said_by", "said_at"},
    "work_spell": {"ticket_id"},
    "own_option": {"ticket_id"},
    "message": {"customer_id", "ticket_id", "content", "made_by", "made_at"},
}
"""Columns for the program alone, or that say again who did it and when."""


def last(shift: Shift, ticket_id: int) -> RowChange:
    return ticket_changes(shift, ticket_id)[-1]


def columns(change: RowChange) -> dict[str, tuple[str, str]]:
    return {column.what: (column.before, column.after) for column in change.columns}


def test_every_column_of_a_ticket_and_what_hangs_on_it_is_told_or_left_out_on_purpose() -> None:
    for table in JOURNALLED:
        name = table._meta.table_name
        if table is not Ticket and "ticket_id" not in table._meta.columns:
            continue
        kept = set(table._meta.columns) - {"id", "version"}
        assert name in THINGS
        assert set(NAMED_BY[name]) <= kept
        assert COLUMNS[name].keys() | UNSAID[name] == kept
        assert COLUMNS[name].keys().isdisjoint(UNSAID[name])


def test_intake_is_told_by_what_was_said(shift: Shift) -> None:
    first, *_ = ticket_changes(shift, another(shift, 1).id)
    assert (first.action, first.row, first.who, first.why) == ("added", "ticket T1001", "Sam", "")
    told = columns(first)
    assert told["owner"] == ("", "Owner 1")
    assert told["machine"] == ("", "String trimmer, Tarnbeck TB-26")
    assert told["complaint"] == ("", "Starts, then dies when I squeeze the trigger.")
    assert told["old parts back"] == ("", "no")
    assert told["taken in"][1].startswith("Mon 7 Apr 2031, 09:0")
    assert "notes" not in told


def test_a_corrected_reading_is_told_from_what_to_what(shift: Shift) -> None:
    ticket = record_finding(shift, at_stage(shift, Stage.DIAGNOSIS).id, "compression", "80")
    correct_finding(shift, ticket.findings[-1].id, "142")
    change = last(shift, ticket.id)
    assert (change.action, change.row) == ("changed", "finding “Compression”")
    assert columns(change) == {"showed": ("80 psi", "142 psi"), "verdict": ("fail", "pass")}


def test_money_quantities_days_and_reasons_are_told_as_people_read_them(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    ticket = record_finding(shift, ticket.id, "compression", "80")
    finding = ticket.findings[-1].id
    entry = replace(KIT, quantity="1.5", finding_id=finding, renews="spark-plug")
    ticket = add_line(shift, ticket.id, entry)
    told = columns(last(shift, ticket.id))
    assert told["quantity"] == ("", "1.5")
    assert told["price each"] == ("", "$18.40")
    assert told["finding"] == ("", "Compression")
    assert told["reason"] == ("", "failed")
    assert told["counts as upkeep"][1].startswith("Look at the spark plug")
    assert "what" not in told
    change_line(shift, ticket.lines[-1].id, replace(entry, reason="preventive", unit_price="20"))
    assert columns(last(shift, ticket.id)) == {
        "price each": ("$18.40", "$20.00"),
        "reason": ("failed", "renewed ahead of failure"),
    }


def test_what_was_taken_away_is_told_with_what_it_held(shift: Shift) -> None:
    ticket = record_finding(shift, at_stage(shift, Stage.DIAGNOSIS).id, "compression", "80")
    drop_finding(shift, ticket.findings[-1].id, "wrong machine")
    change = last(shift, ticket.id)
    assert (change.action, change.why) == ("removed", "wrong machine")
    assert columns(change)["showed"] == ("80 psi", "")


def test_teardown_photos_causes_and_reminders_are_told(shift: Shift, tmp_path: Path) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    step = StepEntry("Muffler", fasteners="2 M5 x 20 T27 in cup 3", setting="plug-gap")
    ticket = note_step(shift, ticket.id, step)
    told = columns(last(shift, ticket.id))
    assert told["fasteners"] == ("", "2 × M5 x 20 T27 in cup 3")
    assert told["setting on the way back"] == ("", "Plug gap")
    ticket = tick_step(shift, ticket.teardown[0].id, "2", "0.025 in")
    told = columns(last(shift, ticket.id))
    assert told["fasteners counted back"] == ("", "2")
    assert told["setting entered"] == ("", "Plug gap")
    Image.new("RGB", (9, 9)).save(tmp_path / "a.png")
    add_photo(shift, ticket.id, tmp_path / "a.png", "the ring", step_id=ticket.teardown[0].id)
    change = last(shift, ticket.id)
    assert change.row == "photo “the ring”"
    assert columns(change)["shows the step"] == ("", "Muffler")
    say_cause(shift, ticket.id, "stale-fuel")
    assert columns(last(shift, ticket.id))["cause"] == ("", "stale fuel")


def test_bills_payments_and_letters_are_called_by_their_names(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    issue_invoice(shift, ticket.id)
    credit_invoice(shift, ticket.id, "wrong price")
    issue_invoice(shift, ticket.id)
    make_reminder(shift, ticket.id, "2031-10-31")
    rows = [change.row for change in ticket_changes(shift, ticket.id)]
    assert rows[-4:] == [
        *("invoice 5001", "credit note C1", "invoice 5002"),
        "reminder for Fri 31 Oct 2031",
    ]
    changes = ticket_changes(shift, ticket.id)
    assert ColumnChange("takes back", "", "5001") in changes[-3].columns
    assert columns(changes[-1])["upkeep"][1].startswith("Before it is put away")
    assert any(change.row == "answer of Mara Quill" for change in changes)


def test_a_damaged_journal_is_said(shift: Shift) -> None:
    ticket = another(shift, 1)
    with shift.records.writing():
        JournalEntry.update(after="{").where(JournalEntry.ticket_id == ticket.id).execute()
    with pytest.raises(JobError, match="journal of this ticket is damaged: run shopdesk check"):
        ticket_changes(shift, ticket.id)


def test_an_odd_value_is_told_as_it_stands(shift: Shift) -> None:
    ticket = another(shift, 1)
    with shift.records.writing():
        entry = JournalEntry.get(JournalEntry.table == "ticket")
        after = entry.after.replace('"complaint_kind":""', '"complaint_kind":"odd"')
        JournalEntry.update(after=after).where(JournalEntry.id == entry.id).execute()
    told = columns(ticket_changes(shift, ticket.id)[0])
    assert told["kind of complaint"] == ("", "odd")


def test_where_a_part_came_from_is_told_by_its_names(shift: Shift) -> None:
    filter_ = part(shift)
    supplier = offered(shift, filter_.id)
    ticket = waiting(shift, 1, [(filter_.id, "1")])
    added = next(one for one in ticket_changes(shift, ticket.id) if one.row == "line “Fuel filter”")
    assert columns(added)["part in the catalogue"] == ("", "Fuel filter")
    order = ordered(shift, supplier, filter_.id)
    assert columns(last(shift, ticket.id)) == {
        "comes with the order": ("", f"order {order.number}"),
        "supply": ("to order", "on order"),
        "expected": ("", "Thu 10 Apr 2031"),
    }

"""The shop's own card for a model: it grows from tickets, and says what they came to."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.causes import say_cause
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.history import ticket_journal
from shopdesk.job.limits import LimitEntry, set_model_limit
from shopdesk.job.lines import add_line
from shopdesk.job.model_notes import (
    HOSE,
    KINDS,
    NOTE,
    PART,
    SETTING,
    TOOL,
    TRAP,
    ModelCardView,
    NoteEntry,
    add_note,
    change_note,
    drop_note,
    keep_note,
    keep_part,
    keep_setting,
    model_card,
)
from shopdesk.job.model_record import Counted, ModelRecord
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.records.tables import JournalEntry
from tests.job.mended import closed, mended, on_the_bench
from tests.job.workshop import HOUR, KIT, SAW, TRIMMER, Clock, at_stage, declined, refused, taken_in

NOTHING = ModelRecord(0, 0, 0, None, (), ())


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def card_of(shift: Shift, make: str = "Tarnbeck", model: str = "TB-26") -> ModelCardView:
    card = model_card(shift, make, model)
    assert card is not None
    return card


def test_a_model_that_never_came_in_has_an_empty_card(shift: Shift) -> None:
    assert card_of(shift) == ModelCardView("Tarnbeck", "TB-26", (), (), NOTHING)
    assert card_of(shift).is_empty


def test_a_card_has_something_to_show_once_it_says_more_than_this_visit(
    shift: Shift, ticket: TicketView
) -> None:
    assert card_of(shift).is_empty
    on_the_bench(shift, 7)
    assert not card_of(shift).is_empty
    keep_note(shift, on_the_bench(shift, 8, SAW).id, TRAP, "left-hand thread")
    assert not card_of(shift, SAW.make, SAW.model).is_empty


@pytest.mark.parametrize("model", ["", " ", "-", "…"])
def test_where_no_model_is_named_there_is_no_card(shift: Shift, model: str) -> None:
    assert model_card(shift, "Tarnbeck", model) is None
    with refused(shift, "model", "type the machine's make and model first"):
        add_note(shift, "Tarnbeck", model, NoteEntry(TRAP, "left-hand thread"))


@pytest.mark.parametrize(
    ("make", "model", "same"),
    [
        ("TARNBECK", "tb 26", True),
        ("Tarnbéck", "TB26", True),
        ("Tarn-beck", "T.B./26", True),
        ("Tarnbeck", "TB-260", False),
        ("", "TB-26", False),
        ("Tarnbeck T", "B-26", False),
    ],
)
def test_all_spellings_of_a_model_share_one_card(
    shift: Shift, make: str, model: str, same: bool
) -> None:
    add_note(shift, "Tarnbeck", "TB-26", NoteEntry(TRAP, "left-hand thread on the clutch"))
    card = card_of(shift, make, model)
    assert (card.make, card.model, len(card.notes)) == (make, model, int(same))


def test_each_kind_of_entry_is_kept_from_a_ticket_with_its_day_and_name(
    shift: Shift, clock: Clock, ticket: TicketView
) -> None:
    for kind in reversed(KINDS):
        card = keep_note(shift, ticket.id, kind, f"a {kind}")
    assert [note.kind for note in card.notes] == list(KINDS)
    assert {(note.ticket_id, note.tag, note.written_by) for note in card.notes} == {
        (ticket.id, ticket.tag, "Sam")
    }
    assert {note.written_at.date() for note in card.notes} == {clock.moment.date()}
    assert [note.words for note in card.of_kind(HOSE)] == ["a hose length"]
    assert ticket_journal(shift, ticket.id)[-1].table == "model_note"
    assert card_of(shift) == card


def test_an_entry_written_straight_on_the_card_names_no_ticket(shift: Shift) -> None:
    (note,) = add_note(shift, "Tarnbeck", "TB-26", NoteEntry(TOOL, "clutch wrench")).notes
    assert (note.ticket_id, note.tag, note.written_by) == (None, "", "Sam")


def test_a_setting_left_is_kept_and_brought_up_to_date(shift: Shift, ticket: TicketView) -> None:
    first = record_finding(shift, ticket.id, "coil-gap", "0.012", phase="setting").findings[-1]
    (note,) = keep_setting(shift, first.id).notes
    assert (note.kind, note.title, note.words) == (SETTING, first.title, "0.012 in")
    later = on_the_bench(shift, 7, replace(TRIMMER, model="tb 26"), [("coil-gap", "0.3 mm")])
    (same,) = keep_setting(shift, later.findings[-1].id).notes
    assert (same.id, same.words, same.tag) == (note.id, "0.3 mm", later.tag)
    with shift.records.reading():
        kept = JournalEntry.get(JournalEntry.table == "model_note", JournalEntry.why != "")
    assert (kept.why, "0.012 in" in kept.before) == ("brought up to date", True)


def test_a_setting_out_of_limits_is_not_kept(shift: Shift, ticket: TicketView) -> None:
    wide = record_finding(shift, ticket.id, "coil-gap", "0.040").findings[-1]
    with refused(shift, "finding", "was out of limits at 0.040 in", "record what it was set to"):
        keep_setting(shift, wide.id)
    with refused(shift, "finding", "open the ticket again"):
        keep_setting(shift, 77)


def test_a_part_is_kept_by_its_number(shift: Shift, ticket: TicketView) -> None:
    line = add_line(shift, ticket.id, KIT).lines[-1]
    (note,) = keep_part(shift, line.id).notes
    assert (note.kind, note.words, note.part_number) == (PART, KIT.description, "CK-2201")
    again = add_line(
        shift, ticket.id, replace(KIT, description="Kit, carb", part_number="ck 2201")
    ).lines[-1]
    (same,) = keep_part(shift, again.id).notes
    assert (same.id, same.words, same.part_number) == (note.id, "Kit, carb", "ck 2201")
    bare = add_line(shift, ticket.id, replace(KIT, part_number="")).lines[-1]
    assert len(keep_part(shift, bare.id).notes) == 2


def test_what_is_no_part_is_not_kept_as_one(shift: Shift, ticket: TicketView) -> None:
    hour = add_line(shift, ticket.id, HOUR).lines[-1]
    with refused(shift, "line", "is labour, no part"):
        keep_part(shift, hour.id)
    with refused(shift, "line", "open the ticket again"):
        keep_part(shift, 77)


def test_the_same_entry_twice_stands_once(shift: Shift, ticket: TicketView) -> None:
    first = keep_note(shift, ticket.id, TRAP, "Left-hand thread")
    assert keep_note(shift, ticket.id, TRAP, "Left-hand thread") == first
    assert len(keep_note(shift, ticket.id, TRAP, "left-hand  thread").notes) == 1
    assert len(keep_note(shift, ticket.id, NOTE, "Left-hand thread").notes) == 2
    assert len(keep_note(shift, ticket.id, NOTE, "…").notes) == 3


def test_an_entry_is_changed_and_taken_off(shift: Shift, ticket: TicketView) -> None:
    (note,) = keep_note(shift, ticket.id, HOSE, "tank to carburettor 135 mm").notes
    changed = change_note(shift, note.id, NoteEntry(HOSE, "tank to carburettor 140 mm"))
    assert card_of(shift).notes == (changed,)
    assert (changed.id, changed.words, changed.tag) == (
        *(note.id, "tank to carburettor 140 mm"),
        ticket.tag,
    )
    drop_note(shift, note.id, "another hose now")
    assert card_of(shift).notes == ()
    with refused(shift, "note", "open the card again"):
        drop_note(shift, note.id)
    with refused(shift, "note", "open the card again"):
        change_note(shift, note.id, NoteEntry(HOSE, "x"))


@pytest.mark.parametrize(
    ("kind", "words", "field", "sentence"),
    [
        ("", "x", "kind", "is empty"),
        ("gossip", "x", "kind", "choose one of setting, hose length"),
        (TRAP, " \x00", "words", "The entry is empty: type it"),
        (TRAP, "x" * 10_001, "words", "10,001 characters"),
    ],
)
def test_what_is_no_entry_is_refused_at_its_field(
    shift: Shift, ticket: TicketView, kind: str, words: str, field: str, sentence: str
) -> None:
    with refused(shift, field, sentence):
        keep_note(shift, ticket.id, kind, words)


def test_a_ticket_whose_machine_has_no_model_keeps_nothing(shift: Shift) -> None:
    nameless = on_the_bench(shift, 7, replace(TRIMMER, model=""))
    with refused(shift, "model", "type the machine's make and model first"):
        keep_note(shift, nameless.id, TRAP, "x")


def test_the_card_holds_the_models_limits(shift: Shift) -> None:
    limits = set_model_limit(
        shift, "Tarnbeck", "TB-26", LimitEntry("compression", "at least 115 psi")
    )
    assert card_of(shift, "tarnbeck", "tb26").limits == limits


def test_the_record_counts_tickets_hours_failures_and_causes(shift: Shift) -> None:
    choked, flat = ("arrester", "b"), ("compression", "60")
    mended(shift, 1, "arrester", checks=[choked, choked], hours="0.5")
    second = mended(shift, 2, "arrester", checks=[choked, flat], hours="2")
    say_cause(shift, second.id, "arrester", "half its holes shut")
    other = on_the_bench(shift, 3)
    say_cause(shift, other.id, "something-else", "a mouse's nest in the fan")
    closed(shift, other, "1")
    mended(shift, 4, "arrester", SAW, [choked], "9")
    on_the_bench(shift, 5, checks=[flat])
    record = card_of(shift, "TARNBECK", "TB 26").record
    assert (record.tickets, record.mended, record.comebacks) == (4, 3, 0)
    assert record.median_hours == Decimal(1)
    assert [counted.times for counted in record.failed] == [2, 1]
    assert record.failed[1].words == "Compression"
    assert record.causes == (
        Counted("spark arrester choked with carbon", 2),
        Counted("a mouse's nest in the fan", 1),
    )


def test_the_median_of_an_even_number_lies_between(shift: Shift) -> None:
    mended(shift, 1, hours="0.5")
    mended(shift, 2, hours="0.8")
    assert card_of(shift).record.median_hours == Decimal("0.65")


def test_a_comeback_is_counted(shift: Shift) -> None:
    first = mended(shift, 1)
    back = taken_in(shift, first.owner.id, first.unit.id)
    go_on(shift, back.id, Stage.DIAGNOSIS)
    assert card_of(shift).record.comebacks == 0
    closed(shift, back)
    assert card_of(shift).record.comebacks == 1


def test_a_ticket_reopened_or_returned_as_it_is_counts_as_no_repair(shift: Shift) -> None:
    ticket = mended(shift, 1, "arrester", checks=[("compression", "60")])
    assert card_of(shift).record.failed == (Counted("Compression", 1),)
    send_back(shift, ticket.id, Stage.PICKUP, "wrong bill")
    assert card_of(shift).record == replace(NOTHING, tickets=1)
    declined(shift)
    assert card_of(shift).record.mended == 0

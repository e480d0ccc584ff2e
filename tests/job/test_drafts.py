"""What is typed and not saved yet is there again, and nothing that stands there can do harm."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from shopdesk.errors import JobError, RecordsError
from shopdesk.job.drafts import (
    MOST_LEFT,
    MOST_LETTERS,
    Content,
    DraftView,
    Place,
    drafts_left,
    drop_draft,
    keep_draft,
)
from shopdesk.job.shift import Shift
from shopdesk.records.tables import Draft, JournalEntry
from tests.job.workshop import Clock

INTAKE = Place("Intake", 43)
NEW = Place("new ticket")
TYPED: Content = {
    "visit": {"complaint": "Dies when hot.\n<b>", "comeback": False},
    "owner": {"name": "Łu"},
}


def draft_for(shift: Shift, place: Place) -> DraftView | None:
    """What is left of what was typed at a place."""
    return next((draft for draft in drafts_left(shift) if draft.place == place), None)


def entries(shift: Shift) -> int:
    with shift.records.reading():
        return int(JournalEntry.select().count())


def write(shift: Shift, column: str, value: object) -> None:
    """Let something else than the program write into a draft."""
    with shift.records.writing():
        shift.records.engine.execute_sql(f"UPDATE draft SET {column} = ?", [value])


def test_what_is_typed_is_kept_as_it_was_with_its_time_and_not_journalled(
    shift: Shift, clock: Clock
) -> None:
    before = entries(shift)
    keep_draft(shift, INTAKE, "T1043 Intake", TYPED)
    at = clock.moment
    found = draft_for(shift, INTAKE)
    assert found is not None
    assert (found.place, found.called, found.content) == (INTAKE, "T1043 Intake", TYPED)
    assert found.typed_at == at
    assert draft_for(shift, Place("Intake", 44)) is None
    assert draft_for(shift, Place("Diagnosis", 43)) is None
    assert entries(shift) == before


def test_what_is_typed_later_stands_instead(shift: Shift) -> None:
    keep_draft(shift, NEW, "the new ticket", TYPED)
    keep_draft(shift, NEW, "the new ticket", {"visit": {"complaint": "Else"}})
    (left,) = drafts_left(shift)
    assert left.content == {"visit": {"complaint": "Else"}}


def test_what_is_left_is_listed_the_newest_first_until_dropped(shift: Shift, clock: Clock) -> None:
    keep_draft(shift, NEW, "the new ticket", TYPED)
    later = Shift(shift.records, now=lambda: clock() + timedelta(minutes=5))
    keep_draft(later, INTAKE, "T1043 Intake", TYPED)
    assert [draft.called for draft in drafts_left(shift)] == ["T1043 Intake", "the new ticket"]
    keep_draft(Shift(shift.records, now=lambda: clock() + timedelta(hours=1)), NEW, "new", TYPED)
    assert [draft.called for draft in drafts_left(shift)] == ["new", "T1043 Intake"]
    drop_draft(shift, NEW)
    drop_draft(shift, NEW)
    assert [draft.place for draft in drafts_left(shift)] == [INTAKE]


def test_odd_letters_come_back_as_typed(shift: Shift) -> None:
    odd: Content = {"f": {"x": "\x00 🙂 \\ \" ' {} \u202e"}}
    keep_draft(shift, NEW, "the new ticket", odd)
    found = draft_for(shift, NEW)
    assert found is not None
    assert found.content == odd


def test_half_a_letter_that_no_window_can_show_is_replaced(shift: Shift) -> None:
    keep_draft(shift, NEW, "the new ticket", {"f": {"x": "a\ud800b"}})
    found = draft_for(shift, NEW)
    assert found is not None
    assert found.content == {"f": {"x": "a\ufffdb"}}


def test_what_is_too_long_is_refused_and_what_was_kept_before_stays(shift: Shift) -> None:
    keep_draft(shift, NEW, "the new ticket", TYPED)
    with pytest.raises(JobError, match=r"the new ticket is too long .* save it soon"):
        keep_draft(shift, NEW, "the new ticket", {"visit": {"complaint": "x" * MOST_LETTERS}})
    found = draft_for(shift, NEW)
    assert found is not None
    assert found.content == TYPED


@pytest.mark.parametrize(
    ("content", "readable"),
    [
        ("", None),
        ("no JSON", None),
        ("[" * 100_000, None),
        ("[1, 2]", None),
        ('{"visit": 3}', None),
        ('{"visit": {"complaint": null, "fuel": ["x"], "limit": 60}}', None),
        ('{"visit": {"fuel": 1, "notes": "ring"}, "a": 1}', {"visit": {"notes": "ring"}}),
        (f'{{"visit": {{"notes": "{"x" * MOST_LETTERS}"}}}}', None),
        (b"\xff\xfe", None),
    ],
)
def test_what_can_be_read_is_given_back_and_the_rest_left_out(
    shift: Shift, content: object, readable: object
) -> None:
    keep_draft(shift, NEW, "the new ticket", TYPED)
    write(shift, "content", content)
    found = draft_for(shift, NEW)
    assert (found.content if found else None) == readable
    assert [draft.content for draft in drafts_left(shift)] == ([readable] if readable else [])


@pytest.mark.parametrize(
    ("column", "value"), [("typed_at", "long ago"), ("about", "nothing"), ("page", b"\xff")]
)
def test_a_row_of_nonsense_hides_its_draft(shift: Shift, column: str, value: object) -> None:
    keep_draft(shift, NEW, "the new ticket", TYPED)
    write(shift, column, value)
    assert drafts_left(shift) == ()
    assert draft_for(shift, NEW) is None


def test_no_more_are_listed_than_anyone_can_have_begun(shift: Shift) -> None:
    with shift.records.writing():
        for about in range(MOST_LEFT + 5):
            Draft.create(
                page="Intake", about=about, called="T", content='{"f": {"x": "y"}}',
                typed_at=shift.now(),
            )  # fmt: skip
    assert len(drafts_left(shift)) == MOST_LEFT


@pytest.mark.parametrize(
    "action",
    [
        lambda shift: keep_draft(shift, NEW, "the new ticket", TYPED),
        lambda shift: drop_draft(shift, NEW),
    ],
)
def test_records_that_cannot_be_written_are_said(
    shift: Shift, action: Callable[[Shift], object]
) -> None:
    shift.records.engine.execute_sql("PRAGMA query_only = 1")
    with pytest.raises(RecordsError, match="may not be written"):
        action(shift)

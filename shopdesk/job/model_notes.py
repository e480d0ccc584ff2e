"""The shop's own card for a model: what the bench learnt of it, for the next time it comes in."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from shopdesk.bench.checks import Verdict
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.limits import LimitView, limits_of_model
from shopdesk.job.model_record import ModelRecord, record_of
from shopdesk.job.opened import tag_of
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import find_ticket
from shopdesk.job.units import model_key, named_model_key
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Finding, Line, ModelNote, Ticket, Unit
from shopdesk.text import letters_and_digits

SETTING, HOSE, TOOL, TRAP, PART, NOTE = KINDS = (
    "setting",
    "hose length",
    "special tool",
    "trap",
    "usual part",
    "note",
)
"""What stands on a card, in the order shown."""


@dataclass(frozen=True, slots=True)
class NoteEntry:
    """An entry as typed. ``title`` names a setting, ``part_number`` is of a usual part."""

    kind: str
    words: str
    title: str = ""
    part_number: str = ""


@dataclass(frozen=True, slots=True)
class NoteView:
    """An entry on a card: who wrote it, when, and from which ticket, where it came from one."""

    id: int
    kind: str
    title: str
    words: str
    part_number: str
    ticket_id: int | None
    tag: str
    written_by: str
    written_at: datetime


@dataclass(frozen=True, slots=True)
class ModelCardView:
    """All that the shop knows of a model; ``make`` and ``model`` as they were asked for."""

    make: str
    model: str
    notes: tuple[NoteView, ...]
    limits: tuple[LimitView, ...]
    record: ModelRecord

    @property
    def is_empty(self) -> bool:
        """Whether nothing is known yet but that it came in, once at most."""
        return not self.notes and not self.limits and self.record.tickets <= 1

    def of_kind(self, kind: str) -> tuple[NoteView, ...]:
        """Return the entries of one kind."""
        return tuple(note for note in self.notes if note.kind == kind)


def model_card(shift: Shift, make: str, model: str) -> ModelCardView | None:
    """Return the card of a model, however it is spelt; ``None`` where no model is named."""
    key = model_key(make, model)
    if not key:
        return None
    with shift.records.reading():
        return _card(make, model, key)


def add_note(shift: Shift, make: str, model: str, entry: NoteEntry) -> ModelCardView:
    """Write something on a model's card; see ``keep_note``."""
    with shift.changing() as change:
        return _add(change, make, model, entry)


def keep_note(shift: Shift, ticket_id: int, kind: str, words: str) -> ModelCardView:
    """Write something on the card of a ticket's model, one of ``KINDS``.

    What stands there already is not doubled: a setting of that title or a part of that number is
    brought up to date. Raises ``JobError`` at ``kind``, ``words``, or ``model`` for no model.
    """
    with shift.changing() as change:
        return _keep(change, find_ticket(ticket_id), NoteEntry(kind, words))


def keep_setting(shift: Shift, finding_id: int) -> ModelCardView:
    """Write a finding on its model's card as the setting to leave.

    Raises ``JobError`` for one out of limits.
    """
    with shift.changing() as change:
        finding = row_of(Finding, finding_id)
        if finding is None:
            raise JobError("That finding is not there any more: open the ticket again.", "finding")
        if finding.verdict == Verdict.FAIL:
            raise JobError(
                f"“{finding.title}” was out of limits at {finding.shown}: "
                "record what it was set to, and keep that.",
                "finding",
            )
        entry = NoteEntry(SETTING, finding.shown, finding.title)
        return _keep(change, find_ticket(finding.ticket_id), entry)


def keep_part(shift: Shift, line_id: int) -> ModelCardView:
    """Write a ticket's part on its model's card as one that it usually takes.

    Raises ``JobError`` for a line that is no part.
    """
    with shift.changing() as change:
        line = row_of(Line, line_id)
        if line is None:
            raise JobError("That line is not there any more: open the ticket again.", "line")
        if line.kind != LineKind.PART:
            raise JobError(f"“{line.description}” is {line.kind}, no part: keep a part.", "line")
        entry = NoteEntry(PART, line.description, part_number=line.part_number)
        return _keep(change, find_ticket(line.ticket_id), entry)


def change_note(shift: Shift, note_id: int, entry: NoteEntry) -> NoteView:
    """Change an entry of a card in place. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        note = _find(note_id)
        _fill(change, note, entry)
        change.save(note)
        return _views([note])[0]


def drop_note(shift: Shift, note_id: int, why: str = "") -> None:
    """Take an entry off a card; the journal keeps it."""
    with shift.changing() as change:
        change.remove(_find(note_id), typed.line(why, "why", "The reason"))


def _find(note_id: int) -> ModelNote:
    note = row_of(ModelNote, note_id)
    if note is None:
        raise JobError("That entry is not on the card any more: open the card again.", "note")
    return note


def _keep(change: Change, ticket: Ticket, entry: NoteEntry) -> ModelCardView:
    unit: Unit = ticket.unit
    return _add(change, unit.make, unit.model, entry, ticket)


def _add(
    change: Change, make: str, model: str, entry: NoteEntry, ticket: Ticket | None = None
) -> ModelCardView:
    key = named_model_key(make, model)
    new = ModelNote(model_key=key, ticket=ticket)
    _fill(change, new, entry)
    present = next((row for row in _rows(key) if _subject(row) == _subject(new)), None)
    if present is None:
        change.add(new)
    elif _content(present) != _content(new):
        _fill(change, present, entry)
        present.ticket = ticket
        change.save(present, "brought up to date")
    return _card(make, model, key)


def _fill(change: Change, note: ModelNote, entry: NoteEntry) -> None:
    note.kind = typed.choice(entry.kind, "kind", KINDS, "The kind of entry", needed=True)
    note.title = typed.line(entry.title, "title", "The title")
    note.words = typed.text(entry.words, "words", "The entry", needed=True)
    note.part_number = typed.line(entry.part_number, "part_number", "The part number")
    note.written_by = change.who
    note.written_at = change.at


def _subject(note: ModelNote) -> tuple[str, str]:
    """Return what the entry is about: a card has one entry for each."""
    about = note.title or note.part_number or note.words
    return note.kind, letters_and_digits(about) or about


def _content(note: ModelNote) -> tuple[str, str, str]:
    return note.title, note.words, note.part_number


def _rows(key: str) -> list[ModelNote]:
    return rows_by(ModelNote, "model_key", key)


def _card(make: str, model: str, key: str) -> ModelCardView:
    """Read a model's card, inside a transaction."""
    return ModelCardView(
        make=make,
        model=model,
        notes=_views(sorted(_rows(key), key=lambda note: KINDS.index(note.kind))),
        limits=limits_of_model(key),
        record=record_of(key),
    )


def _views(notes: Iterable[ModelNote]) -> tuple[NoteView, ...]:
    rows = list(notes)
    ids = {row.ticket_id for row in rows if row.ticket_id}
    tags = {row.id: tag_of(row.number) for row in Ticket.select().where(Ticket.id.in_(ids))}
    return tuple(
        NoteView(
            id=row.id,
            kind=row.kind,
            title=row.title,
            words=row.words,
            part_number=row.part_number,
            ticket_id=row.ticket_id,
            tag=tags.get(row.ticket_id or 0, ""),
            written_by=row.written_by,
            written_at=row.written_at,
        )
        for row in rows
    )

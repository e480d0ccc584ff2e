"""What is typed and not saved yet, kept aside so that it is there again after the power cord.

A draft is no fact: it is not journalled, and whatever stands in it never stops a page.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from peewee import fn

from shopdesk.errors import JobError
from shopdesk.job.shift import Shift
from shopdesk.records.tables import Draft

Content = Mapping[str, Mapping[str, str | bool]]
"""What is typed, by form and field."""
MOST_LETTERS = 200_000
MOST_LEFT = 200


@dataclass(frozen=True, slots=True)
class Place:
    """Where something is typed: a page by its name, and the id of what it is about, 0 for none."""

    page: str
    about: int = 0


@dataclass(frozen=True, slots=True)
class DraftView:
    """What was typed at a place, what the place is called, and when (aware, UTC)."""

    place: Place
    called: str
    content: Content
    typed_at: datetime


def keep_draft(shift: Shift, place: Place, called: str, content: Content) -> None:
    """Keep what is typed at a place, instead of what was kept of it before.

    Raises ``JobError`` when it is too long to be kept, ``RecordsError`` when the records can't be
    written.
    """
    kept = json.dumps(content)
    if len(kept) > MOST_LETTERS:
        raise JobError(f"What is typed on {called} is too long to be kept aside: save it soon.")
    with shift.records.writing():
        Draft.insert(
            page=place.page,
            about=place.about,
            called=called,
            content=kept,
            typed_at=shift.now(),
        ).on_conflict(
            conflict_target=[Draft.page, Draft.about],
            preserve=[Draft.called, Draft.content, Draft.typed_at],
        ).execute()


def drop_draft(shift: Shift, place: Place) -> None:
    """Forget what was typed at a place; it is saved, or not wanted any more."""
    with shift.records.writing():
        Draft.delete().where(_is_at(place)).execute()


def draft_for(shift: Shift, place: Place) -> DraftView | None:
    """Return what was typed at a place and never saved, if there is anything that can be read."""
    with shift.records.reading():
        row = Draft.get_or_none(_is_at(place), _is_short())
    return None if row is None else _view(row)


def drafts_left(shift: Shift) -> tuple[DraftView, ...]:
    """Return what was typed anywhere and never saved, the newest first."""
    with shift.records.reading():
        rows = list(Draft.select().where(_is_short()).order_by(Draft.id.desc()).limit(MOST_LEFT))
    found = (_view(row) for row in sorted(rows, key=lambda row: row.typed_at, reverse=True))
    return tuple(draft for draft in found if draft is not None)


def _is_at(place: Place) -> object:
    return (Draft.page == place.page) & (Draft.about == place.about)


def _is_short() -> object:
    return fn.LENGTH(Draft.content) <= MOST_LETTERS


def _view(row: Draft) -> DraftView | None:
    content = _readable(row.content)
    if not content:
        return None
    return DraftView(Place(row.page, row.about), row.called, content, row.typed_at)


def _readable(kept: str) -> Content:
    """Return the texts and ticks of it; whatever else stands there is left out."""
    try:
        forms = json.loads(kept)
    except (ValueError, RecursionError):
        return {}
    if not isinstance(forms, dict):
        return {}
    found = {
        form: {name: value for name, value in fields.items() if isinstance(value, str | bool)}
        for form, fields in forms.items()
        if isinstance(fields, dict)
    }
    return {form: fields for form, fields in found.items() if fields}

"""What is typed and not saved yet, kept aside so that it is there again after the power cord.

A draft is no fact: it is not journalled, and whatever stands in it never stops a page.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from shopdesk.errors import JobError
from shopdesk.job.shift import Shift
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Draft

Content = Mapping[str, Mapping[str, str | bool]]
"""What is typed, by form and field."""
MOST_LETTERS = 200_000
MOST_LEFT = 200
_READ = (
    "SELECT page, about, called, content, typed_at FROM draft "
    f"WHERE length(content) <= {MOST_LETTERS}"
)


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
    row = {"called": called, "content": kept, "typed_at": shift.now()}
    with shift.records.writing():
        Draft.insert(page=place.page, about=place.about, **row).on_conflict(
            conflict_target=("page", "about"), preserve=tuple(row)
        ).execute()


def drop_draft(shift: Shift, place: Place) -> None:
    """Forget what was typed at a place; it is saved, or not wanted any more."""
    with shift.records.writing():
        kept = Draft.get_or_none(page=place.page, about=place.about)
        if kept is not None:
            kept.delete_instance()


def drafts_left(shift: Shift) -> tuple[DraftView, ...]:
    """Return what was typed anywhere and never saved, the newest first."""
    with shift.records.reading():
        rows = answers(f"{_READ} ORDER BY typed_at DESC, id LIMIT {MOST_LEFT}")
    return tuple(_views(rows))


def _views(rows: Iterable[Sequence[object]]) -> Iterator[DraftView]:
    """Give those rows that can be read; the file may have been in other hands."""
    for page, about, called, kept, typed_at in rows:
        content = _readable(kept)
        moment = _moment(typed_at)
        if isinstance(page, str) and isinstance(about, int) and content and moment:
            yield DraftView(Place(page, about), str(called), content, moment)


def _readable(kept: object) -> Content:
    """Return the texts and ticks of it; whatever else stands there is left out."""
    try:
        forms = json.loads(str(kept))
    except (ValueError, RecursionError):
        return {}
    if not isinstance(forms, dict):
        return {}
    found = {
        form: {
            name: _whole(value) for name, value in fields.items() if isinstance(value, str | bool)
        }
        for form, fields in forms.items()
        if isinstance(fields, dict)
    }
    return {form: fields for form, fields in found.items() if fields}


def _whole(value: str | bool) -> str | bool:
    """Return the value without halves of letters, which no window can show."""
    if isinstance(value, bool):
        return value
    return value.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _moment(kept: object) -> datetime | None:
    try:
        return datetime.fromisoformat(str(kept)).replace(tzinfo=UTC)
    except ValueError:
        return None

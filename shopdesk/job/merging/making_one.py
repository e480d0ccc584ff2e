"""Makes one of two cards: what hangs on the one goes to the other, and it can be taken apart."""

from collections.abc import Mapping

import msgspec

from shopdesk.errors import JobError, StaleError
from shopdesk.job.merging.fields import Choices, put_together
from shopdesk.job.merging.rows import Recorder
from shopdesk.job.shift import Change
from shopdesk.records.tables import Customer, Draft, Merge, Row, Unit
from shopdesk.text import counted

Versions = tuple[int, int]
"""Of the card that stays and of the other, as they were shown."""
PAGES = {"customer": "owner", "unit": "machine"}
_COUNTED: Mapping[str, str] = {
    "ticket": "ticket",
    "ownership": "machine",
    "phone": "phone",
    "reminder": "reminder",
    "message": "message",
    "own_limit": "limit of its own",
    "own_interval": "interval of its own",
    "meter_reading": "meter reading",
    "upkeep_done": "upkeep entry",
    "merge": "earlier merge",
}


def begin(
    change: Change, stays: Row, goes: Row, called: tuple[str, str], seen: Versions | None
) -> Recorder:
    """Refuse what can't be made one, inside a transaction; ``called`` is what the two are called.

    Raises ``StaleError`` if either is not as it was ``seen``.
    """
    if stays.id == goes.id:
        raise JobError("That is the same card: choose another one.", "other")
    if seen is not None and seen != (stays.version, goes.version):
        raise StaleError(
            "One of the two was changed elsewhere meanwhile: look at them again, then choose."
        )
    mine, theirs = called
    _refuse_while_typing(goes, theirs)
    return Recorder(change, f"{theirs} is the same as {mine}")


def finish(recorder: Recorder, stays: Row, goes: Row, called: str) -> Merge:
    """Take the other card out, on which nothing hangs any more, and keep how it all was."""
    recorder.remove(goes)
    change = recorder.change
    owner, machine = (stays, None) if isinstance(stays, Customer) else (None, stays)
    merge = Merge(
        customer=owner,
        unit=machine,
        gone_id=goes.id,
        called=called,
        content=msgspec.json.encode(recorder.moved).decode(),
        merged_by=change.who,
        merged_at=change.at,
    )
    change.add(merge)
    return merge


def put_words_together(
    recorder: Recorder, stays: Customer | Unit, goes: Customer | Unit, choices: Choices
) -> None:
    """Write the chosen words, and the day on which the first of the two was written down."""
    put_together(stays, goes, choices)
    stays.created_at = min(stays.created_at, goes.created_at)
    recorder.save(stays)


def hanging_words(found: Mapping[str, int]) -> str:
    """Return in words what hangs on a card: ``2 tickets, 1 machine``; empty for nothing."""
    names = [*(name for name in _COUNTED if name in found), *(found.keys() - _COUNTED.keys())]
    return ", ".join(
        counted(found[name], _COUNTED.get(name, f"{name.replace('_', ' ')} entry"))
        for name in names
    )


def _refuse_while_typing(goes: Row, called: str) -> None:
    page = PAGES[goes._meta.table_name]
    if Draft.get_or_none((Draft.page == page) & (Draft.about == goes.id)):
        raise JobError(
            f"Something is typed on the card of {called} and not saved: save it or clear it first.",
            "other",
        )

"""A model's card in words: its record on our tickets, and what to know before beginning."""

from collections.abc import Iterable

from shopdesk.job.limits import LimitView
from shopdesk.job.model_notes import NOTE, PART, SETTING, TRAP, ModelCardView, NoteView
from shopdesk.job.model_record import Counted, ModelRecord
from shopdesk.pricing.money import show_quantity

_MOST = 3


def card_in_short(card: ModelCardView) -> str:
    """Return the card in a few lines: what we met with, then traps, limits and settings."""
    lines = [
        f"This model (Alt+7):  {record_words(card.record)}",
        _line("Trap", (note.words for note in card.of_kind(TRAP)), most=None),
        _line("Limit", (limit_words(limit) for limit in card.limits)),
        _line("Setting", (note_words(note) for note in card.of_kind(SETTING))),
        _line("Usual part", (note_words(note) for note in card.of_kind(PART))),
        _line("Note", (note.words for note in card.of_kind(NOTE))),
    ]
    return "   ".join(filter(None, lines))


def record_words(record: ModelRecord) -> str:
    """Return how many tickets there were, how long they took, and how many came back."""
    tickets = _count(record.tickets, "ticket")
    hours = (
        f", usually {show_quantity(record.median_hours)} h at the bench"
        if record.median_hours is not None
        else ""
    )
    comebacks = f", {record.comebacks} came back for it" if record.comebacks else ""
    return f"{tickets} of ours, {record.mended} mended{hours}{comebacks}."


def failed_words(record: ModelRecord) -> str:
    """Return what was out of limits, and what it turned out to be, most often first."""
    failed, causes = _counted(record.failed), _counted(record.causes)
    parts = [
        f"Out of limits: {failed}." if failed else "",
        f"It turned out to be: {causes}." if causes else "",
    ]
    return "  ".join(filter(None, parts)) or "No closed ticket says yet what failed."


def limit_words(limit: LimitView) -> str:
    """Return a limit: ``Compression: at least 115 psi``."""
    return f"{limit.title}: {limit.typed}"


def note_words(note: NoteView) -> str:
    """Return an entry: ``Plug gap: 0.025 in``, ``Fuel line kit (FL-20)``."""
    number = f" ({note.part_number})" if note.part_number else ""
    return f"{f'{note.title}: ' if note.title else ''}{note.words}{number}"


def _line(lead: str, words: Iterable[str], most: int | None = _MOST) -> str:
    found = [" ".join(one.split()) for one in words]
    shown = found if most is None else found[:most]
    more = f"; {len(found) - len(shown)} more" if len(found) > len(shown) else ""
    return f"{lead}:  {'; '.join(shown)}{more}." if found else ""


def _counted(found: Iterable[Counted]) -> str:
    return ", ".join(f"{one.words} ({one.times})" for one in found)


def _count(number: int, what: str) -> str:
    return f"1 {what}" if number == 1 else f"{number} {what}s"

"""Tells what the bench thinks it is, what it was, and what is kept for the next of that model."""

from shopdesk.demo.told import Told
from shopdesk.demo.visits import Card
from shopdesk.job.causes import say_cause
from shopdesk.job.limits import LimitEntry, set_model_limit
from shopdesk.job.model_notes import keep_note, keep_part, keep_setting, model_card
from shopdesk.job.ranking import ranking
from shopdesk.job.standing import SETTING

LIKELIEST = 3
WORTH_SAYING, ALMOST = 0.01, 0.99


def say_odds(told: Told, when: str) -> None:
    """Have the hearer hear the likeliest causes, and what to do next and why."""
    if not told.is_heard:
        return
    now = ranking(told.cast.bench, told.id)
    likeliest = (one for one in now.causes[:LIKELIEST] if one.probability >= WORTH_SAYING)
    causes = (f"{one.title} {_percent(one.probability)}" for one in likeliest)
    told.say(f"likeliest {when}: {', '.join(causes)}")
    if now.contradiction:
        told.say(now.contradiction)
    told.say(f"next: {now.steps[0].title}. {now.steps[0].why}")


def _percent(probability: float) -> str:
    """Return it as a percentage, never as a certainty."""
    return "over 99%" if probability > ALMOST else f"{probability:.0%}"


def say_card(told: Told) -> None:
    """Have the hearer hear what the shop's own card says of the model."""
    card = model_card(told.cast.bench, told.unit.make, told.unit.model) if told.is_heard else None
    for note in card.notes if card else ():
        told.say(
            f"our card of this model, {note.kind}: {note.title} {note.words} {note.part_number}"
        )


def say_what_it_was(told: Told) -> None:
    """The mechanic says what it turned out to be, where something was found."""
    story = told.story
    if story.cause:
        told.ticket = say_cause(told.cast.bench, told.id, story.cause, story.cause_words)
        said = dict.fromkeys(filter(None, (told.now.cause_title, story.cause_words)))
        told.say(f"it was: {': '.join(said)}")


def write_card(told: Told) -> None:
    """What is worth knowing the next time goes on the model's card."""
    bench, card = told.cast.bench, told.visit.card
    for check in card.settings:
        keep_setting(bench, _set_to(told, check))
    for number in card.parts:
        keep_part(bench, next(line.id for line in told.now.lines if line.part_number == number))
    for note in card.notes:
        keep_note(bench, told.id, note.kind, note.words)
    for limit in card.limits:
        entry = LimitEntry(limit.check, limit.limit, limit.named_by)
        set_model_limit(bench, told.unit.make, told.unit.model, entry)
    if card != Card():
        told.say(f"kept on our card of the {told.unit.make} {told.unit.model}")


def _set_to(told: Told, check: str) -> int:
    settings = (one for one in told.now.findings if one.phase == SETTING)
    return next(one.id for one in settings if one.check_key == check)

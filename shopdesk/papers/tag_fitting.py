"""Cuts what was typed at length, so that the claim tag stays on the one page that is cut in two."""

from collections.abc import Iterator
from dataclasses import replace

from shopdesk.job.paper_content import TagContent
from shopdesk.papers.typesetter import Typesetter, pieces
from shopdesk.papers.words import Sentences

_PER_LINE = 90
_MOST_LINES = 8
_ROOMS = ((600, 300), (600, 90), (500, 90), (450, 90), (400, 90), (250, 60), (120, 40), (60, 20))
"""Characters for the complaint, and for each other text; a line break counts as a whole line."""


def ever_shorter(content: TagContent, say: Sentences, letters: Typesetter) -> Iterator[TagContent]:
    """Yield the tag as `letters` print it, long texts cut: first a little, then more and more."""
    for complaint, other in _ROOMS:
        yield _cut(content, complaint, other, say, letters)


def _cut(
    content: TagContent, complaint: int, other: int, say: Sentences, letters: Typesetter
) -> TagContent:
    def told(text: str, room: int = other) -> str:
        beginning, *rest = pieces(letters.lines(text), _PER_LINE, room) or [""]
        cut = say("cut", beginning=beginning.rstrip()) if rest else ""
        return cut or beginning

    def named(text: str) -> str:
        line = letters.line(text)
        return line if len(line) <= other else f"{line[: other - 1]}…"

    owner, machine = content.owner, content.machine
    return replace(
        content,
        complaint=told(content.complaint, complaint),
        onset=told(content.onset),
        accessories=told(content.accessories),
        condition=told(content.condition),
        owner=replace(
            owner,
            name=named(owner.name),
            address=tuple(map(named, owner.address[:_MOST_LINES])),
            phones=tuple(map(named, owner.phones[:_MOST_LINES])),
            email=named(owner.email),
        ),
        machine=replace(
            machine,
            title=named(machine.title),
            serial=named(machine.serial),
            engine=named(machine.engine),
        ),
    )

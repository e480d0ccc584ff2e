"""The letter about upkeep that falls due: one owner, all their machines, for a window envelope."""

from typing import Any

from reportlab.pdfgen.canvas import Canvas

from shopdesk.dates import show_date
from shopdesk.job.due_content import MachineDue, UpkeepMessage
from shopdesk.papers import styles
from shopdesk.papers.envelope import BODY_TOP, draw_letter_head
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.upkeep_list import caution_list, upkeep_list
from shopdesk.papers.words import Sentences, Words

_MACHINE_ROOM = 165
"""What a machine's name, and the first task under it, need."""


def upkeep_words(content: UpkeepMessage, words: Words, paper: str) -> Sentences:
    """Return a paper's sentences, filled with what a message is about."""
    return words.on(
        paper,
        shop=content.shop.name,
        phone=content.shop.phone,
        owner=content.owner.name,
        machines=content.titles,
        named="; ".join(one.machine.title for one in content.machines),
        due=show_date(content.due),
    )


def draw_upkeep_letter(content: UpkeepMessage, words: Words) -> Printed:
    """Draw the letter: what falls due on each machine, when and why, and who can do it.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = upkeep_words(content, words, "upkeep_letter")
    ending = "_again" if content.again else ""
    paper = Paper(content.shop, say, "", say("title" + ending))
    paper.headline(show_date(content.on))
    paper.text(say("greeting"))
    several = len(content.machines) > 1
    lead = say("lead_several" if several else "lead")
    paper.text(" ".join(filter(None, (say("opening" + ending), lead))))
    if content.invited_for:
        paper.text(say("invited", week=show_date(content.invited_for)), styles.STRONG)
    for one in content.machines:
        _machine(paper, content, one, named=several)
    paper.section(say("cautions"))
    caution_list(paper, _cautions(content))
    paper.room(90)
    paper.gap(6)
    paper.text(say("call"), styles.STRONG)
    paper.text(say("stop"), styles.SMALL)
    paper.gap(8)
    paper.text(say("closing"))
    paper.text(content.shop.name)

    def head(canvas: Canvas, _document: Any) -> None:
        draw_letter_head(canvas, paper, content.owner)

    return paper.printed(first_top=BODY_TOP, on_first=head)


def _machine(paper: Paper, content: UpkeepMessage, one: MachineDue, *, named: bool) -> None:
    if named:
        paper.section(one.machine.title, room=_MACHINE_ROOM)
        serial = one.machine.serial
        paper.text(paper.say("serial", serial=serial) if serial else "", styles.SMALL)
    upkeep_list(paper, one.rows, content.on)
    if one.each_use:
        paper.labelled(paper.say("each_use"), "; ".join(one.each_use))


def _cautions(content: UpkeepMessage) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each for one in content.machines for each in one.cautions))

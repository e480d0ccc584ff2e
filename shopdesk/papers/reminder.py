"""The letter that says what upkeep falls due, folded into an envelope with a window."""

from typing import Any

from reportlab.pdfgen.canvas import Canvas

from shopdesk.dates import show_date
from shopdesk.job.paper_content import ReminderContent
from shopdesk.papers import styles
from shopdesk.papers.envelope import BODY_TOP, draw_letter_head
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.upkeep_list import caution_list, upkeep_list
from shopdesk.papers.words import Words


def draw_reminder(content: ReminderContent, words: Words) -> Printed:
    """Draw the letter: what falls due, when and why, who can do it, and whom to call.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "reminder",
        shop=content.shop.name,
        phone=content.shop.phone,
        owner=content.owner.name,
        machine=content.machine.title,
        machine_in_text=content.machine.in_text,
    )
    paper = Paper(content.shop, say, "", say("title"))
    paper.headline(show_date(content.on))
    paper.text(say("greeting"))
    opening = [say("opening", due=show_date(content.due))]
    if content.last_visit:
        opening.append(say("last_visit", date=show_date(content.last_visit)))
    opening.append(say("lead"))
    paper.text(" ".join(part for part in opening if part))
    upkeep_list(paper, content.tasks, content.on)
    if content.each_use:
        paper.labelled(say("each_use"), "; ".join(content.each_use))
    paper.section(say("cautions"))
    caution_list(paper, content.cautions)
    paper.room(75)
    paper.gap(6)
    paper.text(say("call"), styles.STRONG)
    paper.gap(6)
    paper.text(say("closing"))
    paper.text(content.shop.name)

    def head(canvas: Canvas, _document: Any) -> None:
        draw_letter_head(canvas, paper, content.owner)

    return paper.printed(first_top=BODY_TOP, on_first=head)

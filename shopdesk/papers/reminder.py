"""The letter that says what upkeep falls due, folded into an envelope with a window."""

from typing import Any

from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas

from shopdesk.dates import show_date
from shopdesk.job.paper_content import ReminderContent
from shopdesk.papers import styles
from shopdesk.papers.fonts import REGULAR, shortened, text_width
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.upkeep_list import caution_list, upkeep_list
from shopdesk.papers.words import Words

# A4 follows DIN 5008 form B: the address field is 85 mm wide, 20 mm from the left edge; the
# sender's line ends 62.7 mm from the top, where the 27.3 mm address zone begins.
_A4_WINDOW = (25 * mm, 80 * mm, 62.7 * mm, 27.3 * mm)
# Letter follows the usual No. 10 window envelope (common practice, no published source): a window
# 4 1/2 x 1 1/8 in, 7/8 in from the left and 1/2 in from the bottom of a 4 1/8 in envelope, holding
# a sheet folded in three. These lines stay in sight however the sheet slides inside.
_LETTER_WINDOW = (0.95 * inch, 3.4 * inch, 2.3 * inch, 0.85 * inch)
_A4_FOLDS = (105 * mm, 210 * mm)
_BODY_TOP = 100 * mm


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
    paper.section(say("cautions"))
    caution_list(paper, content.cautions)
    paper.room(75)
    paper.gap(6)
    paper.text(say("call"), styles.STRONG)
    paper.gap(6)
    paper.text(say("closing"))
    paper.text(content.shop.name)

    def head(canvas: Canvas, _document: Any) -> None:
        _draw_head(canvas, paper, content)

    return paper.printed(first_top=_BODY_TOP, on_first=head)


def _draw_head(canvas: Canvas, paper: Paper, content: ReminderContent) -> None:
    """Draw the shop's name at the top, and sender and address where the window is."""
    a4 = content.shop.paper.casefold() == "a4"
    left, width, top, height = _A4_WINDOW if a4 else _LETTER_WINDOW
    page_height = paper.size[1]
    _draw_shop(canvas, paper, page_height - styles.TOP)
    address = "  ·  ".join(content.shop.address)
    sender = paper.type.line(paper.say("sender", address=address))
    canvas.setFillColor(styles.SOFT)
    canvas.setFont(REGULAR, 6.5)
    canvas.drawString(left, page_height - top + 4, shortened(sender, REGULAR, 6.5, width))
    lines = [paper.type.line(line) for line in (content.owner.name, *content.owner.address)]
    step = min(12.5, height / max(1, len(lines)))
    size = min(10.5, step * 0.84)
    canvas.setFillColor(styles.INK)
    y = page_height - top - size
    for line in lines:
        fitted = size * min(1, width / max(1, text_width(line, REGULAR, size)))
        canvas.setFont(REGULAR, fitted)
        canvas.drawString(left, y, line)
        y -= step
    if a4:
        canvas.setStrokeColor(styles.RULE)
        canvas.setLineWidth(styles.HAIR)
        for fold in _A4_FOLDS:
            canvas.line(6, page_height - fold, 14, page_height - fold)


def _draw_shop(canvas: Canvas, paper: Paper, top: float) -> None:
    shop = paper.shop
    blocks = [
        *paper.type.cell(shop.name, styles.SHOP_NAME, paper.width),
        *(
            paper.type.paragraph(line, styles.SMALL)
            for line in (*shop.address, shop.phone, shop.email)
            if line
        ),
    ]
    for block in blocks:
        top -= block.wrap(paper.width, paper.size[1])[1]
        block.drawOn(canvas, styles.SIDE, top)

"""The head of a letter for an envelope with a window: shop, sender's line, address, folding marks.

A4 follows DIN 5008 form B: the address field is 85 mm wide, 20 mm from the left edge; the sender's
line ends 62.7 mm from the top, where the 27.3 mm address zone begins; folds at 105 and 210 mm.
Letter follows the usual No. 10 window envelope (common practice, no published source): 4 1/8 in
high, its window 4 1/2 x 1 1/8 in, 7/8 in from the left and 1/2 in from the bottom. Folded at the
marks, 3 7/8 and 7 3/4 in from the top, a sheet has 1/4 in to slide up and down and 1 in sideways:
what lies 2 1/2 to 3 3/8 in from its top and 7/8 to 4 3/8 in from its left stays in sight.
"""

from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas

from shopdesk.job.paper_content import Addressee
from shopdesk.papers import styles
from shopdesk.papers.fonts import REGULAR, shortened, text_width
from shopdesk.papers.paper import Paper

A4_WINDOW = (25 * mm, 80 * mm, 62.7 * mm, 27.3 * mm)
LETTER_WINDOW = (0.95 * inch, 3.4 * inch, 2.5 * inch, 0.875 * inch)
"""Left, width, top and height of what shows, from the sheet's upper left corner."""
BODY_TOP = 100 * mm
"""Where the letter's text begins."""
_A4_FOLDS = (105 * mm, 210 * mm)
_LETTER_FOLDS = (3.875 * inch, 7.75 * inch)


def draw_letter_head(canvas: Canvas, paper: Paper, owner: Addressee) -> None:
    """Draw the shop's name at the top, and sender and address where the window is."""
    a4 = paper.shop.paper.casefold() == "a4"
    left, width, top, height = A4_WINDOW if a4 else LETTER_WINDOW
    page_height = paper.size[1]
    _draw_shop(canvas, paper, page_height - styles.TOP)
    address = "  ·  ".join(paper.shop.address)
    sender = paper.type.line(paper.say("sender", address=address))
    canvas.setFillColor(styles.SOFT)
    canvas.setFont(REGULAR, 6.5)
    canvas.drawString(left, page_height - top + 4, shortened(sender, REGULAR, 6.5, width))
    draw_address(canvas, paper, owner, (left, page_height - top, width, height))
    canvas.setStrokeColor(styles.RULE)
    canvas.setLineWidth(styles.HAIR)
    for fold in _A4_FOLDS if a4 else _LETTER_FOLDS:
        canvas.line(6, page_height - fold, 14, page_height - fold)


def draw_address(
    canvas: Canvas, paper: Paper, owner: Addressee, room: tuple[float, float, float, float]
) -> None:
    """Draw name and address into a room (left, top, width, height), smaller where it is long."""
    left, top, width, height = room
    lines = [paper.type.line(line) for line in (owner.name, *owner.address)]
    step = min(12.5, height / max(1, len(lines)))
    size = min(10.5, step * 0.84)
    canvas.setFillColor(styles.INK)
    y = top - size
    for line in lines:
        fitted = size * min(1, width / max(1, text_width(line, REGULAR, size)))
        canvas.setFont(REGULAR, fitted)
        canvas.drawString(left, y, line)
        y -= step


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

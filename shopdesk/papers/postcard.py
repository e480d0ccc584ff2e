"""The postcard about upkeep that falls due: what on the left, to whom on the right, one side only.

It is 148 x 105 mm (A6) where the shop prints on A4, else 6 x 4 1/4 in, the largest card that goes
as one in the US (USPS Domestic Mail Manual 201.1.2.1, from memory). Its lowest 16 mm stay free for
the mail's own code (5/8 in, DMM 202.5, from memory).
"""

from collections.abc import Iterator, Sequence
from io import BytesIO

from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from shopdesk.dates import show_date
from shopdesk.job.due_content import MachineDue, UpkeepMessage
from shopdesk.papers import styles
from shopdesk.papers.envelope import draw_address
from shopdesk.papers.fonts import MEDIUM, REGULAR, shortened, text_width
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.upkeep_letter import upkeep_words
from shopdesk.papers.words import Words

A6 = (148 * mm, 105 * mm)
US_CARD = (6 * inch, 4.25 * inch)
EDGE = 6 * mm
CODE_ROOM = 16 * mm
"""What stays free at the bottom."""
_STAMP = (26 * mm, 25 * mm)
_ADDRESS_TOP = 46 * mm
_BETWEEN = 0.53
"""Where the right half begins, of the width."""
_LONGEST_NAME = 70
_FITS = ((99, 9), (9, 6), (9, 4), (9, 3), (9, 2), (6, 1), (4, 1), (2, 1), (1, 1))
"""How many machines, and tasks of each, are named: the first that there is room for."""


def draw_postcard(content: UpkeepMessage, words: Words) -> Printed:
    """Draw the card; what there is no room for is counted.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = upkeep_words(content, words, "upkeep_card")
    paper = Paper(content.shop, say, "", say("title_again" if content.again else "title"))
    size = A6 if content.shop.paper.casefold() == "a4" else US_CARD
    out = BytesIO()
    canvas = Canvas(
        out,
        pagesize=size,
        invariant=1,
        pageCompression=1,
        initialFontName=REGULAR,  # type: ignore[arg-type]
        lang=paper.type.line(say("language")),
    )
    canvas.setTitle(paper.title)
    canvas.setAuthor(paper.type.line(content.shop.name))
    canvas.setSubject(paper.type.line(say("subject")))
    canvas.setCreator("shopdesk")
    middle = size[0] * _BETWEEN
    _draw_message(canvas, paper, content, (middle - EDGE - 4 * mm, size[1]))
    _draw_rule(canvas, middle, size[1])
    _draw_right(canvas, paper, content, (middle + 4 * mm, *size))
    canvas.showPage()
    canvas.save()
    return Printed(out.getvalue(), 1, paper.type.missing)


def _draw_message(
    canvas: Canvas, paper: Paper, content: UpkeepMessage, room: tuple[float, float]
) -> None:
    width, height = room
    highest = height - EDGE - CODE_ROOM
    for machines, tasks in _FITS:
        blocks = list(_blocks(paper, content, machines, tasks))
        heights = [block.wrap(width, height)[1] + _gap(block) for block in blocks]
        if sum(heights) <= highest:
            break
    top = height - EDGE
    for block, tall in zip(blocks, heights, strict=True):
        if top - tall < CODE_ROOM:
            return
        top -= tall
        block.drawOn(canvas, EDGE, top)


def _gap(block: Paragraph) -> float:
    return 5 if block.style is styles.CARD_STRONG else 1.5


def _blocks(paper: Paper, content: UpkeepMessage, machines: int, tasks: int) -> Iterator[Paragraph]:
    say, put = paper.say, paper.type.paragraph
    yield put(paper.title, styles.CARD_TITLE)
    yield put(say("opening_again" if content.again else "opening"), styles.CARD)
    for one in content.machines[:machines]:
        yield put(_short(one.machine.title, _LONGEST_NAME), styles.CARD_STRONG)
        yield put(_tasks(paper, one, tasks), styles.CARD)
    left = len(content.machines) - machines
    if left > 0:
        yield put(say("more", count=str(left)), styles.CARD)
    if content.invited_for:
        yield put(say("invited", week=show_date(content.invited_for)), styles.CARD_STRONG)
    yield put(say("call"), styles.CARD_STRONG)
    if say("stop"):
        yield put(say("stop"), styles.CARD)


def _tasks(paper: Paper, one: MachineDue, most: int) -> str:
    """Return what is due on a machine in few words: without what explains them."""
    named = [_short(row.in_short, 60) for row in one.rows]
    left = len(named) - most
    more = [paper.say("more", count=str(left))] if left > 0 else []
    return "; ".join((*named[:most], *more))


def _draw_rule(canvas: Canvas, x: float, height: float) -> None:
    canvas.setStrokeColor(styles.RULE)
    canvas.setLineWidth(styles.HAIR)
    canvas.line(x, CODE_ROOM, x, height - EDGE)


def _draw_right(
    canvas: Canvas, paper: Paper, content: UpkeepMessage, place: tuple[float, float, float]
) -> None:
    left, width, height = place
    room = width - EDGE - left
    stamp_left = width - EDGE - _STAMP[0]
    canvas.rect(stamp_left, height - EDGE - _STAMP[1], *_STAMP)
    canvas.setFillColor(styles.SOFT)
    canvas.setFont(REGULAR, 7.5)
    word = paper.type.line(paper.say("postage"))
    middle = stamp_left + _STAMP[0] / 2
    canvas.drawCentredString(middle, height - EDGE - _STAMP[1] / 2, word)
    _draw_sender(canvas, paper, left, height - EDGE - 8, stamp_left - left - 6)
    address_top = height - _ADDRESS_TOP
    box = (left, address_top, room, address_top - CODE_ROOM - 4)
    draw_address(canvas, paper, content.owner, box)


def _draw_sender(canvas: Canvas, paper: Paper, left: float, top: float, room: float) -> None:
    shop = paper.shop
    lines: Sequence[str] = (shop.name, *shop.address, shop.phone)
    for place, line in enumerate(filter(None, map(paper.type.line, lines))):
        font = REGULAR if place else MEDIUM
        size = min(7.5, 7.5 * room / max(1, text_width(line, font, 7.5)))
        canvas.setFont(font, max(size, 6))
        canvas.drawString(left, top - place * 9, shortened(line, font, max(size, 6), room))


def _short(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"

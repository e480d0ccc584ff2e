"""One paper in the making: the shop's head, its sections, and the foot of each page."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from io import BytesIO
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    KeepTogether,
    PageTemplate,
    Spacer,
    Table,
)

from shopdesk.job.paper_content import Letterhead
from shopdesk.papers import styles
from shopdesk.papers.fonts import MEDIUM, REGULAR, shortened, text_width
from shopdesk.papers.marks import Mark, Marked, caution
from shopdesk.papers.page_numbers import NumberedCanvas
from shopdesk.papers.printed import Printed
from shopdesk.papers.ticket_tab import TicketTab
from shopdesk.papers.typesetter import Typesetter
from shopdesk.papers.words import Sentences

_HEAD_GAP = 11 * mm


class Paper:
    """Gathers what a paper says, from the top down, and draws it.

    `story` holds what was added so far, `width` is the room for it in points. Every text given to
    a method is as typed: it is cleaned, checked against our letters and escaped here.
    """

    def __init__(self, shop: Letterhead, say: Sentences, ticket: str, title: str) -> None:
        """Begin a paper named `title`; `ticket` may be empty."""
        self.shop = shop
        self.say = say
        self.type = Typesetter()
        self.story: list[Flowable] = []
        self.size = styles.page_size(shop.paper)
        self.width = self.size[0] - 2 * styles.SIDE
        self.ticket = self.type.line(ticket)
        self.title = self.type.line(title)

    def letterhead(self) -> None:
        """Put the shop's name and address at the left, the ticket's tab at the right."""
        shop = self.shop
        tab = TicketTab(self.ticket, self.type.line(self.say("ticket"))) if self.ticket else ""
        tab_width = tab.width if isinstance(tab, TicketTab) else 0
        rest = self.width - tab_width
        ways = (*shop.address, shop.phone, shop.email)
        number = self.say("tax_number", number=shop.tax_number) if shop.tax_number else ""
        cell = [
            *self.type.cell(shop.name, styles.SHOP_NAME, rest),
            *self.type.cell("  ·  ".join(way for way in ways if way), styles.SMALL, rest),
            *self.type.cell(number, styles.SMALL, rest),
        ]
        self.story.append(Table([[cell, tab]], [rest, tab_width], style=_SIDE_BY_SIDE))
        self.gap(5 * mm)

    def headline(self, *side: str) -> None:
        """Put the paper's title at the left and the lines `side` at the right."""
        left = self.width * 0.62
        self.story.append(
            Table(
                [
                    [
                        self.type.cell(self.title, styles.TITLE, left),
                        [self.type.paragraph(line, styles.TITLE_SIDE) for line in side if line],
                    ]
                ],
                [left, self.width - left],
                style=_HEADLINE,
            )
        )
        self.gap(3 * mm)

    def text(self, text: str, style: ParagraphStyle = styles.BODY) -> None:
        """Add a paragraph, unless it is empty."""
        if text:
            self.story.append(self.type.paragraph(text, style))

    def labelled(self, label: str, text: str, style: ParagraphStyle = styles.LABELLED) -> None:
        """Add a paragraph with its label hanging at the left, unless it is empty."""
        if text:
            self.story.append(self.type.paragraph(text, style, self.type.line(label)))

    def section(self, text: str, room: float = 95) -> None:
        """Add a heading, where at least `room` points are left for it and what follows."""
        self.room(room)
        self.text(text, styles.SECTION)

    def marked(self, mark: Mark, text: str, style: ParagraphStyle = styles.BODY) -> None:
        """Add a paragraph with a drawn mark before it, unless it is empty."""
        if text:
            self.story.append(Marked(mark, self.type.paragraph(text, style)))

    def caution(self, text: str) -> None:
        """Add a caution, with the word and the mark for it."""
        if text:
            self.marked(caution, self.say("caution", text=text))

    def gap(self, height: float) -> None:
        """Leave `height` points free."""
        self.story.append(Spacer(1, height))

    def room(self, height: float) -> None:
        """Go on to the next page unless `height` points are left on this one."""
        self.story.append(CondPageBreak(height))

    @contextmanager
    def together(self) -> Iterator[None]:
        """Keep what is added meanwhile on one page, if one page holds it."""
        first = len(self.story)
        yield
        added = [each for each in self.story[first:] if not isinstance(each, CondPageBreak)]
        self.story[first:] = [KeepTogether(added)]

    def printed(self, first_top: float = styles.TOP, on_first: "OnPage | None" = None) -> Printed:
        """Draw the paper. The first page's text begins `first_top` points below its edge.

        `on_first` draws what stands at fixed places on the first page.
        """
        out = BytesIO()
        pages = 0

        def foot(canvas: Canvas, page: int, of: int) -> None:
            nonlocal pages
            pages = of
            self._draw_foot(canvas, page, of)

        document = BaseDocTemplate(
            out,
            pagesize=self.size,
            pageTemplates=[
                self._template("first", first_top, on_first or _nothing),
                self._template("later", styles.TOP + _HEAD_GAP, self._draw_running_head),
            ],
            title=self.title,
            author=self.type.line(self.shop.name),
            subject=self.type.line(self.say("subject")),
            lang=self.type.line(self.say("language")),
            creator="shopdesk",
            initialFontName=REGULAR,
            invariant=1,
            pageCompression=1,
        )
        document.build(self.story, canvasmaker=partial(NumberedCanvas, draw_foot=foot))
        return Printed(out.getvalue(), pages, self.type.missing)

    def _template(self, name: str, top: float, on_page: "OnPage") -> PageTemplate:
        width, height = self.size
        frame = Frame(
            styles.SIDE,
            styles.FOOT,
            width - 2 * styles.SIDE,
            height - styles.FOOT - top,
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
        )
        return PageTemplate(name, [frame], onPage=on_page, autoNextPageTemplate="later")

    def _draw_running_head(self, canvas: Canvas, _document: Any) -> None:
        right = self.size[0] - styles.SIDE
        y = self.size[1] - styles.TOP - 8
        canvas.setFont(MEDIUM, 8.5)
        canvas.setFillColor(styles.ACCENT)
        half = self.width / 2 - 5
        canvas.drawString(styles.SIDE, y, shortened(self.title, MEDIUM, 8.5, half))
        name = shortened(self.type.line(self.shop.name), REGULAR, 8.5, half)
        canvas.setFont(REGULAR, 8.5)
        canvas.setFillColor(styles.SOFT)
        canvas.drawRightString(right, y, name)
        canvas.setStrokeColor(styles.RULE)
        canvas.setLineWidth(styles.HAIR)
        canvas.line(styles.SIDE, y - 6, right, y - 6)

    def _draw_foot(self, canvas: Canvas, page: int, pages: int) -> None:
        say, y, third = self.say, styles.FOOT - 6 * mm, self.width / 3 - 6
        left = f"{say('ticket')} {self.ticket}" if self.ticket else self.title
        number = say("page_of", page=str(page), pages=str(pages))
        canvas.setFillColor(styles.SOFT)
        canvas.setFont(REGULAR, 8.5)
        sides = [shortened(self.type.line(text), REGULAR, 8.5, third) for text in (left, number)]
        widest = max(text_width(text, REGULAR, 8.5) for text in sides)
        name = self.type.line(say("foot", phone=self.shop.phone))
        middle = shortened(name, REGULAR, 8.5, self.width - 2 * widest - 24)
        canvas.drawString(styles.SIDE, y, sides[0])
        canvas.drawCentredString(self.size[0] / 2, y, middle)
        canvas.drawRightString(self.size[0] - styles.SIDE, y, sides[1])


OnPage = Callable[[Canvas, Any], None]


def _nothing(_canvas: Canvas, _document: Any) -> None:
    pass


_SIDE_BY_SIDE = [
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
_HEADLINE = [*_SIDE_BY_SIDE, ("VALIGN", (0, 0), (-1, -1), "BOTTOM")]

"""The claim tag: a stub tied to the machine so that it can't be lost, and the owner's receipt."""

from dataclasses import replace
from typing import Any

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph, Table

from shopdesk.dates import show_date
from shopdesk.job.paper_content import TagContent, VisitSlipContent
from shopdesk.papers import styles
from shopdesk.papers.barcode import ticket_bars
from shopdesk.papers.fonts import BOLD, MEDIUM, REGULAR, shortened, text_width
from shopdesk.papers.panels import signature_lines
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import PLAIN, parties
from shopdesk.papers.tag_fitting import ever_shorter
from shopdesk.papers.ticket_tab import draw_tag_outline
from shopdesk.papers.typesetter import Typesetter, as_markup
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money

_STUB_HEIGHT = 74 * mm
_EDGE = 12 * mm
_HOLE = 23 * mm
_COMPLAINT_LINES = 2


def draw_tag(content: TagContent, words: Words) -> Printed:
    """Draw the stub above a cut line, the owner's part below it, on one page.

    What was typed at length is cut; only the shop's own terms can bring a second page.

    Raises:
        ValueError: the ticket's number can't be printed as bars, or the paper size is unknown.
    """
    say = words.on(
        "tag",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
    )
    letters = Typesetter()
    for shorter in ever_shorter(content, say, letters):
        printed = _drawn(shorter, say)
        if printed.pages == 1:
            break
    missing = dict.fromkeys((*letters.missing, *printed.missing))
    return replace(printed, missing=tuple(missing))


def _drawn(content: TagContent, say: Sentences) -> Printed:
    bars = ticket_bars(content.ticket)
    paper = Paper(content.shop, say, content.ticket, say("title"))
    _owners_part(paper, content, say, bars)

    def stub(canvas: Canvas, _document: Any) -> None:
        _Stub(paper, content, canvas).draw()

    return paper.printed(first_top=_EDGE + _STUB_HEIGHT + 14 * mm, on_first=stub)


def _owners_part(paper: Paper, content: TagContent, say: Sentences, bars: Any) -> None:
    paper.letterhead()
    paper.story.pop()
    paper.gap(3 * mm)
    side = [say("taken_in", date=show_date(content.taken_in))]
    paper.story.append(
        Table(
            [
                [
                    [
                        *paper.type.cell(say("bring_this"), styles.STRONG, 250),
                        *paper.type.cell(side[0], styles.SMALL, 250),
                    ],
                    bars,
                ]
            ],
            [paper.width - bars.width + bars.rquiet, bars.width - bars.rquiet],
            style=[*PLAIN, ("VALIGN", (0, 0), (-1, -1), "MIDDLE")],
        )
    )
    paper.gap(3 * mm)
    parties(paper, content.owner, content.machine)
    paper.labelled(say("you_told_us"), content.complaint, styles.QUOTED)
    paper.labelled(say("onset"), content.onset)
    paper.labelled(say("left_with_us"), content.accessories or say("nothing_left"))
    paper.labelled(say("condition"), content.condition)
    promise = content.promised
    paper.labelled(
        say("promised"),
        say("promised_for", date=show_date(promise)) if promise else say("not_promised"),
    )
    paper.labelled(say("limit_label"), _limit_words(content, say))
    paper.labelled(say("fee_label"), _fee_words(content, say))
    paper.labelled(
        say("old_parts_label"),
        say("old_parts_back" if content.old_parts_back else "old_parts_kept"),
    )
    paper.labelled(say("terms_label"), terms_words(content, say))
    paper.story.append(signature_lines(paper, say("signature"), say("signature_date")))


def terms_words(content: TagContent | VisitSlipContent, say: Sentences) -> str:
    """Return the terms that go with a machine, storage first where the shop asks for it."""
    if not content.storage_per_day:
        return say("terms")
    rate = show_money(content.storage_per_day, content.shop.currency)
    storage = say("storage", rate=rate, days=str(content.storage_after_days))
    return f"{storage} {say('terms')}".strip()


def _limit_words(content: TagContent, say: Sentences) -> str:
    if content.limit is None:
        return say("ask_first")
    return say("limit", amount=show_money(content.limit, content.shop.currency))


def _fee_words(content: TagContent, say: Sentences) -> str:
    if not content.diagnosis_fee:
        return say("no_fee")
    return say("fee", amount=show_money(content.diagnosis_fee, content.shop.currency))


class _Stub:
    """The part that is tied to the machine: to be read across the workshop."""

    def __init__(self, paper: Paper, content: TagContent, canvas: Canvas) -> None:
        self._paper = paper
        self._content = content
        self._canvas = canvas
        self._x = styles.SIDE
        self._y = paper.size[1] - _EDGE - _STUB_HEIGHT
        self._left = self._x + _HOLE
        self._right = self._x + paper.width - 5 * mm

    def draw(self) -> None:
        canvas, paper = self._canvas, self._paper
        canvas.saveState()
        canvas.translate(self._x, self._y)
        draw_tag_outline(canvas, paper.width, _STUB_HEIGHT)
        canvas.restoreState()
        self._number_and_bars()
        self._particulars()
        self._cut_line()

    def _number_and_bars(self) -> None:
        canvas, content = self._canvas, self._content
        top = self._y + _STUB_HEIGHT
        bars = ticket_bars(content.ticket, 19 * mm, 0.5 * mm)
        bars.drawOn(canvas, self._right - bars.width + bars.rquiet, top - 25 * mm)
        room = self._right - self._left - bars.width
        size = min(64.0, 64 * room / text_width(self._paper.ticket, BOLD, 64))
        canvas.setFillColor(styles.INK)
        canvas.setFont(BOLD, size)
        canvas.drawString(self._left - 3, top - 22.5 * mm, self._paper.ticket)

    def _particulars(self) -> None:
        content, say = self._content, self._paper.say
        y = self._y + _STUB_HEIGHT - 33 * mm
        self._line(content.owner.name, MEDIUM, 19, y)
        y -= 7 * mm
        self._line(content.machine.title, REGULAR, 13, y)
        if content.accessories:
            y -= 6 * mm
            self._line(say("stub_left_with", things=content.accessories), MEDIUM, 10.5, y)
        self._complaint(y - 2 * mm)
        promise = content.promised
        promised = (
            say("stub_promised", date=show_date(promise)) if promise else say("stub_no_promise")
        )
        self._line(promised, BOLD, 15, self._y + 5.5 * mm)
        stub = self._paper.type.line(say("stub"))
        self._canvas.setFont(REGULAR, 8.5)
        self._canvas.setFillColor(styles.SOFT)
        self._canvas.drawRightString(self._right, self._y + 5.5 * mm, stub)

    def _complaint(self, top: float) -> None:
        style = styles.ITALIC_STUB
        width = self._right - self._left
        room = width * (_COMPLAINT_LINES - 0.25)
        text = self._paper.type.line(self._content.complaint)
        short = shortened(text, style.fontName, style.fontSize, room)
        paragraph = Paragraph(as_markup(short), style)
        height = paragraph.wrap(width, _STUB_HEIGHT)[1]
        paragraph.drawOn(self._canvas, self._left, top - height)

    def _cut_line(self) -> None:
        canvas, y = self._canvas, self._y - 6 * mm
        words = self._paper.type.line(self._paper.say("cut_here"))
        canvas.setStrokeColor(styles.SOFT)
        canvas.setLineWidth(0.7)
        canvas.setDash(4, 3)
        canvas.line(0, y, self._paper.size[0], y)
        canvas.setDash()
        canvas.setFont(REGULAR, 8.5)
        canvas.setFillColor(styles.SOFT)
        canvas.drawCentredString(self._paper.size[0] / 2, y - 10, words)

    def _line(self, text: str, font: str, size: float, y: float) -> None:
        width = self._right - self._left
        shown = shortened(self._paper.type.line(text), font, size, width)
        self._canvas.setFont(font, size)
        self._canvas.setFillColor(styles.INK)
        self._canvas.drawString(self._left, y, shown)

"""The ways out side by side, for an owner to read at arm's length, tick one and sign."""

from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from typing import Any

from reportlab.lib.enums import TA_CENTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Table

from shopdesk.dates import show_date
from shopdesk.job.options.words import rough
from shopdesk.job.paper_content import WayOutColumn, WaysOut, WaysOutContent
from shopdesk.papers import styles
from shopdesk.papers.fonts import BOLD, ITALIC, MEDIUM, text_width
from shopdesk.papers.marks import Marked, box, good
from shopdesk.papers.panels import signature_lines
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import PLAIN, Command, parties
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money, show_quantity

MOST_BESIDE = 5
_LABELS = 78.0
_SAYS_LABEL = 82.0
_LEAST = 7.0
_ROOM_TO_SIGN = 22.0
_HEAD = ParagraphStyle(
    "way", styles.CELL, fontName=MEDIUM, fontSize=10.5, leading=12.3, alignment=TA_CENTER
)
_SIDE = ParagraphStyle("way label", styles.SMALL, fontName=MEDIUM, textColor=styles.ACCENT)
_PLAIN = ParagraphStyle("way plain", styles.CELL, leading=11.5, alignment=TA_CENTER)
_STRONG = ParagraphStyle("way strong", _PLAIN, fontName=MEDIUM, fontSize=11, leading=13)
_PRICE = ParagraphStyle("way price", _PLAIN, fontName=BOLD, fontSize=13, leading=15)
_OURS = ParagraphStyle("way ours", styles.SMALL, alignment=TA_CENTER)
_BOX = ParagraphStyle("way box", styles.SMALL, leading=12)
_TOLD = ParagraphStyle("way told", styles.PROMISE, fontName=ITALIC)
_SAYS = ParagraphStyle(
    "way says", styles.PROMISE, fontSize=9, leading=11, leftIndent=_SAYS_LABEL, spaceAfter=1.5
)
_OURS_SAID = ParagraphStyle("way suggested", styles.STRONG, fontSize=9.5, leading=12)
_NOTE_HEAD = ParagraphStyle("way note head", styles.CELL_HEAD, spaceBefore=4, spaceAfter=1)
_NOTE = ParagraphStyle("way note", styles.SMALL, leading=10.6)
_Words = Callable[[WayOutColumn], str]


def draw_options(content: WaysOutContent, words: Words) -> Printed:
    """Draw the ways out on a sheet of their own, before anything is itemised.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = _sentences(content, words)
    paper = Paper(content.shop, say, content.ticket, say("title"))
    paper.letterhead()
    paper.headline(
        say("on", date=show_date(content.on)),
        say("valid_until", date=show_date(content.valid_until)),
    )
    parties(paper, content.owner, content.machine)
    paper.labelled(say("you_told_us"), content.complaint, _TOLD)
    paper.labelled(say("found"), "\n".join(content.found), styles.PROMISE)
    paper.gap(2)
    ways_out_block(paper, content.ways_out, say)
    with paper.together():
        paper.labelled(say("choice"), say("how_to_choose"), _SAYS)
        labels = (say("signature"), say("signature_date"))
        paper.story.append(signature_lines(paper, *labels, above=_ROOM_TO_SIGN))
    ways_out_guide(paper, content.ways_out, say)
    return paper.printed()


def _sentences(content: WaysOutContent, words: Words) -> Sentences:
    return words.on(
        "options",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
        machine_in_text=content.machine.in_text,
    )


def ways_out_block(paper: Paper, ways: WaysOut, say: Sentences) -> None:
    """Add the table with a box under each way, a sentence for each, and what we would take."""
    for some in _beside(ways.columns):
        paper.story.append(_table(paper, some, say))
        paper.gap(4)
    for way in ways.columns:
        paper.labelled(way.title, way.words, _SAYS)
    paper.text(ways.suggestion, _OURS_SAID)


def ways_out_guide(paper: Paper, ways: WaysOut, say: Sentences) -> None:
    """Add in small print why ways are not there, and what the figures rest on."""
    typical = say("typical") if any(way.typical for way in ways.columns) else ""
    left_out = (say("why_not", title=title, why=why) for title, why in ways.left_out)
    with paper.together():
        paper.text(say("guide"), _NOTE_HEAD)
        paper.text(
            " ".join(filter(None, (say("with_tax"), typical, *ways.guide, *left_out))), _NOTE
        )


def _beside(columns: Sequence[WayOutColumn]) -> Iterable[Sequence[WayOutColumn]]:
    """Yield as many columns as stand well side by side, spread evenly over the tables."""
    tables = -(-len(columns) // MOST_BESIDE)
    each = -(-len(columns) // max(tables, 1))
    for start in range(0, len(columns), max(each, 1)):
        yield columns[start : start + each]


def _table(paper: Paper, columns: Sequence[WayOutColumn], say: Sentences) -> Table:
    width = (paper.width - _LABELS) / MOST_BESIDE
    if len(columns) < MOST_BESIDE:
        width = min((paper.width - _LABELS) / len(columns), 1.5 * width)
    data: list[list[Any]] = [["", *(_head(paper, say, column, width) for column in columns)]]
    for label, style, words in _rows(paper, say):
        said = [words(column) for column in columns]
        fitting = _fitted(style, said, width - 9)
        cells = [paper.type.paragraph(one, fitting) for one in said]
        data.append([paper.type.paragraph(say(label), _SIDE), *cells])
    data.append(["", *(_choose(paper, say, column) for column in columns)])
    return Table(data, [_LABELS, *[width] * len(columns)], style=[*_LOOK], hAlign="LEFT")


def _fitted(style: ParagraphStyle, said: Sequence[str], width: float) -> ParagraphStyle:
    """Return the style, as much smaller as it must be to hold the longest figure on one line."""
    longest = max(text_width(one, style.fontName, style.fontSize) for one in said)
    if longest <= width:
        return style
    return ParagraphStyle("fitted", style, fontSize=max(style.fontSize * width / longest, _LEAST))


def _head(paper: Paper, say: Sentences, way: WayOutColumn, width: float) -> list[Any]:
    title: list[Any] = list(paper.type.cell(way.title, _HEAD, width))
    return [*title, paper.type.paragraph(say("ours"), _OURS)] if way.suggested else title


def _rows(paper: Paper, say: Sentences) -> list[tuple[str, ParagraphStyle, _Words]]:
    """Return label, look and words of each row."""
    currency, nothing = paper.shop.currency, say("nothing")

    def price(way: WayOutColumn) -> str:
        amount = show_money(way.price_now, currency)
        return say("about", amount=amount) if way.typical else amount

    def hours(amount: Decimal | None, key: str) -> str:
        return say(key, hours=show_quantity(amount)) if amount else nothing

    def of_repair(amount: Decimal, way: WayOutColumn) -> str:
        return rough(amount, currency) if way.mends else nothing

    return [
        ("row_now", _PRICE, price),
        ("row_chance", _STRONG, lambda way: way.chance),
        ("row_expected", _STRONG, lambda way: of_repair(way.expected, way)),
        ("row_worst", _PLAIN, lambda way: of_repair(way.worst, way)),
        ("row_ready", _PLAIN, lambda way: show_date(way.ready) if way.ready else nothing),
        ("row_hours", _PLAIN, lambda way: hours(way.hours, "hours")),
        ("row_life", _PLAIN, lambda way: hours(way.life_hours, "life")),
        (
            "row_per_hour",
            _STRONG,
            lambda way: nothing if way.per_hour is None else show_money(way.per_hour, currency),
        ),
    ]


def _choose(paper: Paper, say: Sentences, way: WayOutColumn) -> list[Any]:
    """Return the box to tick, and a tick beside the way whose lines stand on the estimate."""
    cell: list[Any] = [Marked(box, paper.type.paragraph(say("choose"), _BOX), size=11)]
    if way.itemised:
        cell.append(Marked(good, paper.type.paragraph(say("itemised"), _BOX)))
    return cell


_LOOK: tuple[Command, ...] = (
    *PLAIN,
    ("LEFTPADDING", (1, 0), (-1, -1), 4),
    ("RIGHTPADDING", (0, 0), (-1, -1), 4),
    ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ("TOPPADDING", (0, -1), (-1, -1), 5),
    ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
    ("VALIGN", (0, 1), (-1, -2), "MIDDLE"),
    ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
    ("LINEBELOW", (0, 1), (-1, -1), styles.HAIR, styles.RULE),
    ("LINEBEFORE", (1, 0), (-1, -1), styles.HAIR, styles.RULE),
    ("LINEAFTER", (-1, 0), (-1, -1), styles.HAIR, styles.RULE),
    ("BACKGROUND", (1, 1), (-1, 1), styles.TINT),
    ("NOSPLIT", (0, 0), (-1, -1)),
)

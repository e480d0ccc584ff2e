"""The slip for an owner who brings several machines, and the tags of all of them behind it."""

from collections.abc import Sequence
from io import BytesIO

from pypdf import PdfReader, PdfWriter

from shopdesk.dates import show_date
from shopdesk.job.paper_content import TagContent, VisitSlipContent, VisitSlipRow
from shopdesk.papers import styles
from shopdesk.papers.claim_tag import draw_tag, terms_words
from shopdesk.papers.number_table import NumberTable
from shopdesk.papers.panels import signature_lines
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money

_HEADS = ("col_machine", "col_ticket", "col_promised", "col_limit")
_WIDTHS = (58.0, 92.0, 84.0)
_LIMIT = 3
_LONGEST = 160
"""How much of a complaint stands on the slip, in letters; the whole is on the tag."""


def draw_visit_slip(content: VisitSlipContent, words: Words) -> Printed:
    """Draw the list of what was taken in, the terms, and a line to sign on.

    Raises:
        ValueError: the paper size is unknown.
    """
    shop = content.shop
    say = words.on(
        "visit_slip",
        shop=shop.name,
        phone=shop.phone,
        owner=content.owner.name,
        date=show_date(content.on),
    )
    paper = Paper(shop, say, "", say("title"))
    paper.letterhead()
    paper.headline(say("on"))
    paper.text(say("bring_this"), styles.STRONG)
    owner = content.owner
    ways = "  ·  ".join(filter(None, (*owner.phones, owner.email)))
    paper.labelled(say("owner_label"), "\n".join(filter(None, (owner.name, *owner.address, ways))))
    paper.gap(6)
    table = NumberTable(paper, [say(head) for head in _HEADS], _WIDTHS, (_LIMIT,))
    for row in content.rows:
        table.row(row.machine.title, _small(row, say), _cells(paper, row))
    table.put()
    paper.gap(6)
    paper.text(say("together", count=str(len(content.rows))), styles.STRONG)
    paper.text(say("promised_note"))
    paper.labelled(say("fee_label"), _fee_words(content, say))
    paper.labelled(say("terms_label"), terms_words(content, say))
    paper.story.append(signature_lines(paper, say("signature"), say("signature_date")))
    return paper.printed()


def draw_visit(slip: VisitSlipContent, tags: Sequence[TagContent], words: Words) -> Printed:
    """Draw the slip and the claim tag of each machine behind it, as one file to print at once."""
    drawn = [draw_visit_slip(slip, words), *(draw_tag(tag, words) for tag in tags)]
    writer = PdfWriter(clone_from=PdfReader(BytesIO(drawn[0].pdf)))
    for one in drawn[1:]:
        writer.append(PdfReader(BytesIO(one.pdf)))
    out = BytesIO()
    writer.write(out)
    missing = dict.fromkeys(char for one in drawn for char in one.missing)
    return Printed(out.getvalue(), sum(one.pages for one in drawn), tuple(missing))


def _small(row: VisitSlipRow, say: Sentences) -> str:
    serial = say("serial", serial=row.machine.serial) if row.machine.serial else ""
    things = say("left_with", things=row.accessories) if row.accessories else ""
    said = " ".join(row.complaint.split())
    short = said if len(said) <= _LONGEST else f"{said[: _LONGEST - 1]}…"
    first = "  ·  ".join(filter(None, (serial, things)))
    return "\n".join(filter(None, (first, say("complaint", complaint=short))))


def _cells(paper: Paper, row: VisitSlipRow) -> tuple[str, ...]:
    say = paper.say
    promised = show_date(row.promised) if row.promised else say("not_promised")
    limit = say("ask_first") if row.limit is None else show_money(row.limit, paper.shop.currency)
    return row.ticket, promised, limit


def _fee_words(content: VisitSlipContent, say: Sentences) -> str:
    fees = [row.diagnosis_fee for row in content.rows]
    shown = [show_money(fee, content.shop.currency) for fee in fees]
    if not any(fees):
        return say("no_fee")
    if len(set(fees)) == 1:
        return say("fee", amount=shown[0])
    return say("fees_differ", amounts=", ".join(shown))

"""The written estimate: what is wrong, what mending it costs, and the owner's yes or no."""

from shopdesk.dates import show_date
from shopdesk.job.paper_content import EstimateContent, WaysOut
from shopdesk.papers import styles
from shopdesk.papers.charges import Charges
from shopdesk.papers.marks import box, ticked_box
from shopdesk.papers.options import ways_out_block, ways_out_guide
from shopdesk.papers.panels import signature_lines
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import parties
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money

_DECISION_ROOM = 240
_TABLE_ROOM = 290


def draw_estimate(content: EstimateContent, words: Words) -> Printed:
    """Draw the estimate with its lines, the ways out beside them, and a place to decide.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = _words_on("estimate", content, words)
    paper = Paper(content.shop, say, content.ticket, say("title"))
    paper.letterhead()
    paper.headline(
        say("on", date=show_date(content.on)),
        say("valid_until", date=show_date(content.valid_until)),
        say("ready_by", date=show_date(content.ready_by)) if content.ready_by else "",
    )
    parties(paper, content.owner, content.machine)
    paper.labelled(say("you_told_us"), content.complaint, styles.QUOTED)
    paper.labelled(say("found"), "\n".join(content.found))
    paper.gap(5)
    ways, say_ways = content.ways_out, _words_on("options", content, words)
    if ways is not None:
        paper.section(say_ways("side_by_side"), room=_TABLE_ROOM)
        ways_out_block(paper, ways, say_ways)
        ways_out_guide(paper, ways, say_ways)
        paper.section(_lines_heading(ways, say_ways))
    charges = Charges(paper)
    charges.lines(content.rows)
    charges.sums(content.totals)
    paper.story.append(charges.table())
    paper.gap(8)
    paper.room(_DECISION_ROOM)
    _limits(paper, content)
    _decision(paper, content, say_ways)
    return paper.printed()


def _lines_heading(ways: WaysOut, say_ways: Sentences) -> str:
    """Return what the lines are headed with: the way that they are of, if they are of one."""
    title = ways.itemised
    return say_ways("lines_of", title=title) if title else say_ways("lines")


def _words_on(paper: str, content: EstimateContent, words: Words) -> Sentences:
    return words.on(
        paper,
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
        machine_in_text=content.machine.in_text,
        number=content.number,
    )


def _limits(paper: Paper, content: EstimateContent) -> None:
    say, currency = paper.say, content.shop.currency
    most = show_money(content.most_allowed, currency)
    paper.labelled(say("most_label"), say("most_allowed", amount=most))
    declined = show_money(content.if_declined, currency)
    paper.labelled(say("declined_label"), say("if_declined", amount=declined))
    paper.labelled(say("storage_label"), _storage(paper, content))
    if content.tax_exempt_number:
        number = say("tax_exempt", number=content.tax_exempt_number)
        paper.labelled(say("tax_exempt_label"), number)


def _storage(paper: Paper, content: EstimateContent) -> str:
    """Say what storage is asked for by the shop's terms."""
    if not content.storage_per_day:
        return paper.say("storage")
    amount = show_money(content.storage_per_day, content.shop.currency)
    return paper.say("storage_asked", amount=amount, days=str(content.storage_after_days))


def _decision(paper: Paper, content: EstimateContent, say_ways: Sentences) -> None:
    """Add the place to decide: a yes and a no, or a hint at the boxes of the ways out."""
    say = paper.say
    total = show_money(content.totals.total, content.shop.currency)
    paper.section(say("decide"))
    ways = content.ways_out
    if ways is not None:
        paper.text(say_ways("how_to_choose"))
    if ways is None or not ways.itemised:
        paper.marked(box, say("yes", amount=total))
        paper.marked(box, say("no"))
    paper.marked(ticked_box if content.old_parts_back else box, say("old_parts"))
    paper.story.append(signature_lines(paper, say("signature"), say("signature_date")))
    paper.story.append(signature_lines(paper, say("by_phone")))

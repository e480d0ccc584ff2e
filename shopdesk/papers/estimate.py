"""The written estimate: what is wrong, what mending it costs, and the owner's yes or no."""

from shopdesk.dates import show_date
from shopdesk.job.paper_content import EstimateContent
from shopdesk.papers import styles
from shopdesk.papers.charges import Charges
from shopdesk.papers.marks import box, ticked_box
from shopdesk.papers.panels import signature_lines
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import parties
from shopdesk.papers.words import Words
from shopdesk.pricing.money import show_money

_DECISION_ROOM = 240


def draw_estimate(content: EstimateContent, words: Words) -> Printed:
    """Draw the estimate with its lines, the most it may come to, and a place to decide.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "estimate",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
        machine_in_text=content.machine.in_text,
        number=content.number,
    )
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
    charges = Charges(paper)
    charges.lines(content.rows)
    charges.sums(content.totals)
    paper.story.append(charges.table())
    paper.gap(8)
    paper.room(_DECISION_ROOM)
    _limits(paper, content)
    _decision(paper, content)
    return paper.printed()


def _limits(paper: Paper, content: EstimateContent) -> None:
    say, currency = paper.say, content.shop.currency
    most = show_money(content.most_allowed, currency)
    paper.labelled(say("most_label"), say("most_allowed", amount=most))
    declined = show_money(content.if_declined, currency)
    paper.labelled(say("declined_label"), say("if_declined", amount=declined))
    paper.labelled(say("storage_label"), say("storage"))


def _decision(paper: Paper, content: EstimateContent) -> None:
    say = paper.say
    total = show_money(content.totals.total, content.shop.currency)
    paper.section(say("decide"))
    paper.marked(box, say("yes", amount=total))
    paper.marked(box, say("no"))
    paper.marked(ticked_box if content.old_parts_back else box, say("old_parts"))
    paper.story.append(signature_lines(paper, say("signature"), say("signature_date")))
    paper.story.append(signature_lines(paper, say("by_phone")))

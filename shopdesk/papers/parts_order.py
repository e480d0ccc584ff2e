"""An order of parts to a supplier, to be sent, or read down the telephone."""

from shopdesk.dates import show_date
from shopdesk.job.paper_content import PartsOrderContent, PartsOrderRow
from shopdesk.papers import styles
from shopdesk.papers.number_table import NumberTable
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.words import Words
from shopdesk.pricing.money import show_money, show_quantity

_WIDTHS = (92.0, 44.0, 62.0, 60.0, 66.0)
_FIGURES = (2, 3, 4, 5)
_HEADS = ("col_part", "col_number", "col_packs", "col_pack", "col_cost", "col_amount")


def draw_parts_order(content: PartsOrderContent, words: Words) -> Printed:
    """Draw the order: to whom, what, how many packs, and what it comes to.

    Raises:
        ValueError: the paper size is unknown.
    """
    shop = content.shop
    say = words.on("parts_order", shop=shop.name, phone=shop.phone, number=content.number)
    paper = Paper(shop, say, "", say("title"))
    paper.letterhead()
    paper.headline(say("on", date=show_date(content.on)))
    if not content.placed:
        paper.text(say("not_placed"), styles.STRONG)
    ways = "  ·  ".join(filter(None, (content.phone, content.email)))
    paper.labelled(say("to"), "\n".join(filter(None, (content.supplier, ways))))
    paper.labelled(say("account"), content.account)
    paper.labelled(say("note"), content.note)
    paper.gap(6)
    table = NumberTable(paper, [say(head) for head in _HEADS], _WIDTHS, _FIGURES)
    for row in content.rows:
        table.row(row.name, _small(paper, row), _cells(paper, row))
    for key, amount in (("goods", content.goods), ("postage", content.postage)):
        table.sum(say(key), show_money(amount, shop.currency))
    table.sum(say("total"), show_money(content.goods + content.postage, shop.currency), strong=True)
    table.put()
    return paper.printed()


def _small(paper: Paper, row: PartsOrderRow) -> str:
    say = paper.say
    condition = say("condition", condition=row.condition) if row.condition != "new" else ""
    tickets = say("for_tickets", tickets=", ".join(row.tickets)) if row.tickets else ""
    return "  ·  ".join(filter(None, (say("our_number", number=row.number), condition, tickets)))


def _cells(paper: Paper, row: PartsOrderRow) -> tuple[str, ...]:
    currency = paper.shop.currency
    return (
        row.supplier_number,
        show_quantity(row.packs),
        show_quantity(row.pack),
        show_money(row.cost, currency),
        show_money(row.total, currency),
    )

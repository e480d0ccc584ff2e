"""The list of parts that run low, by supplier, with how many to order and what that costs."""

from collections.abc import Sequence
from decimal import Decimal
from itertools import groupby

from shopdesk.dates import show_date
from shopdesk.job.paper_content import ReorderContent, ReorderPaperRow
from shopdesk.papers import styles
from shopdesk.papers.number_table import NumberTable
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.words import Words
from shopdesk.pricing.money import show_money, show_quantity

_WIDTHS = (58.0, 44.0, 56.0, 66.0, 62.0)
_FIGURES = (2, 3, 4, 5)
_HEADS = ("col_part", "col_bin", "col_free", "col_coming", "col_order", "col_cost")


def draw_reorder_list(content: ReorderContent, words: Words) -> Printed:
    """Draw the list, a part of it for each supplier.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on("reorder", shop=content.shop.name, phone=content.shop.phone)
    paper = Paper(content.shop, say, "", say("title"))
    paper.letterhead()
    paper.headline(show_date(content.on), _total(paper, content))
    paper.text(say("lead") if content.rows else say("nothing"), styles.LEAD)
    for supplier, rows in groupby(content.rows, key=lambda row: row.supplier):
        paper.section(supplier or say("nobody"), 110)
        _list(paper, supplier, list(rows))
    return paper.printed()


def _total(paper: Paper, content: ReorderContent) -> str:
    """Return what all of it costs, where there is more than one supplier to add up."""
    if len({row.supplier for row in content.rows if row.supplier}) < 2:
        return ""
    costs = [row.cost for row in content.rows if row.cost is not None]
    return paper.say("total", cost=_money(paper, costs))


def _list(paper: Paper, supplier: str, rows: Sequence[ReorderPaperRow]) -> None:
    say = paper.say
    table = NumberTable(paper, [say(head) for head in _HEADS], _WIDTHS, _FIGURES)
    for row in rows:
        theirs = say("their_number", number=row.supplier_number) if row.supplier_number else ""
        numbers = "  ·  ".join(filter(None, (say("number", number=row.number), theirs)))
        table.row(
            row.name,
            numbers,
            (
                row.bin,
                show_quantity(row.free),
                show_quantity(row.on_order),
                _packs(paper, row),
                "" if row.cost is None else show_money(row.cost, paper.shop.currency),
            ),
        )
    if supplier:
        costs = [row.cost for row in rows if row.cost is not None]
        table.sum(say("supplier_total"), _money(paper, costs), strong=True)
    table.put()


def _packs(paper: Paper, row: ReorderPaperRow) -> str:
    packs = show_quantity(row.packs)
    if row.pack == 1:
        return packs
    key = "pack" if row.packs == 1 else "packs"
    return paper.say(key, packs=packs, pack=show_quantity(row.pack))


def _money(paper: Paper, costs: Sequence[Decimal]) -> str:
    return show_money(sum(costs, Decimal(0)), paper.shop.currency)

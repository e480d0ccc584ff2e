"""The letters that ask an owner to fetch a machine that stands ready, for a window envelope."""

from typing import Any

from reportlab.pdfgen.canvas import Canvas

from shopdesk.dates import show_date
from shopdesk.job.paper_content import CollectContent
from shopdesk.papers import styles
from shopdesk.papers.envelope import BODY_TOP, draw_letter_head
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money


def draw_collect_letter(content: CollectContent, words: Words) -> Printed:
    """Draw the letter of its step: since when it is ready, what is owed, and what to do.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "collect",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
        machine_in_text=content.machine.in_text,
    )
    step = content.step
    paper = Paper(content.shop, say, content.ticket, say(f"title_{step}"))
    paper.headline(show_date(content.on))
    paper.text(say("greeting"))
    paper.text(say(f"opening_{step}", since=show_date(content.ready_since)))
    if content.owed > 0:
        owed = say("owed", amount=show_money(content.owed, content.shop.currency))
        paper.text(owed, styles.STRONG)
    else:
        paper.text(say("nothing_owed"))
    paper.text(_storage(content, say))
    paper.gap(4)
    paper.text(say(f"ask_{step}", by=show_date(content.fetch_by)), styles.STRONG)
    paper.text(say("rights"))
    paper.gap(6)
    paper.text(say("closing"))
    paper.text(content.shop.name)

    def head(canvas: Canvas, _document: Any) -> None:
        draw_letter_head(canvas, paper, content.owner)

    return paper.printed(first_top=BODY_TOP, on_first=head)


def _storage(content: CollectContent, say: Sentences) -> str:
    if not content.storage_per_day:
        return ""
    rate = show_money(content.storage_per_day, content.shop.currency)
    if not content.storage:
        return say("storage_ahead", from_day=show_date(content.storage_from), rate=rate)
    runs, paid = _storage_runs(content, say, rate), content.storage_settled
    if not paid:
        return runs
    return f"{runs} {say('storage_settled', amount=show_money(paid, content.shop.currency))}"


def _storage_runs(content: CollectContent, say: Sentences, rate: str) -> str:
    currency, working = content.shop.currency, content.storage_words
    amount = show_money(content.storage, currency)
    if not content.storage_tax:
        return say("storage_runs", amount=amount, working=working, rate=rate)
    tax = show_money(content.storage_tax, currency)
    total = show_money(content.storage + content.storage_tax, currency)
    return say("storage_runs_taxed", total=total, working=working, tax=tax, rate=rate)

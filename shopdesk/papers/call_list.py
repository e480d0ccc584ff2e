"""The list of owners to call about upkeep, with room for what they say."""

from collections.abc import Sequence
from datetime import date

from reportlab.platypus import Flowable

from shopdesk.dates import show_date
from shopdesk.job.due_content import UpkeepMessage
from shopdesk.job.messages import TEXT
from shopdesk.job.paper_content import Letterhead
from shopdesk.papers import styles
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import Cell, ruled_table
from shopdesk.papers.words import Words

_SHARES = (0.26, 0.46, 0.28)


def draw_call_list(
    shop: Letterhead, on: date, calls: Sequence[tuple[UpkeepMessage, str]], words: Words
) -> Printed:
    """Draw the list: each message with its way, phone or text.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on("call_list", shop=shop.name, phone=shop.phone)
    paper = Paper(shop, say, "", say("title"))
    paper.letterhead()
    paper.headline(say("on", date=show_date(on)))
    paper.text(say("lead"), styles.LEAD)
    widths = [paper.width * share for share in _SHARES]
    rows = [[*_row(paper, content, way, widths), []] for content, way in calls]
    heads = [say(head) for head in ("col_who", "col_what", "col_said")]
    paper.story.append(ruled_table(paper, heads, rows, widths))
    return paper.printed()


def _row(paper: Paper, content: UpkeepMessage, way: str, widths: Sequence[float]) -> list[Cell]:
    say, cell = paper.say, paper.type.cell
    notes = (say("by_text") if way == TEXT else "", say("again") if content.again else "")
    who = [
        *cell(content.owner.name, styles.CELL_STRONG, widths[0]),
        *(part for phone in content.owner.phones for part in cell(phone, styles.CELL, widths[0])),
        *cell(", ".join(filter(None, notes)), styles.SMALL, widths[0]),
    ]
    what: list[Flowable | str] = []
    for one in content.machines:
        due = say("due", date=show_date(min(row.on for row in one.rows)))
        what += cell(f"{one.machine.title}, {due}", styles.CELL_STRONG, widths[1])
        what += cell("; ".join(row.in_short for row in one.rows), styles.SMALL, widths[1])
    if content.invited_for:
        week = say("invited", week=show_date(content.invited_for))
        what += cell(week, styles.CELL, widths[1])
    return [who, what]

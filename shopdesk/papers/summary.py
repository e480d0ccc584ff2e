"""Work performed and why, told to an owner who is no mechanic."""

from collections.abc import Sequence

from shopdesk.dates import show_date
from shopdesk.job.paper_content import DoneRow, FoundRow, SummaryContent
from shopdesk.papers import marks, styles
from shopdesk.papers.paper import Paper
from shopdesk.papers.photos import photo_rows
from shopdesk.papers.printed import Printed
from shopdesk.papers.small_print import Sources, trade_words
from shopdesk.papers.tables import Cell, parties, ruled_table
from shopdesk.papers.upkeep_list import caution_list, upkeep_list
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money

_VERDICTS = {
    "pass": marks.good,
    "marginal": marks.borderline,
    "fail": marks.bad,
    "noted": marks.noted,
}


def draw_summary(content: SummaryContent, words: Words) -> Printed:
    """Draw what was found against its limits, what was done and why, and what to do next.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "summary",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
    )
    paper = Paper(content.shop, say, content.ticket, say("title"))
    paper.letterhead()
    credited = [
        say("credited", amount=show_money(row.amount, content.shop.currency), why=row.why)
        for row in content.credits
    ]
    paper.headline(say("on", date=show_date(content.on)), _total_words(content, say), *credited)
    parties(paper, content.owner, content.machine)
    if content.returned_as_is:
        paper.caution(say("returned"))
    paper.labelled(say("you_told_us"), content.complaint, styles.QUOTED)
    paper.labelled(say("onset"), content.onset)
    paper.labelled(say("confirmed"), content.confirmed)
    paper.labelled(say("cause"), content.cause)
    sources = Sources()
    _found(paper, content.found, sources)
    _done(paper, content)
    _measured(paper, content.settings, "settings", ("col_setting", "col_left_at"), sources)
    _measured(paper, content.proof, "proof", ("col_test", "col_showed"), sources)
    _afterwards(paper, content)
    photo_rows(paper, content.photos)
    with paper.together():
        sources.list_on(paper)
        trade_words(paper, content, words)
    return paper.printed()


def _total_words(content: SummaryContent, say: Sentences) -> str:
    total = show_money(content.total, content.shop.currency)
    if content.owed is None:
        return say("total", amount=total)
    if content.owed <= 0:
        return say("total_paid", amount=total)
    return say("total_owed", amount=total, owed=show_money(content.owed, content.shop.currency))


def _found(paper: Paper, rows: Sequence[FoundRow], sources: Sources) -> None:
    say = paper.say
    paper.section(say("found"))
    if not rows:
        paper.text(say("found_nothing"))
        return
    paper.text(say("found_lead"), styles.LEAD)
    again = any(row.after for row in rows)
    heads = ["col_looked", "col_before", "col_limit", "col_verdict", *["col_after"] * again]
    shares = (0.34, 0.16, 0.19, 0.13, 0.18) if again else (0.40, 0.20, 0.24, 0.16)
    widths = [paper.width * share for share in shares]
    cells = [_found_cells(paper, row, widths, sources) for row in rows]
    paper.story.append(ruled_table(paper, [say(head) for head in heads], cells, widths))


def _found_cells(
    paper: Paper, row: FoundRow, widths: Sequence[float], sources: Sources
) -> list[Cell]:
    say, cell = paper.say, paper.type.cell
    looked = cell(row.title, styles.CELL_STRONG, widths[0])
    looked += cell(row.note, styles.SMALL, widths[0])
    cleared = say(f"clears_{row.clears}") if row.clears else row.rules_out
    looked += cell(cleared, styles.SMALL, widths[0])
    cells: list[Cell] = [
        looked,
        cell(row.before, styles.CELL, widths[1]),
        cell(sources.numbered(row.limit, row.source), styles.CELL, widths[2]),
        _verdict(paper, "", row.verdict, widths[3]),
    ]
    if len(widths) > len(cells):
        cells.append(_verdict(paper, row.after, row.verdict_after, widths[4]))
    return cells


def _verdict(paper: Paper, text: str, verdict: str, width: float) -> Cell:
    """Return `text` and the verdict's word, with its mark."""
    if not verdict:
        return paper.type.cell(text, styles.CELL, width)
    word = paper.say(f"verdict_{verdict}")
    words = f"{text}: {word}" if text else word
    first, *rest = paper.type.cell(words, styles.CELL, width - 14)
    return [marks.Marked(_VERDICTS[verdict], first, 7.5), *rest]


def _done(paper: Paper, content: SummaryContent) -> None:
    failed = [row for row in content.done if row.had_failed]
    preventive = [row for row in content.done if not row.had_failed]
    for rows, key in (
        (failed, "done_failed"),
        (preventive, "done_preventive"),
        (content.not_done, "not_done"),
    ):
        if not rows:
            continue
        paper.section(paper.say(key))
        if key != "done_failed":
            paper.text(paper.say(f"{key}_lead"), styles.LEAD)
        for row in rows:
            _deed(paper, row, marks.good if key != "not_done" else marks.noted)


def _deed(paper: Paper, row: DoneRow, mark: marks.Mark) -> None:
    paper.room(42)
    paper.marked(mark, row.what, styles.LISTED_HEAD)
    why = (
        paper.say("done_why", why=row.why.rstrip("."), evidence=row.evidence)
        if row.why
        else row.evidence
    )
    credited = paper.say("line_credited", why=row.credited.rstrip(".")) if row.credited else ""
    paper.text(" ".join(filter(None, (why.strip(), credited))), styles.LISTED)


def _measured(
    paper: Paper,
    rows: Sequence[FoundRow],
    section: str,
    heads: tuple[str, str],
    sources: Sources,
) -> None:
    if not rows:
        return
    say, cell = paper.say, paper.type.cell
    widths = [paper.width * share for share in (0.40, 0.20, 0.24, 0.16)]
    paper.section(say(section))
    cells: list[list[Cell]] = [
        [
            [*cell(row.title, styles.CELL, widths[0]), *cell(row.note, styles.SMALL, widths[0])],
            cell(row.after or row.before, styles.CELL, widths[1]),
            cell(sources.numbered(row.limit, row.source), styles.CELL, widths[2]),
            _verdict(paper, "", row.verdict_after if row.after else row.verdict, widths[3]),
        ]
        for row in rows
    ]
    names = [say(head) for head in (*heads, "col_limit", "col_verdict")]
    paper.story.append(ruled_table(paper, names, cells, widths))


def _afterwards(paper: Paper, content: SummaryContent) -> None:
    if content.next_steps:
        paper.section(paper.say("next_steps"))
        upkeep_list(paper, content.next_steps, content.on)
    paper.section(paper.say("cautions"))
    caution_list(paper, content.cautions)

"""At the end of a paper: where limits and cautions come from, and what the trade words mean."""

import re
from itertools import chain

from reportlab.platypus import Table

from shopdesk.job.paper_content import SummaryContent
from shopdesk.papers import styles
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import PLAIN
from shopdesk.papers.words import Words


class Sources:
    """Numbers each source at its first use, and lists them all in the end."""

    def __init__(self) -> None:
        """Begin with none."""
        self._numbers: dict[str, int] = {}

    def numbered(self, words: str, source: str) -> str:
        """Return `words`, such as a limit, with the number of their source."""
        if not words or not source:
            return words
        number = self._numbers.setdefault(source, len(self._numbers) + 1)
        return f"{words} [{number}]"

    def list_on(self, paper: Paper) -> None:
        """Add the sources used, if any."""
        if self._numbers:
            paper.section(paper.say("sources"))
        for source, number in self._numbers.items():
            paper.text(paper.say("source", number=str(number), source=source), styles.TERM)


def trade_words(paper: Paper, content: SummaryContent, words: Words) -> None:
    """Add what the trade words mean that this summary uses."""
    said = _said(content).casefold()
    used = [
        (word, meaning)
        for word, meaning in sorted(words.terms().items())
        if meaning and re.search(rf"\b{re.escape(word.casefold())}", said)
    ]
    if not used:
        return
    paper.section(paper.say("terms"))
    width = paper.width / 2
    cells = [
        paper.type.cell(paper.say("term", word=word, meaning=meaning), styles.TERM, width - 18)
        for word, meaning in used
    ]
    half = (len(cells) + 1) // 2
    columns = [list(chain.from_iterable(part)) for part in (cells[:half], cells[half:])]
    paper.story.append(Table([columns], [width, width], style=list(PLAIN), splitInRow=1))


def _said(content: SummaryContent) -> str:
    """Return all that the bench and the upkeep say on this summary."""
    texts: list[str] = [content.confirmed, content.cause]
    for row in (*content.found, *content.settings, *content.proof):
        texts += (row.title, row.before, row.after, row.limit, row.rules_out, row.note)
    for deed in (*content.done, *content.not_done):
        texts += (deed.what, deed.why, deed.evidence)
    for step in content.next_steps:
        texts += (step.title, step.words)
    return "\n".join(texts)

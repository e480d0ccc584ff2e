"""The bench sheet: checks to do, what came off, and the way back, for hands too greasy to type."""

import re
from collections.abc import Iterable

from reportlab.platypus import Table

from shopdesk.dates import show_date
from shopdesk.job.paper_content import (
    BenchCheckRow,
    BenchSheetContent,
    CautionRow,
    ReassemblyRow,
    TeardownRow,
)
from shopdesk.papers import styles
from shopdesk.papers.bench_block import BenchBlock
from shopdesk.papers.marks import Marked, box, caution, ticked_box
from shopdesk.papers.paper import Paper
from shopdesk.papers.photos import photo_grid
from shopdesk.papers.printed import Printed
from shopdesk.papers.small_print import Sources
from shopdesk.papers.tables import PLAIN
from shopdesk.papers.ticket_tab import TicketTab
from shopdesk.papers.words import Words

_PHOTO_HEIGHT = 110.0
_BLOCK_ROOM = 200.0
_EMPTY_LINES = 4
_EMPTY_HEIGHT = 30.0


def draw_bench_sheet(content: BenchSheetContent, words: Words) -> Printed:
    """Draw what lies beside the machine, big enough to read at arm's length.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "bench",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner,
        machine=content.machine.title,
    )
    sheet = _BenchSheet(Paper(content.shop, say, content.ticket, say("title")), content)
    return sheet.drawn()


class _BenchSheet:
    """The sheet in the making; a caution bears the number of what backs it."""

    def __init__(self, paper: Paper, content: BenchSheetContent) -> None:
        self._paper = paper
        self._content = content
        self._backing = Sources()
        self._said: set[CautionRow] = set()

    def drawn(self) -> Printed:
        self._head()
        if self._content.proving:
            self._teardown()
            self._reassembly()
            self._checks("proof")
        else:
            self._checks("checks")
            self._teardown()
            self._reassembly()
        with self._paper.together():
            self._backing.list_on(self._paper)
        return self._paper.printed()

    def _head(self) -> None:
        paper, content, say = self._paper, self._content, self._paper.say
        tab = TicketTab(paper.ticket, paper.type.line(say("ticket")), 26)
        rest = paper.width - tab.width
        about = (content.owner, content.machine.serial, content.machine.engine)
        cell = [
            *paper.type.cell(
                say("heading", date=show_date(content.on)), styles.BENCH_SMALL, rest - 10
            ),
            *paper.type.cell(content.machine.title, styles.BENCH_TITLE, rest - 10),
            *paper.type.cell("  ·  ".join(filter(None, about)), styles.BENCH, rest - 10),
        ]
        paper.story.append(Table([[cell, tab]], [rest, tab.width], style=list(PLAIN)))
        paper.text(say("complaint", complaint=content.complaint), styles.BENCH_QUOTED)
        standing = say("caution", text=self._backed(content.standing))
        words = paper.type.paragraph(standing, styles.BENCH_SMALL)
        paper.story.append(Marked(caution, words, 11))

    def _section(self, key: str) -> None:
        """Begin a section, in which each caution is said in full once more."""
        self._paper.room(_BLOCK_ROOM)
        self._paper.text(self._paper.say(key), styles.BENCH_SECTION)
        self._said.clear()

    def _checks(self, section: str) -> None:
        if self._content.checks:
            self._section(section)
        for check in self._content.checks:
            self._check(check)

    def _teardown(self) -> None:
        going_back = any(row.ticked for row in self._content.reassembly)
        if self._content.teardown or not going_back:
            self._section("teardown")
        for step in self._content.teardown:
            self._came_off(step)
        if not going_back:
            self._lines_to_write_on()

    def _reassembly(self) -> None:
        if self._content.reassembly:
            self._section("reassembly")
        came_off = {step.number: step for step in self._content.teardown}
        for row in self._content.reassembly:
            self._goes_back(row, came_off[row.number])

    def _check(self, row: BenchCheckRow) -> None:
        say, block = self._paper.say, BenchBlock(self._paper)
        block.head(row.title, box, say("reading"))
        block.line(say("good", limit=row.limit) if row.limit else say("good_unknown"))
        block.small(say("corrected", why=row.correction) if row.correction else "")
        key, minutes = "how_with" if row.tools else "how", f"{row.minutes.normalize():f}"
        block.small(say(key, how=row.how, tools=", ".join(row.tools), minutes=minutes))
        self._cautions(block, row.cautions)
        with self._paper.together():
            block.put()

    def _came_off(self, row: TeardownRow) -> None:
        say, block = self._paper.say, BenchBlock(self._paper)
        block.head(_named(self._paper, row))
        for fastener in row.fasteners:
            block.line(fastener)
        _how_it_sat(self._paper, block, row)
        block.small(say("after", steps=row.after) if row.after else "")
        self._cautions(block, row.cautions)
        with self._paper.together():
            block.put()
            if row.photos:
                self._paper.gap(6)
                photo_grid(self._paper, row.photos, _PHOTO_HEIGHT)

    def _goes_back(self, row: ReassemblyRow, step: TeardownRow) -> None:
        say, block = self._paper.say, BenchBlock(self._paper)
        block.head(_named(self._paper, step), ticked_box if row.ticked else box)
        for fastener in row.fasteners:
            block.line(fastener, "" if row.ticked else say("fasteners_back"))
        _how_it_sat(self._paper, block, step)
        for care in row.care:
            block.line(care)
        if row.entered:
            block.line(say("was_set", setting=row.setting, entered=row.entered))
        elif row.setting:
            key = "set" if row.limit else "set_no_limit"
            block.line(say(key, setting=row.setting, limit=row.limit), say("set_at"))
        block.small(say("explained", why=row.explained) if row.explained else "")
        self._cautions(block, row.cautions)
        with self._paper.together():
            block.put()

    def _cautions(self, block: BenchBlock, rows: Iterable[CautionRow]) -> None:
        for row in rows:
            block.caution(_begun(row.words) if row in self._said else self._backed(row))
            self._said.add(row)

    def _backed(self, row: CautionRow) -> str:
        return self._backing.numbered(row.words, row.backing)

    def _lines_to_write_on(self) -> None:
        paper = self._paper
        heads = [
            paper.type.paragraph(paper.say(key), styles.BENCH_SMALL)
            for key in ("more_came_off", "more_fasteners", "more_mark")
        ]
        table = Table(
            [heads, *[["", "", ""]] * _EMPTY_LINES],
            [paper.width * share for share in (0.34, 0.33, 0.33)],
            [None, *[_EMPTY_HEIGHT] * _EMPTY_LINES],
            style=[*PLAIN, ("LINEBELOW", (0, 1), (-1, -1), 0.7, styles.SOFT)],
            spaceBefore=8,
        )
        paper.story.append(table)


def _begun(caution_words: str) -> str:
    """Return how a caution begins, for where it was said in full not far above."""
    return re.split(r"(?<=\.) |:", caution_words)[0].rstrip(".") + "."


def _named(paper: Paper, step: TeardownRow) -> str:
    key = "part_of" if step.sub_assembly else "came_off"
    return paper.say(key, number=str(step.number), off=step.off, part=step.sub_assembly)


def _how_it_sat(paper: Paper, block: BenchBlock, step: TeardownRow) -> None:
    block.line(paper.say("mark", mark=step.mark) if step.mark else "")
    block.line(paper.say("routing", routing=step.routing) if step.routing else "")

"""The reports, by keyboard: choose one and the days, count the till, print, write tables."""

import csv
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.desk.reports.sheet import ReportsSheet
from shopdesk.job.reports.book import REPORTS
from shopdesk.job.reports.till import till
from shopdesk.job.shift import Shift
from tests.job.reports.season import season
from tests.job.workshop import Clock, open_shop
from tests.window.conftest import Driver
from tests.window.test_drafts import kept_aside, power_cut

TODAY = date(2031, 4, 7)
NAMES = [kept.name for kept in REPORTS]


@pytest.fixture
def books(tmp_path: Path) -> Shift:
    """A shop with a season behind it."""
    clock = Clock()
    shift = open_shop(tmp_path, clock)
    season(shift, clock, jobs=14)
    return shift


@pytest.fixture
def desk(books: Shift, drive: Callable[[Shift], Driver]) -> Driver:
    """The reports in sight."""
    driver = drive(books)
    driver.press("<Control-Key-3>")
    return driver


def _sheet(desk: Driver) -> ReportsSheet:
    sheet = desk.window.in_sight
    assert isinstance(sheet, ReportsSheet)
    return sheet


def _choose(desk: Driver, name: str) -> ReportsSheet:
    sheet = _sheet(desk)
    sheet.list.focus_list()
    sheet.list.select(NAMES.index(name))
    desk.settle()
    return sheet


def test_it_opens_on_the_day_close(desk: Driver) -> None:
    sheet = _sheet(desk)
    assert sheet.report is not None
    assert sheet.view.words.startswith("Day close: Mon 7 Apr 2031")
    assert "There is $0.50 missing from the till." in sheet.view.words
    assert sheet.view.tables[0].cells(0) == ("Cash", "2", "96.12", "5.00", "91.12")
    assert desk.focus is sheet.list.tree


def test_the_arrows_go_through_the_reports(desk: Driver) -> None:
    sheet = _sheet(desk)
    seen = []
    for _ in REPORTS:
        assert sheet.report is not None
        seen.append(sheet.report.name)
        desk.press("<Down>")
    assert seen == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_each_report_can_be_looked_at(desk: Driver, name: str) -> None:
    sheet = _choose(desk, name)
    sheet.days.fill({"period": "this year"})
    sheet.look()
    desk.settle()
    assert sheet.report is not None
    assert sheet.report.name == name
    assert len(sheet.view.tables) == len(sheet.report.tables)
    for picture in sheet.report.pictures:
        assert picture.title in sheet.view.pictures.words
    desk.shot(f"report-{name}")


def test_a_period_chosen_stays_for_the_next_report(desk: Driver) -> None:
    sheet = _choose(desk, "income")
    assert sheet.days.text_of("period") == "this year"
    desk.press("<Tab>")
    desk.type("last m")
    desk.press("<Return>")
    assert sheet.view.words.startswith("Income: Sat 1 Mar 2031 to Mon 31 Mar 2031")
    _choose(desk, "margin")
    assert sheet.view.words.startswith("Margin: Sat 1 Mar 2031")


def test_it_looks_well_on_a_large_screen(desk: Driver) -> None:
    sheet = _choose(desk, "income")
    desk.shots("reports")
    assert sheet.view.pictures.words[0] == "Month by month, before tax"


def test_own_days_are_typed(desk: Driver) -> None:
    sheet = _choose(desk, "tax")
    sheet.days["first"].focus_input()
    desk.fill("1 mar", "5 mar")
    desk.press("<Alt-w>")
    assert sheet.view.words.startswith("Tax: Sat 1 Mar 2031 to Wed 5 Mar 2031")
    sheet.days["last"].set("1 feb")
    desk.press("<Alt-w>")
    assert sheet.days["last"].error == "That is before Sat 1 Mar 2031: type a later day."


def test_enter_on_a_row_opens_its_ticket(desk: Driver) -> None:
    sheet = _sheet(desk)
    each = sheet.view.tables[-1]
    each.focus_list()
    desk.press("<Return>")
    ticket = desk.window.pane.ticket
    assert ticket is not None
    assert ticket.tag == each.cells(0)[1]


def test_the_till_is_counted_and_the_report_follows(desk: Driver) -> None:
    sheet = _sheet(desk)
    counted = sheet.till.form["counted"]
    counted.focus_input()
    counted.set("191.12")
    desk.press("<Alt-k>")
    assert "The till is right to the cent." in sheet.view.words
    assert till(desk.shift, TODAY).counted == Decimal("191.12")
    assert desk.notice == "The count is kept."


def test_a_count_that_cannot_be_is_said_at_its_field(desk: Driver) -> None:
    sheet = _sheet(desk)
    sheet.till.form["counted"].set("lots")
    desk.press("<Alt-k>")
    assert "lots" in sheet.till.form["counted"].error
    assert till(desk.shift, TODAY).counted == Decimal("190.62")


def test_the_till_belongs_to_a_single_day(desk: Driver) -> None:
    sheet = _sheet(desk)
    assert sheet.till.winfo_ismapped()
    sheet.days["period"].focus_input()
    sheet.days["period"].set("this month")
    desk.press("<Alt-w>")
    assert not sheet.till.winfo_ismapped()


def test_the_paper(desk: Driver) -> None:
    _choose(desk, "open-balances")
    desk.press("<Control-p>")
    (file,) = desk.opened
    assert file.name == "report open-balances 2031-04-07.pdf"
    assert "Whom to call" in PdfReader(file).pages[0].extract_text()


def test_the_tables_for_a_spreadsheet(desk: Driver) -> None:
    _choose(desk, "income")
    desk.press("<Alt-c>")
    folder = desk.window.front.papers.folder / "shop"
    (file,) = folder.glob("*.csv")
    assert str(file) in desk.notice
    with file.open(encoding="utf-8-sig", newline="") as opened:
        heads, *rows = csv.reader(opened)
    assert heads[:3] == ["Month", "Parts", "Labour"]
    assert rows[0][0] == "Jan 2031"


def test_a_half_typed_count_is_not_lost(
    desk: Driver, books: Shift, drive: Callable[[Shift], Driver]
) -> None:
    _sheet(desk).till.form["note"].focus_input()
    desk.type("counted twice")
    kept_aside(desk, "the count of the till")
    later = power_cut(desk, drive)
    later.press("<Control-Key-3>")
    assert _sheet(later).till.form.text_of("note") == "counted twice"

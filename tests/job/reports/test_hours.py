"""Hours per person, and clocked against billed."""

from dataclasses import replace
from datetime import date

from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.pickup import issue_invoice
from shopdesk.job.reports import hours
from shopdesk.job.reports.report import Bars
from shopdesk.job.shift import Shift
from tests.job.reports.books import APRIL, HOUR, MAY, cells, money, ready


def _a_job(shift: Shift, billed: str, *clocked: tuple[str, str, str]) -> str:
    ticket = ready(shift, replace(HOUR, quantity=billed))
    for time, person, work in clocked:
        add_time(shift, ticket.id, TimeEntry(time, person=person, work=work))
    issue_invoice(shift, ticket.id)
    return ticket.tag


def test_the_report(shift: Shift) -> None:
    first = _a_job(shift, "1.5", ("30 min", "Sam", "diagnosis"), ("1:30", "Ida", "repair"))
    second = _a_job(shift, "1", ("45 min", "Sam", "repair"))
    third = _a_job(shift, "0.5")
    report = hours.report(shift, APRIL)
    assert cells(report, "At the bench") == [
        ("Ida", 1, 1, money("0.00"), money("1.50"), money("1.50")),
        ("Sam", 2, 2, money("0.50"), money("0.75"), money("1.25")),
        ("All", None, 3, money("0.50"), money("2.25"), money("2.75")),
    ]
    machine = "String trimmer, Tarnbeck TB-26"
    rows = cells(report, "Ticket by ticket")
    assert rows[0][:4] == (first, "Mara Quill", machine, "Ida, Sam")
    assert [row[4:] for row in rows] == [
        (money("1.5"), money("2.00"), money("1.5"), money("-0.50")),
        (money("1"), money("0.75"), money("1"), money("0.25")),
        (money("0.5"), money("0.00"), money("0.5"), None),
        (money("3.0"), money("2.75"), money("3.0"), money("-0.25")),
    ]
    assert [row[0] for row in rows] == [first, second, third, "All"]
    assert report.notes == (
        "Of 2.75 h clocked on invoiced tickets 2.5 h were billed: 90.9%. "
        "1 more invoiced without any time clocked.",
    )
    (bars,) = report.pictures
    assert isinstance(bars, Bars)
    assert [bar.words for bar in bars.bars] == ["1.50 h", "1.25 h"]


def test_what_is_shown_adds_up(shift: Shift) -> None:
    ticket = ready(shift, replace(HOUR, quantity="1"))
    for minutes, person, work in (
        *((20, "Ida", "diagnosis"), (20, "Ida", "repair")),
        *((5, "Sam", "diagnosis"), (5, "Sam", "repair")),
    ):
        add_time(shift, ticket.id, TimeEntry(f"{minutes} min", person=person, work=work))
    issue_invoice(shift, ticket.id)
    another = ready(shift, replace(HOUR, quantity="1"), owner="Ida Thorne")
    add_time(shift, another.id, TimeEntry("20 min", person="Ida", work="repair"))
    issue_invoice(shift, another.id)
    report = hours.report(shift, APRIL)
    *people, last = cells(report, "At the bench")
    assert people[1][3:] == (money("0.08"), money("0.08"), money("0.16"))
    for row in (*people, last):
        assert row[3] + row[4] == row[5]  # type: ignore[operator]
    assert last[5] == sum(row[5] for row in people)  # type: ignore[misc]
    (bars,) = report.pictures
    assert isinstance(bars, Bars)
    assert [bar.words for bar in bars.bars] == [f"{row[5]} h" for row in people]
    clocked = cells(report, "Ticket by ticket")[-1][5]
    assert report.notes[0].startswith(f"Of {clocked} h clocked")


def test_nothing_clocked(shift: Shift) -> None:
    report = hours.report(shift, MAY)
    assert [table.rows for table in report.tables] == [(), ()]
    assert (report.pictures, report.notes) == ((), ())
    assert report.period.first == date(2031, 5, 1)

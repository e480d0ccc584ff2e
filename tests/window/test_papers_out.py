"""Papers leave the window: written beside it, opened, and troubles said."""

from collections.abc import Callable

from shopdesk.job.customers import CustomerEntry
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver


def test_characters_that_no_face_has_are_named(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    taken = take_in(
        shift,
        CustomerEntry(name="A 🙂"),
        UnitEntry(kind="tiller", engine="four-stroke"),
        TicketEntry(complaint="Won't start"),
    )
    desk = drive(shift)
    desk.window.front.papers.tag(taken)
    desk.settle()
    assert "could not be printed" in desk.notice
    assert "🙂" in desk.notice


def test_a_folder_that_cannot_be_written_is_said_in_words(desk: Driver, ticket: TicketView) -> None:
    desk.window.front.papers.folder.write_text("a file is in the way")
    desk.window.front.papers.tag(ticket)
    desk.settle()
    assert "can't be written" in desk.notice
    assert desk.opened == []


def test_without_a_viewer_the_place_is_named(desk: Driver, ticket: TicketView) -> None:
    desk.window.front.papers.opener = lambda file: False
    desk.window.front.papers.tag(ticket)
    desk.settle()
    assert "No program that shows PDF files answered" in desk.notice
    assert "T1001 claim tag.pdf" in desk.notice


def test_broken_words_of_the_shop_are_named(desk: Driver, shift: Shift, ticket: TicketView) -> None:
    folder = shift.records.templates_folder
    folder.mkdir()
    (folder / "tag.toml").write_text('title = "{nobody}"')
    desk.window.front.papers.tag(ticket)
    desk.settle()
    assert "tag.toml" in desk.notice
    assert "nobody" in desk.notice


def test_a_paper_that_is_not_there_yet_is_said(desk: Driver, ticket: TicketView) -> None:
    desk.window.front.papers.summary(ticket)
    desk.settle()
    assert "There is no T1001 work and why yet" in desk.notice

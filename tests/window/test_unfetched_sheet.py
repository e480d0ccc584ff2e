"""The sheet of machines not fetched: letters by key, storage, and the way to the ticket."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from shopdesk.desk.unfetched_sheet import UnfetchedSheet
from shopdesk.job.customers import CustomerEntry, change_customer
from shopdesk.job.pickup import tell_ready
from shopdesk.job.shift import save_shop
from shopdesk.job.unfetched import unfetched
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from shopdesk.records.tables import Ticket
from tests.window.conftest import Driver
from tests.window.so_far import repaired


@pytest.fixture
def waiting(desk: Driver, ticket: TicketView) -> TicketView:
    ready = repaired(desk.shift, ticket)
    shop = desk.shift.shop
    save_shop(desk.shift, replace(shop, storage_per_day=Decimal("2.00"), storage_after_days=0))
    return tell_ready(desk.shift, ready.id, "by phone")


def sheet(desk: Driver) -> UnfetchedSheet:
    desk.press("<Control-Key-5>")
    assert isinstance(desk.window.in_sight, UnfetchedSheet)
    return desk.window.in_sight


def test_nothing_waits(desk: Driver, ticket: TicketView) -> None:
    opened = sheet(desk)
    assert opened.about.strip() == ""
    desk.press("<Alt-l>")
    assert desk.notice == "Every machine that is ready was fetched."
    desk.shots("unfetched-empty")


def test_a_letter_is_made_sent_and_answered(desk: Driver, waiting: TicketView) -> None:
    opened = sheet(desk)
    assert "The first letter, from" in opened.about
    desk.dialogs.answers += ["they asked for it"]
    desk.press("<Alt-l>")
    desk.until(lambda: len(desk.opened) == 1)
    assert desk.opened[0].name.endswith("first letter.pdf")
    desk.press("<Alt-s>")
    assert desk.notice == "It went out."
    desk.dialogs.answers += ["comes on Friday", "fri"]
    desk.press("<Alt-a>")
    assert desk.notice == "Noted."
    assert "First letter: booked" in opened.about
    desk.shots("unfetched")


def without_address(desk: Driver, ticket: TicketView, *phones: str) -> None:
    change_customer(desk.shift, ticket.owner.id, CustomerEntry("Ansel Brightwater", phones))


def test_without_an_address_it_is_asked_how_they_hear_of_it(
    desk: Driver, waiting: TicketView
) -> None:
    without_address(desk, waiting, "home 555-0142")
    opened = sheet(desk)
    desk.dialogs.answers += ["they asked for it", None]
    desk.press("<Alt-l>")
    assert "No address is written down for Ansel Brightwater" in desk.dialogs.asked[-1]
    assert unfetched(desk.shift)[0].letters == ()
    desk.dialogs.answers += ["they asked for it", "phone"]
    desk.press("<Alt-l>")
    assert desk.notice == "Tell them: home 555-0142. Then press Alt+S."
    assert desk.opened == []
    desk.press("<Alt-s>")
    assert "First letter by phone: sent" in opened.about


def test_without_any_way_to_the_owner_it_says_what_to_do(desk: Driver, waiting: TicketView) -> None:
    without_address(desk, waiting)
    sheet(desk)
    desk.dialogs.answers += ["they asked for it"]
    desk.press("<Alt-l>")
    assert desk.notice.startswith("No address is written down for Ansel Brightwater: write it on")


def test_after_a_letter_came_back_it_is_asked_again(desk: Driver, waiting: TicketView) -> None:
    sheet(desk)
    desk.dialogs.answers += ["they asked for it"]
    desk.press("<Alt-l>")
    desk.until(lambda: len(desk.opened) == 1)
    desk.press("<Alt-b>")
    desk.dialogs.answers += ["it came back", "phone"]
    desk.press("<Alt-l>")
    assert "The last one came back." in desk.dialogs.asked[-1]
    assert [one.way for one in unfetched(desk.shift)[0].letters] == ["letter", "phone"]


def test_storage_stands_apart_from_the_work(desk: Driver, waiting: TicketView) -> None:
    with desk.shift.changing() as change:
        row = Ticket.get_by_id(waiting.id)
        row.told_ready_at -= timedelta(days=12)
        change.save(row)
    before = sheet(desk).list.cells(waiting.id)
    assert before[5:7] == (show_money(waiting.totals.due), "$25.77")
    assert "$25.77 with tax (12 days × $2.00, and $1.77 tax)" in sheet(desk).about
    desk.press("<Alt-c>")
    assert sheet(desk).list.cells(waiting.id)[5:7] == before[5:7]
    desk.shots("unfetched-storage")


def test_the_key_for_a_letter_that_was_not_written_says_so(
    desk: Driver, waiting: TicketView
) -> None:
    sheet(desk)
    for key in ("<Alt-s>", "<Alt-a>", "<Alt-b>"):
        desk.press(key)
        assert desk.notice == "No letter was written yet."


def test_storage_that_is_not_owed_yet_is_refused(desk: Driver, waiting: TicketView) -> None:
    sheet(desk)
    desk.press("<Alt-c>")
    assert desk.notice.startswith("No storage is owed on this ticket")
    assert not unfetched(desk.shift)[0].storage_on_ticket


def test_enter_opens_the_ticket(desk: Driver, waiting: TicketView) -> None:
    sheet(desk)
    desk.press("<Return>")
    assert desk.window.in_sight is desk.window.pane
    assert desk.window.pane.ticket is not None
    assert desk.window.pane.ticket.id == waiting.id

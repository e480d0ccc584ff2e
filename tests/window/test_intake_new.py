"""Taking a machine in at the counter, by keyboard."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from shopdesk.desk.approval_page import ApprovalPage
from shopdesk.desk.intake_new import NewTicket
from shopdesk.desk.intake_page import IntakePage
from shopdesk.job.board import open_tickets
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import hand_over, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Move
from shopdesk.job.units import units_of
from shopdesk.job.views import TicketView
from tests.window.conftest import NOW, Driver
from tests.window.so_far import repaired


def new_ticket(desk: Driver) -> NewTicket:
    desk.press("<Control-n>")
    assert isinstance(desk.window.in_sight, NewTicket)
    return desk.window.in_sight


def type_owner(desk: Driver, name: str, phones: str) -> None:
    desk.fill(name, phones, "3 Weir Street", "oona@example.com", "", "")
    desk.press("<Tab>", "<Tab>")


def test_new_owner_and_machine_are_taken_in_by_keyboard(desk: Driver) -> None:
    new_ticket(desk)
    type_owner(desk, "Oona Verhaal", "home 555-0150\nwork 555-0151")
    desk.fill("chain", "two", "Oakrill", "OR-40", "OR40-221", "", "2", "", "3", "11", "", "")
    desk.type("Chain creeps when it idles.")
    desk.press("<Control-s>")
    assert desk.notice.startswith("T1002 is taken in")
    (row,) = [row for row in open_tickets(desk.shift)[Move.COUNTER] if row.number == 1002]
    assert (row.owner, row.machine) == ("Oona Verhaal", "Chain saw, Oakrill OR-40")
    taken = desk.window.pane.ticket
    assert taken is not None
    assert [phone.number for phone in taken.owner.phones] == ["555-0150", "555-0151"]
    assert (taken.unit.engine, taken.unit.first_month) == ("two-stroke", 3)


def test_known_owner_is_offered_while_typing_and_brings_the_machine(
    desk: Driver, ticket: TicketView
) -> None:
    new = new_ticket(desk)
    desk.type("0143")
    desk.until(lambda: new.owner.suggestions.offers, "the owner offered")
    assert "Ansel Brightwater" in new.owner.suggestions.offers[0]
    desk.press("<Down>", "<Return>")
    assert new.machine.known is not None
    assert new.machine.known.id == ticket.unit.id
    desk.press("<Return>")
    desk.type("Again.")
    desk.press("<Control-s>")
    assert "1001" in desk.notice, "the machine is here already, and the sentence names the ticket"
    assert new.visit.text_of("complaint") == "Again."


def test_known_machine_found_by_its_serial_changes_hands_once_confirmed(
    desk: Driver, ticket: TicketView
) -> None:
    new = new_ticket(desk)
    type_owner(desk, "Oona Verhaal", "555-0150")
    desk.fill("", "", "", "")
    desk.type("TB26")
    desk.until(lambda: new.machine.suggestions.offers, "the machine offered")
    desk.press("<Down>", "<Return>")
    desk.type("Bogs.")
    desk.dialogs.answers.append(False)
    desk.press("<Control-s>")
    assert "Ansel Brightwater's in the records" in desk.dialogs.asked[0]
    assert units_of(desk.shift, ticket.owner.id)[0].owner_name == "Ansel Brightwater"


def test_one_key_leads_from_the_machine_to_the_complaint(desk: Driver) -> None:
    new = new_ticket(desk)
    new.machine.form["serial"].focus_input()
    desk.press("<Alt-v>")
    assert desk.focus is new.visit["complaint"].input


def test_error_stands_at_its_field_with_the_focus_there_and_nothing_lost(desk: Driver) -> None:
    new = new_ticket(desk)
    type_owner(desk, "Oona Verhaal", "555-0142")
    desk.fill("chain", "two")
    new.visit.focus_first()
    desk.type("Bogs.")
    desk.press("<Control-s>")
    assert "Ansel Brightwater's phone" in new.owner.form["phones"].error
    assert desk.focus is new.owner.form["phones"].input
    assert new.owner.form.text_of("name") == "Oona Verhaal"
    desk.type("9")
    assert new.owner.form["phones"].error == "", "the sentence goes once its field is changed"


def test_unfinished_ticket_waits_while_another_thing_is_looked_at(
    desk: Driver, ticket: TicketView
) -> None:
    new = new_ticket(desk)
    desk.type("Oona Ver")
    desk.open(ticket)
    desk.press("<Control-n>")
    assert desk.window.in_sight is new
    assert new.owner.form.text_of("name") == "Oona Ver"


def test_taking_in_and_printing_writes_the_tag_and_opens_it(desk: Driver) -> None:
    new = new_ticket(desk)
    type_owner(desk, "Oona Verhaal", "555-0150")
    desk.fill("chain", "two")
    new.visit.focus_first()
    desk.type("Bogs.")
    desk.press("<Control-p>")
    (tag,) = desk.opened
    assert tag.read_bytes().startswith(b"%PDF")
    assert tag.parent.name == "T1002"
    assert str(tag) in desk.notice


def mended(shift: Shift, ticket: TicketView) -> TicketView:
    """Mend a ticket and hand the machine over."""
    repaired(shift, ticket)
    bill = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, str(bill.balance), "card")
    return hand_over(shift, ticket.id)


def test_a_new_machine_is_no_comeback(desk: Driver) -> None:
    new = new_ticket(desk)
    assert not new.visit["comeback"].winfo_manager()
    assert not new.visit.ticked("comeback")


@pytest.fixture
def ten_days_later(drive: Callable[[Shift], Driver], shift: Shift, ticket: TicketView) -> Driver:
    """The window ten days after the machine went home mended."""
    mended(shift, ticket)
    return drive(replace(shift, now=lambda: NOW + timedelta(days=10)))


def test_a_machine_mended_lately_may_be_a_comeback_and_is_none_by_itself(
    ten_days_later: Driver,
) -> None:
    desk = ten_days_later
    new = new_ticket(desk)
    desk.type("0143")
    desk.until(lambda: new.owner.suggestions.offers, "the owner offered")
    desk.press("<Down>", "<Return>", "<Return>")
    field = new.visit["comeback"]
    assert field.winfo_manager()
    assert str(field.input.cget("text")) == (
        "Comeback under warranty: T1001, 10 days ago\n"
        "“Starts, then dies as soon as I squeeze the trigger.”\n"
        "Still covered: labour until 13 Jun 2027; parts until 13 Jun 2027"
    )
    desk.type("Pull cord torn.")
    desk.shot("new-ticket-comeback-1280x800")
    desk.press("<Control-s>")
    taken = desk.window.pane.ticket
    assert taken is not None
    assert taken.comeback_of is None
    page = desk.window.pane.page
    assert isinstance(page, IntakePage)
    page.visit["comeback"].focus_input()
    desk.press("<space>", "<Control-s>")
    assert desk.kept(taken).comeback_of == 1001
    desk.press("<Alt-Key-3>")
    page = desk.window.pane.page
    assert isinstance(page, ApprovalPage)
    assert page.comeback == (
        "Comeback of T1001: is this under warranty? "
        "The reason “our comeback, no charge” charges nothing."
    )
    desk.shot("approval-comeback")


def test_emptying_the_ticket_takes_the_offer_of_a_comeback_away(
    ten_days_later: Driver,
) -> None:
    desk = ten_days_later
    new = new_ticket(desk)
    desk.type("0143")
    desk.until(lambda: new.owner.suggestions.offers, "the owner offered")
    desk.press("<Down>", "<Return>")
    assert new.visit["comeback"].winfo_manager()
    desk.press("<Alt-e>")
    assert new.machine.known is None
    assert not new.visit["comeback"].winfo_manager()


def test_the_queue_says_when_it_could_be_ready(desk: Driver, ticket: TicketView) -> None:
    new = new_ticket(desk)
    said = str(new._queue.cget("text"))
    assert said.startswith("Taken in today, by the queue: 1 machine before it")

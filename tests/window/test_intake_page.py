"""Putting right what was written down at the counter."""

from shopdesk.job.customers import CustomerEntry, add_customer
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry, add_unit, get_unit
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver


def test_visit_owner_and_machine_are_saved_together(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    page = desk.window.pane.page
    page._forms["visit"]["promised_on"].focus_input()
    desk.press("<Control-a>")
    desk.type("fri")
    page._forms["owner"]["email"].focus_input()
    desk.type("ansel@example.com")
    page._forms["machine"]["hours_per_week"].focus_input()
    desk.type("1.5")
    desk.press("<Control-s>")
    kept = desk.kept(ticket)
    assert kept.promised_on is not None
    assert f"{kept.promised_on:%a %d %b}" == "Fri 19 Mar"
    assert kept.owner.email == "ansel@example.com"
    assert str(kept.unit.hours_per_week) == "1.5"
    assert desk.notice == "Saved."
    assert not page.changed


def test_an_impossible_day_is_said_at_its_field_and_the_rest_stays(
    desk: Driver, ticket: TicketView
) -> None:
    desk.open(ticket)
    page = desk.window.pane.page
    field = page._forms["visit"]["promised_on"]
    field.focus_input()
    desk.press("<Control-a>")
    desk.type("31 feb")
    desk.press("<Control-s>")
    assert "There is no 31 Feb" in field.error
    assert desk.focus is field.input
    assert desk.kept(ticket).promised_on == ticket.promised_on
    desk.shots("intake-error")


def test_wrong_owner_is_put_right(desk: Driver, shift: Shift, ticket: TicketView) -> None:
    add_customer(shift, CustomerEntry(name="Oona Verhaal", phones=("555-0150",)))
    desk.open(ticket)
    desk.dialogs.answers += ["verhaal", "Oona"]
    desk.press("<Alt-w>")
    kept = desk.kept(ticket)
    assert kept.owner.name == "Oona Verhaal"
    assert kept.unit.owner_name == "Oona Verhaal"


def test_wrong_owner_may_be_somebody_new(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.dialogs.answers += ["Nadja Holm", "A new owner"]
    desk.press("<Alt-w>")
    assert desk.kept(ticket).owner.name == "Nadja Holm"


def test_wrong_machine_is_put_right_with_another_of_the_owners(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    saw = add_unit(shift, ticket.owner.id, UnitEntry(kind="chain saw", engine="two-stroke"))
    desk.open(ticket)
    desk.dialogs.answers += ["Chain saw"]
    desk.press("<Alt-u>")
    assert desk.kept(ticket).unit.id == saw.id


def test_wrong_machine_may_be_one_not_written_down(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.dialogs.answers += ["A machine not", "tiller", "four-stroke"]
    desk.press("<Alt-u>")
    unit = get_unit(desk.shift, desk.kept(ticket).unit.id)
    assert (unit.kind, unit.engine) == ("tiller", "four-stroke")


def test_thinking_better_of_it_changes_nothing(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.dialogs.answers += [None]
    desk.press("<Alt-w>")
    desk.dialogs.answers += [None]
    desk.press("<Alt-u>")
    assert desk.kept(ticket) == ticket


def test_the_tag_is_written_into_the_tickets_folder(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.type("Mornings. ")
    desk.press("<Control-p>")
    (tag,) = desk.opened
    assert tag == desk.window.front.papers.folder / "T1001" / "T1001 claim tag.pdf"
    assert "Mornings." in desk.kept(ticket).complaint, "what is typed is kept before it is printed"
    desk.shots("intake")

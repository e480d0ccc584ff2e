"""The cards of owners and machines."""

from shopdesk.desk.intake_new import NewTicket
from shopdesk.desk.machine_card import MachineCard
from shopdesk.desk.owner_card import OwnerCard
from shopdesk.job.customers import get_customer
from shopdesk.job.history import unit_owners
from shopdesk.job.units import get_unit
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.test_intake_new import mended


def owner_card(desk: Driver, ticket: TicketView) -> OwnerCard:
    desk.open(ticket)
    desk.press("<Alt-o>")
    assert isinstance(desk.window.in_sight, OwnerCard)
    return desk.window.in_sight


def machine_card(desk: Driver, ticket: TicketView) -> MachineCard:
    desk.open(ticket)
    desk.press("<Alt-m>")
    assert isinstance(desk.window.in_sight, MachineCard)
    return desk.window.in_sight


def test_owner_is_changed_on_the_card(desk: Driver, ticket: TicketView) -> None:
    card = owner_card(desk, ticket)
    card.form["email"].focus_input()
    desk.type("ansel@example.com")
    desk.press("<Control-s>")
    assert get_customer(desk.shift, ticket.owner.id).email == "ansel@example.com"
    assert desk.window.unsaved() == []
    desk.shots("owner-card")


def test_a_bad_address_is_said_at_its_field(desk: Driver, ticket: TicketView) -> None:
    card = owner_card(desk, ticket)
    card.form["email"].focus_input()
    desk.type("nobody")
    desk.press("<Control-s>")
    assert "no e-mail address" in card.form["email"].error
    assert get_customer(desk.shift, ticket.owner.id).email == ""
    assert desk.window.unsaved() != []


def test_machines_open_from_the_owners_card_and_escape_goes_back(
    desk: Driver, ticket: TicketView
) -> None:
    owner_card(desk, ticket)
    desk.press("<Return>")
    assert isinstance(desk.window.in_sight, MachineCard)
    desk.press("<Escape>")
    assert desk.window.pane.winfo_ismapped()


def test_visits_open_from_the_card(desk: Driver, ticket: TicketView) -> None:
    card = owner_card(desk, ticket)
    card._visits.focus_list()
    desk.press("<Return>")
    assert desk.window.in_sight is desk.window.pane
    assert desk.window.pane.ticket is not None
    assert desk.window.pane.ticket.id == ticket.id


def test_new_ticket_from_the_card_knows_the_owner_and_the_machine(
    desk: Driver, ticket: TicketView
) -> None:
    mended(desk.shift, ticket)
    owner_card(desk, ticket)
    desk.press("<Alt-n>")
    new = desk.window.in_sight
    assert isinstance(new, NewTicket)
    assert new.owner.known is not None
    assert new.machine.known is not None
    assert desk.focus is new.visit["complaint"].input


def test_machine_is_changed_on_the_card(desk: Driver, ticket: TicketView) -> None:
    card = machine_card(desk, ticket)
    card.form["meter_hours"].focus_input()
    desk.type("12.5")
    desk.press("<Control-s>")
    assert str(get_unit(desk.shift, ticket.unit.id).meter_hours) == "12.5"
    desk.shots("machine-card")


def test_machine_handed_on_keeps_its_history(desk: Driver, ticket: TicketView) -> None:
    machine_card(desk, ticket)
    desk.dialogs.answers += ["Nadja Holm", "A new owner", "today"]
    desk.press("<Alt-h>")
    owners = [one.owner for one in unit_owners(desk.shift, ticket.unit.id)]
    assert owners == ["Ansel Brightwater", "Nadja Holm"]
    assert "Nadja Holm's now" in desk.notice


def test_a_day_before_the_first_owner_is_refused(desk: Driver, ticket: TicketView) -> None:
    machine_card(desk, ticket)
    desk.dialogs.answers += ["Nadja Holm", "A new owner", "1 jan 2020"]
    desk.press("<Alt-h>")
    assert get_unit(desk.shift, ticket.unit.id).owner_name == "Ansel Brightwater"
    assert "can't have had it before" in desk.notice


def test_typed_words_wait_on_a_card_too(desk: Driver, ticket: TicketView) -> None:
    card = owner_card(desk, ticket)
    card.form["email"].focus_input()
    desk.type("half")
    desk.press("<Escape>", "<Alt-o>")
    assert card.form.text_of("email") == "half"
    desk.dialogs.answers.append(False)
    desk.app.close()
    assert "Ansel Brightwater" in desk.dialogs.asked[-1]

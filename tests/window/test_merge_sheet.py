"""Two cards that are one: made one and taken apart again, by keyboard."""

import pytest

from shopdesk.desk.merge_sheet import MachinesMerge, OwnersMerge
from shopdesk.desk.owner_card import OwnerCard
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.units import UnitEntry, add_unit, get_unit, units_of
from shopdesk.job.views import CustomerView, TicketView
from tests.window.conftest import Driver


@pytest.fixture
def twin(desk: Driver, ticket: TicketView) -> CustomerView:
    """Ansel Brightwater written down once more, with a saw that is here."""
    entry = CustomerEntry(
        "Brightwater Ansel", ("5550142",), "ansel@example.com", notes="pays cash", shared_phone=True
    )
    saw = UnitEntry("chain saw", "two-stroke", "Oakrill", "OR-40", "OR40-221")
    return take_in(desk.shift, entry, saw, TicketEntry("Chain creeps.")).owner


def merge_card(desk: Driver, owner_id: int) -> OwnersMerge:
    desk.window.open_owner(owner_id)
    desk.settle()
    desk.press("<Alt-w>")
    card = desk.window.in_sight
    assert isinstance(card, OwnersMerge)
    return card


def test_two_owners_are_made_one_by_keyboard(
    desk: Driver, ticket: TicketView, twin: CustomerView
) -> None:
    card = merge_card(desk, ticket.owner.id)
    assert card.likely.cells(twin.id)[1] == "same phone, same name"
    desk.press("<Return>")
    stands = [card.differing.cells(place)[0::3] for place in range(3)]
    assert stands == [("Name", "this one"), ("Address", "this one"), ("E-mail", "the other")]
    desk.press("<space>")
    assert card.differing.cells(0)[3] == "the other"
    desk.shots("merge-owners")
    desk.press("<Control-s>")
    assert desk.notice.startswith("Ansel Brightwater is one owner now")
    one = get_customer(desk.shift, ticket.owner.id)
    assert (one.name, one.email, one.notes) == (
        "Brightwater Ansel",
        "ansel@example.com",
        "pays cash",
    )
    assert len(units_of(desk.shift, one.id)) == 2
    assert "1 ticket, 1 machine" in card.before.cells(1)[1]
    desk.press("<Escape>")
    assert isinstance(desk.window.in_sight, OwnerCard)


def test_what_was_made_one_is_taken_apart_once_confirmed(
    desk: Driver, ticket: TicketView, twin: CustomerView
) -> None:
    merge_card(desk, ticket.owner.id)
    desk.press("<Return>", "<Control-s>")
    desk.dialogs.answers += [False, True]
    desk.press("<Alt-t>")
    assert len(units_of(desk.shift, ticket.owner.id)) == 2
    desk.press("<Alt-t>")
    assert desk.notice == "Brightwater Ansel is a card of its own again."
    assert get_customer(desk.shift, twin.id).name == "Brightwater Ansel"
    desk.press("<Alt-t>")
    assert "Nothing was made one with it" in desk.notice


def test_the_other_may_stay_and_this_one_go(
    desk: Driver, ticket: TicketView, twin: CustomerView
) -> None:
    card = merge_card(desk, ticket.owner.id)
    desk.press("<Return>", "<Alt-x>")
    assert card.known == twin.id
    desk.press("<Control-s>")
    assert [unit.owner_id for unit in units_of(desk.shift, twin.id)] == [twin.id, twin.id]
    assert desk.notice.startswith("Brightwater Ansel is one owner now")
    card_now = desk.window.in_sight
    assert isinstance(card_now, OwnerCard)
    assert card_now.known == twin.id, "the card under it is no more: the one that stays is shown"


def test_one_who_is_not_alike_is_looked_for(desk: Driver, ticket: TicketView) -> None:
    other = add_customer(desk.shift, CustomerEntry("Oona Verhaal", ("555-0150",)))
    card = merge_card(desk, ticket.owner.id)
    desk.press("<Control-s>")
    assert desk.notice == "Choose the other owner first."
    desk.type("verhaal")
    desk.until(lambda: card.suggestions.offers, "the other owner offered")
    desk.press("<Down>", "<Return>", "<Control-s>")
    assert desk.notice.startswith("Ansel Brightwater is one owner now")
    assert other.phones[0] in get_customer(desk.shift, ticket.owner.id).phones


def test_two_machines_are_made_one(desk: Driver, ticket: TicketView) -> None:
    entry = UnitEntry("string trimmer", "two-stroke", "Tarnbeck", "TB-26", "tb26 00417", "grip")
    twin = add_unit(desk.shift, ticket.owner.id, entry)
    desk.window.open_machine(ticket.unit.id)
    desk.settle()
    desk.press("<Alt-w>")
    card = desk.window.in_sight
    assert isinstance(card, MachinesMerge)
    assert card.likely.cells(twin.id)[1] == "same serial number, same make and model, same owner"
    desk.press("<Return>")
    desk.shots("merge-machines")
    desk.press("<Control-s>")
    assert get_unit(desk.shift, ticket.unit.id).notes == "grip"
    assert len(units_of(desk.shift, ticket.owner.id)) == 1


def test_what_can_not_be_made_one_is_said_and_stays_as_it_is(
    desk: Driver, ticket: TicketView
) -> None:
    saw = UnitEntry("string trimmer", "two-stroke", "Tarnbeck", "TB-26")
    other = take_in(desk.shift, ticket.owner.id, saw, TicketEntry("Bogs."))
    desk.window.open_machine(ticket.unit.id)
    desk.settle()
    desk.press("<Alt-w>", "<Return>", "<Control-s>")
    card = desk.window.in_sight
    assert isinstance(card, MachinesMerge)
    assert f"{ticket.tag} and {other.tag} are both open" in card._other["other"].error
    assert len(units_of(desk.shift, ticket.owner.id)) == 2

"""At the counter nobody is written down twice, and several machines come in one visit."""

from dataclasses import dataclass

import pytest
from pypdf import PdfReader

from shopdesk.desk.intake_new import NewTicket
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer
from shopdesk.job.history import customer_history
from shopdesk.job.units import units_of
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.test_intake_new import new_ticket, type_owner


@pytest.fixture
def new(desk: Driver) -> NewTicket:
    return new_ticket(desk)


def test_somebody_with_a_known_phone_is_shown_before_a_second_card_is_made(
    desk: Driver, ticket: TicketView, new: NewTicket
) -> None:
    desk.fill("A. Brightwatter", "5550143\n5550177", "", "ansel@Example.com")
    desk.until(lambda: new.owner.same.offered, "the known owner shown")
    (offered,) = new.owner.same.offered
    assert offered == "Ansel Brightwater, 555-0142, 7 Mill Row (same phone)"
    desk.shots("intake-known")
    desk.press("<Alt-k>")
    assert new.owner.known is not None
    assert new.owner.known.id == ticket.owner.id
    assert new.owner.form.text_of("name") == "Ansel Brightwater"
    assert new.owner.form.text_of("email") == "ansel@example.com", "what was typed is kept"
    assert new.owner.form.text_of("phones").endswith("\n555-0177")
    assert not new.owner.same.winfo_manager()
    assert len(units_of(desk.shift, ticket.owner.id)) == 1


def test_it_may_be_somebody_else_all_the_same(
    desk: Driver, ticket: TicketView, new: NewTicket
) -> None:
    type_owner(desk, "Brightwater Ansel", "555-0150")
    desk.until(lambda: not desk.window.front.worker.busy)
    new.owner.form.restore({"address": "7 mill row"})
    desk.until(lambda: new.owner.same.offered, "the known owner shown")
    assert "name alike, same street" in new.owner.same.offered[0]
    desk.fill("chain", "two")
    new.visit.focus_first()
    desk.type("Bogs.")
    desk.press("<Control-s>")
    assert desk.notice.startswith("T1002 is taken in")


def test_a_known_serial_number_is_shown_whatever_its_dashes(
    desk: Driver, ticket: TicketView, new: NewTicket
) -> None:
    new.machine.form["notes"].focus_input()
    desk.type("grip torn")
    new.machine.form["serial"].focus_input()
    desk.type("tb2600417")
    new.machine.suggestions.close()
    desk.until(lambda: new.machine.same.offered, "the known machine shown")
    assert "serial TB26-00417, Ansel Brightwater" in new.machine.same.offered[0]
    desk.press("<Alt-j>")
    assert new.machine.known is not None
    assert new.machine.known.id == ticket.unit.id
    assert new.owner.known is not None
    assert new.machine.form.text_of("notes") == "grip torn"


def test_the_same_model_again_is_shown_for_its_owner(
    desk: Driver, ticket: TicketView, new: NewTicket
) -> None:
    new.owner.take(ticket.owner.id)
    new.machine.take(None)
    new.machine.form["make"].focus_input()
    desk.fill("tarnbeck", "tb 26")
    desk.until(lambda: new.machine.same.offered, "the known machine shown")
    assert new.machine.same.offered[0].endswith("(same make and model, same owner)")


def test_several_machines_come_in_one_visit(desk: Driver, new: NewTicket) -> None:
    type_owner(desk, "Oona Verhaal", "555-0150")
    desk.fill("chain", "two")
    new.visit.focus_first()
    desk.type("Bogs.")
    desk.press("<Alt-n>")
    assert desk.notice == "T1002 is taken in. Oona Verhaal's next machine: which is it?"
    assert desk.window.in_sight is new
    assert new.owner.known is not None
    assert new.machine.known is None, "the one that was taken in just now is not meant again"
    assert new.visit.text_of("complaint") == ""
    new.machine.form.focus_first()
    desk.fill("tiller", "four")
    new.visit.focus_first()
    desk.type("Won't start.")
    desk.press("<Control-s>")
    assert desk.notice.startswith("T1003 is taken in")
    assert len(customer_history(desk.shift, new_owner(desk))) == 2
    desk.press("<Alt-l>")
    (slip,) = desk.opened
    pages = PdfReader(slip).pages
    assert len(pages) == 3, "the slip and two tags"
    said = pages[0].extract_text()
    assert "T1002" in said
    assert "T1003" in said
    desk.shot("intake-visit-1280x800")
    desk.press("<Alt-n>")
    assert desk.window.in_sight is new
    assert new.owner.known is not None
    assert new.machine.known is None


def new_owner(desk: Driver) -> int:
    taken = desk.window.pane.ticket
    assert taken is not None
    return taken.owner.id


def test_what_is_typed_is_set_out_tidily_and_may_be_typed_otherwise(
    desk: Driver, new: NewTicket
) -> None:
    phones = new.owner.form["phones"]
    desk.fill("Oona Verhaal", "3035550150", "3 Weir St\nBend OR 9770", "oona@EXAMPLE")
    assert phones.get() == "303-555-0150"
    assert new.owner.form.text_of("email") == "oona@example"
    assert "The ZIP 9770 has 4 digits" in new.owner.tidying.doubts
    assert "no dot" in new.owner.tidying.doubts
    desk.shot("intake-doubts-1280x800")
    phones.focus_input()
    phones.set("")
    desk.type("3035550150")
    desk.press("<Tab>")
    assert phones.get() == "3035550150", "typed so once more, it stays"
    new.visit.focus_first()
    desk.type("Bogs.")
    new.machine.form.focus_first()
    desk.fill("chain", "two")
    desk.press("<Control-s>")
    taken = desk.window.pane.ticket
    assert taken is not None, "a doubt refuses nothing"
    kept = get_customer(desk.shift, taken.owner.id)
    assert kept.email == "oona@example"


def test_the_queues_day_is_promised_with_one_key(desk: Driver, new: NewTicket) -> None:
    assert new.visit.text_of("promised_on") == ""
    desk.press("<Alt-d>")
    promised = new.visit.text_of("promised_on")
    assert promised
    assert promised in str(new._queue.cget("text"))


def test_the_terms_are_in_sight(desk: Driver, new: NewTicket) -> None:
    said = str(new._terms.cget("text"))
    assert "Finding the trouble costs $35.00 and its tax, owed even if" in said
    assert "we ask first" in said


def test_the_trades_words_stand_where_the_owners_own_are_missing(
    desk: Driver, new: NewTicket
) -> None:
    new.visit["complaint_kind"].focus_input()
    desk.type("bogs")
    desk.press("<Tab>")
    assert new.visit.text_of("complaint") == "Bogs down when the throttle is opened."
    new.visit["complaint"].focus_input()
    desk.type("Uphill. ")
    new.visit["complaint_kind"].focus_input()
    desk.type("smokes")
    desk.press("<Tab>")
    assert "Uphill." in new.visit.text_of("complaint"), "the owner's own words stay"


KEY_SECONDS = 0.28
"""Of an average typist who is no secretary (40 words a minute): Card, Moran and Newell, "The
keystroke-level model", CACM 23(7), 1980; from memory, not confirmed."""


@dataclass
class Counting:
    """Presses keys and counts them; a modifier is a key as well."""

    desk: Driver
    keys: int = 0

    def press(self, *sequences: str) -> None:
        self.keys += sum(2 if "-" in one else 1 for one in sequences)
        self.desk.press(*sequences)

    def type(self, words: str) -> None:
        self.keys += len(words) + sum(char.isupper() for char in words)
        self.desk.type(words)

    def fill(self, *words: str) -> None:
        for one in words:
            self.type(one)
            self.press("<Tab>")

    @property
    def seconds(self) -> float:
        return self.keys * KEY_SECONDS


WORDS = "Chain creeps when it idles, since it fell off the truck last week."


def test_a_known_owners_machine_is_in_within_a_minutes_keys(desk: Driver) -> None:
    owner = add_customer(desk.shift, CustomerEntry("Oona Verhaal", ("303-555-0150",)))
    hands = Counting(desk)
    hands.press("<Control-n>")
    new = desk.window.in_sight
    assert isinstance(new, NewTicket)
    hands.type("0150")
    desk.until(lambda: new.owner.suggestions.offers, "the owner offered")
    hands.press("<Down>", "<Return>")
    hands.fill("chain saw", "two", "Oakrill", "OR-40", "OR40-221")
    hands.press("<Alt-v>")
    hands.type(WORDS)
    hands.press("<Alt-d>", "<Control-p>")
    (visit,) = customer_history(desk.shift, owner.id)
    assert visit.complaint == WORDS
    assert desk.opened, "its tag is made"
    assert 20 < hands.seconds < 60


def test_a_new_owners_machine_is_in_within_two_minutes_keys(desk: Driver) -> None:
    hands = Counting(desk)
    hands.press("<Control-n>")
    hands.fill("Oona Verhaal", "home 3035550150\nwork 3035550151", "3 Weir Street\nBend OR 97701")
    hands.fill("oona@example.com", "", "", "", "")
    hands.fill("chain saw", "two", "Oakrill", "OR-40", "OR40-221", "", "2", "", "3", "11")
    hands.press("<Alt-v>")
    hands.type(WORDS)
    hands.press("<Alt-d>", "<Control-p>")
    taken = desk.window.pane.ticket
    assert taken is not None
    assert (taken.owner.name, taken.unit.title) == ("Oona Verhaal", "Chain saw, Oakrill OR-40")
    assert taken.unit.last_month == 11
    assert desk.opened, "its tag is made"
    assert 20 < hands.seconds < 120

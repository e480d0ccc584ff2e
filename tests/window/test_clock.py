"""The clock by keyboard: F11 on every page, the strip that counts, time by hand, charging it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.labour.clock_strip import ClockStrip
from shopdesk.desk.repair_page import RepairPage
from shopdesk.job.causes import say_cause
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import say_no_proof
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.labour.clock import TimeEntry, add_time, start_clock
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import LabourRate
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.job.mended import closed
from tests.window.conftest import NOW, Driver
from tests.window.so_far import approved, at_bench


class Watch:
    """The time as the test sets it."""

    def __init__(self) -> None:
        self.moment: datetime = NOW

    def __call__(self) -> datetime:
        return self.moment

    def forward(self, minutes: float) -> None:
        self.moment += timedelta(minutes=minutes)


@pytest.fixture
def watch() -> Watch:
    return Watch()


@pytest.fixture
def timed(
    drive: Callable[[Shift], Driver], shift: Shift, ticket: TicketView, watch: Watch
) -> Driver:
    """The window on a shop whose time the test sets."""
    return drive(replace(shift, now=watch))


def strip(desk: Driver) -> ClockStrip:
    return desk.window.pane.header.clock


def test_one_key_starts_and_stops_the_clock_on_every_page(
    timed: Driver, ticket: TicketView, watch: Watch
) -> None:
    timed.open(ticket)
    for page in range(1, 8):
        timed.press(f"<Alt-Key-{page}>", "<F11>")
        assert timed.notice == "Mira on the clock for the diagnosis."
        assert strip(timed).words == f"Mira on the clock since {watch.moment:%H:%M}, 0 min"
        watch.forward(5)
        timed.press("<F11>")
        assert timed.notice == "Mira’s clock stopped at 5 min."
        assert strip(timed).words == ""
    assert [spell.seconds for spell in timed.kept(ticket).spells] == [300] * 7


def test_the_minutes_count_on_in_the_strip(timed: Driver, ticket: TicketView, watch: Watch) -> None:
    timed.open(ticket)
    timed.press("<F11>")
    watch.forward(27)
    strip(timed).count()
    timed.settle()
    assert strip(timed).words == "Mira on the clock since 14:30, 27 min"
    timed.shots("clock")
    watch.forward(24 * 60)
    strip(timed).count()
    timed.settle()
    assert strip(timed).words == "Mira on the clock since Mon 15 Mar 2027, 14:30, 24 h 27 min"


def test_the_strip_says_where_else_this_person_is_on_the_clock(
    timed: Driver, shift: Shift, ticket: TicketView, watch: Watch
) -> None:
    other = another(shift)
    start_clock(timed.shift, other.id)
    watch.forward(3)
    timed.open(ticket)
    assert strip(timed).words == f"Mira’s clock runs on {other.tag} since 14:30"
    timed.press("<F11>")
    assert timed.notice == (
        f"{other.tag}: Mira’s clock stopped at 3 min. Mira on the clock for the diagnosis."
    )


def test_a_clock_that_ran_over_night_is_asked_about_until_it_is_known(
    timed: Driver, ticket: TicketView, watch: Watch
) -> None:
    timed.open(ticket)
    timed.press("<F11>")
    watch.forward(15 * 60)
    timed.dialogs.answers = [None]
    timed.press("<F11>")
    assert timed.kept(ticket).running
    timed.dialogs.answers = ["90", "90 min"]
    timed.press("<F11>")
    assert "type how long the work was" in timed.dialogs.asked[-2]
    assert "could be minutes or hours" in timed.dialogs.asked[-1]
    assert timed.kept(ticket).spells[0].seconds == 5400


def test_repair_time_that_nothing_charges_is_not_forgotten(
    timed: Driver, ticket: TicketView
) -> None:
    add_time(timed.shift, at_bench(timed.shift, ticket).id, TimeEntry("40 min", work="repair"))
    timed.open(ticket)
    assert strip(timed).words == "40 min of repair not charged yet: Alt+I on Repair (Alt+4)"
    timed.press("<Alt-Key-4>", "<Alt-i>")
    assert strip(timed).words == ""
    assert timed.kept(ticket).lines[0].quantity == Decimal("0.7")


def test_two_at_one_desk_each_have_their_clock(
    timed: Driver, ticket: TicketView, watch: Watch
) -> None:
    timed.open(ticket)
    timed.dialogs.answers = ["Sam", None, "Sam"]
    timed.press("<F11>", "<Shift-F11>")
    assert timed.notice == "Sam on the clock for the diagnosis."
    watch.forward(6)
    timed.press("<Shift-F11>")
    assert [spell.person for spell in timed.kept(ticket).running] == ["Mira", "Sam"]
    timed.press("<Shift-F11>")
    assert timed.notice == "Sam’s clock stopped at 6 min."
    assert [spell.person for spell in timed.kept(ticket).running] == ["Mira"]


def test_what_is_typed_on_the_page_stays_when_the_clock_is_started(
    timed: Driver, shift: Shift, ticket: TicketView
) -> None:
    timed.open(at_bench(shift, ticket))
    timed.press("<Alt-j>")
    timed.type("27 m")
    timed.press("<F11>")
    page = timed.window.pane.page
    assert isinstance(page, DiagnosisPage)
    assert page.time.form.text_of("time") == "27 m"


@pytest.fixture
def page(timed: Driver, shift: Shift, ticket: TicketView) -> RepairPage:
    """The Repair page of an approved ticket."""
    save_shop(shift, replace(shift.shop, labour_rates=(LabourRate("Electrical", Decimal(85)),)))
    timed.open(approved(shift, ticket))
    found = timed.window.pane.page
    assert isinstance(found, RepairPage)
    return found


def test_time_by_hand_is_written_down_with_a_few_keys(
    timed: Driver, page: RepairPage, ticket: TicketView
) -> None:
    timed.press("<Alt-j>")
    timed.fill("1:20", "yesterday", "Sam", "", "el", "rewound the coil")
    timed.press("<Shift-Tab>", "<Return>")
    (spell,) = timed.kept(ticket).spells
    assert (spell.seconds, spell.person, spell.work, spell.rate, spell.note) == (
        *(4800, "Sam", "repair"),
        *("Electrical", "rewound the coil"),
    )
    assert page.time.comes_to == "Repair (Electrical): 1 h 20 min = 1.3 h"
    assert timed.focus is page.time.form["time"].input
    timed.shots("clock-time")


def test_wrong_time_is_said_at_its_field(timed: Driver, page: RepairPage) -> None:
    timed.press("<Alt-j>")
    timed.type("45\n")
    assert "could be minutes or hours" in page.time.form["time"].error


def test_a_time_is_changed_and_dropped_from_the_list(
    timed: Driver, page: RepairPage, ticket: TicketView
) -> None:
    add_time(timed.shift, ticket.id, TimeEntry("27 min", person="Sam"))
    timed.open(ticket)
    timed.press("<Alt-u>", "<F2>")
    assert page.time.form.text_of("time") == "27 min"
    timed.press("<<SelectAll>>")
    timed.type("35 min\n")
    (spell,) = timed.kept(ticket).spells
    assert (spell.seconds, spell.person) == (2100, "Sam")
    timed.press("<Alt-u>", "<F2>", "<Escape>")
    assert not page.time.form.changed
    timed.dialogs.answers = ["another ticket's"]
    timed.press("<Alt-u>", "<Delete>")
    assert timed.kept(ticket).spells == ()
    assert timed.notice == "The time is off the ticket; the journal keeps it."


def test_time_counts_toward_hours_that_were_agreed_or_is_charged(
    timed: Driver, page: RepairPage, ticket: TicketView
) -> None:
    add_time(timed.shift, ticket.id, TimeEntry("40 min"))
    timed.open(ticket)
    timed.dialogs.answers = [None, "Count"]
    timed.press("<Alt-i>")
    assert timed.kept(ticket).spells[0].line_id is None
    timed.press("<Alt-i>")
    told = timed.kept(ticket)
    labour = next(line for line in told.lines if line.kind == "labour")
    assert told.spells[0].line_id == labour.id
    assert page.time.list.cells(told.spells[0].id)[5] == labour.description
    assert timed.notice.startswith("Count 40 min of repair toward “Fit plug and filter”")


def test_time_that_is_typed_and_not_written_down_is_said_before_any_is_charged(
    timed: Driver, page: RepairPage, ticket: TicketView
) -> None:
    add_time(timed.shift, ticket.id, TimeEntry("40 min"))
    timed.open(ticket)
    timed.press("<Alt-j>")
    timed.type("20 min")
    timed.press("<Alt-i>")
    assert timed.notice.startswith("Time is typed and not written down")
    assert timed.dialogs.asked == []
    assert timed.focus is page.time.form["time"].input
    assert page.time.form.text_of("time") == "20 min"


def test_a_clock_that_ran_for_seconds_is_nothing_to_charge(
    timed: Driver, shift: Shift, ticket: TicketView
) -> None:
    timed.open(at_bench(shift, ticket))
    timed.press("<F11>", "<F11>", "<Alt-i>")
    assert timed.notice.startswith("The time for the diagnosis comes to 0 min")
    assert [one.line_id for one in timed.kept(ticket).spells] == [None]


def test_time_with_no_hours_agreed_is_charged_at_once(
    timed: Driver, shift: Shift, ticket: TicketView
) -> None:
    timed.open(at_bench(shift, ticket))
    add_time(timed.shift, ticket.id, TimeEntry("27 min"))
    timed.open(ticket)
    timed.press("<Alt-i>")
    line = timed.kept(ticket).lines[-1]
    assert (line.description, line.quantity) == (
        "Finding the cause, time at the bench",
        Decimal("0.5"),
    )
    timed.press("<Alt-i>")
    assert timed.notice == "No time is left to charge: F11 starts the clock."
    timed.press("<Alt-u>")
    timed.shots("clock-diagnosis")


def test_a_clock_that_runs_is_said_before_time_is_charged(
    timed: Driver, shift: Shift, ticket: TicketView
) -> None:
    timed.open(at_bench(shift, ticket))
    timed.press("<F11>", "<Alt-i>")
    assert timed.notice == "Mira’s clock still runs here: stop it first (F11)."


def test_a_clock_that_runs_stops_as_the_ticket_goes_to_the_counter_and_it_is_said(
    timed: Driver, page: RepairPage, ticket: TicketView, watch: Watch
) -> None:
    for line in timed.kept(ticket).lines:
        do_line(timed.shift, line.id)
    say_cause(timed.shift, ticket.id, "gummed-carburettor")
    say_no_proof(timed.shift, ticket.id, "run by the owner")
    timed.open(ticket)
    timed.press("<F11>")
    watch.forward(12)
    timed.press("<Control-Return>")
    assert timed.notice == f"{ticket.tag} is in Pickup now. Mira’s clock stopped at 12 min."
    assert strip(timed).words == ""


def test_the_strip_leaves_room_for_an_earlier_visit(
    timed: Driver, ticket: TicketView, watch: Watch
) -> None:
    closed(timed.shift, at_bench(timed.shift, ticket))
    again = take_in(
        timed.shift, ticket.owner.id, ticket.unit.id, TicketEntry("Dies again under load.")
    )
    timed.open(again)
    timed.press("<F11>")
    start_clock(timed.shift, again.id, person="Sam")
    timed.open(again)
    watch.forward(61)
    strip(timed).count()
    assert strip(timed).words == (
        "Mira on the clock since 14:30, 1 h 1 min  ·  Sam on the clock since 14:30, 1 h 1 min"
    )
    timed.shots("clock-history")


def another(shift: Shift) -> TicketView:
    """Take one more machine in."""
    return take_in(
        shift,
        CustomerEntry("Odo Fennimore", ("555-0177",)),
        UnitEntry("chain saw", "two-stroke", "Osmarrow", "OS 40", "OS-7"),
        TicketEntry("Bogs down in the cut."),
    )

"""The first run, and the settings later."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path
from threading import Event

import pytest

from shopdesk.desk.settings import Settings
from shopdesk.errors import JobError
from shopdesk.job.settings import ShopEntry, set_up_shop
from shopdesk.job.shift import Shift, has_shop
from shopdesk.records.store import open_records
from tests.window.conftest import NOW, Driver


def test_first_run_asks_for_the_shop_and_opens_its_desk(
    drive: Callable[..., Driver], empty_shift: Shift
) -> None:
    desk = drive(empty_shift)
    assert desk.app.welcome is not None
    desk.shots("welcome")
    desk.type("Fernhollow Repairs")
    desk.press("<Control-s>")
    assert desk.app.welcome is None
    assert empty_shift.shop.name == "Fernhollow Repairs"
    assert "Fernhollow Repairs" in desk.root.title()
    desk.press("<Control-n>")


def test_first_run_says_at_the_field_what_is_wrong(
    drive: Callable[..., Driver], empty_shift: Shift
) -> None:
    desk = drive(empty_shift)
    assert desk.app.welcome is not None
    form = desk.app.welcome.form
    desk.press("<Control-s>")
    assert "name is empty" in form["name"].error
    desk.type("Fernhollow Repairs")
    form["altitude"].focus_input()
    desk.press("<Control-a>")
    desk.type("high up")
    desk.press("<Control-s>")
    assert "no altitude" in form["altitude"].error
    assert desk.focus is form["altitude"].input
    assert form.text_of("name") == "Fernhollow Repairs"
    assert not has_shop(empty_shift)


@dataclass
class Builder:
    """Builds a demo shop once it is let, and knows whether it was stopped."""

    file: Path
    begun: Event = field(default_factory=Event)
    let: Event = field(default_factory=Event)
    error: Exception | None = None

    def __call__(self, stop: Event) -> Shift:
        self.begun.set()
        while not self.let.wait(0.01):
            if stop.is_set():
                raise JobError("It was stopped.")
        if self.error is not None:
            raise self.error
        shift = Shift(open_records(self.file, datetime.now(UTC)), "", lambda: NOW)
        set_up_shop(shift, ShopEntry(name="The demo shop"))
        return shift


@pytest.fixture
def builder(tmp_path: Path) -> Iterator[Builder]:
    """A builder that ends with its test."""
    made = Builder(tmp_path / "demo.db")
    yield made
    made.let.set()


def building(drive: Callable[..., Driver], shift: Shift, builder: Builder) -> Driver:
    """Return a window in which the demo is being built."""
    desk = drive(shift, builder)
    desk.press("<Alt-d>")
    desk.until(builder.begun.is_set, "the building")
    return desk


def test_first_run_can_build_the_demo_instead_and_opens_it(
    drive: Callable[..., Driver], empty_shift: Shift, builder: Builder
) -> None:
    desk = building(drive, empty_shift, builder)
    builder.let.set()
    desk.until(lambda: desk.app.window is not None, "the demo's desk")
    assert desk.window.front.shift.shop.name == "The demo shop"
    assert desk.app.welcome is None
    desk.press("<Control-n>")


def test_the_window_lives_while_the_demo_is_built_and_says_so(
    drive: Callable[..., Driver], empty_shift: Shift, builder: Builder
) -> None:
    desk = building(drive, empty_shift, builder)
    welcome = desk.app.welcome
    assert welcome is not None
    desk.type("Fernhollow")
    assert welcome.form.text_of("name") == "Fernhollow"
    assert welcome.notices.busy_with.startswith("Building the demo shop")
    desk.press("<Control-s>", "<Alt-d>")
    assert not has_shop(empty_shift), "one thing at a time"
    desk.shots("welcome-building")


def test_building_the_demo_can_be_stopped_and_begun_again(
    drive: Callable[..., Driver], empty_shift: Shift, builder: Builder
) -> None:
    desk = building(drive, empty_shift, builder)
    welcome = desk.app.welcome
    assert welcome is not None
    desk.press("<Escape>")
    desk.until(lambda: welcome.notices.text == "It was stopped.", "the end of it")
    assert welcome.notices.busy_with == ""
    builder.let.set()
    desk.press("<Alt-d>")
    desk.until(lambda: desk.app.window is not None, "the demo's desk")


def test_ones_own_shop_can_be_opened_after_the_demo_could_not_be_built(
    drive: Callable[..., Driver], empty_shift: Shift, builder: Builder
) -> None:
    builder.error = JobError("The folder is full: free some space.")
    desk = building(drive, empty_shift, builder)
    welcome = desk.app.welcome
    assert welcome is not None
    builder.let.set()
    desk.until(lambda: "free some space" in welcome.notices.text, "the sentence")
    desk.type("Fernhollow Repairs")
    desk.press("<Control-s>")
    assert empty_shift.shop.name == "Fernhollow Repairs"


def test_the_window_can_be_closed_while_the_demo_is_built(
    drive: Callable[..., Driver], empty_shift: Shift, builder: Builder
) -> None:
    desk = building(drive, empty_shift, builder)
    desk.app.shut()
    assert desk.app.welcome is None
    assert not builder.file.exists()


def test_settings_show_what_is_kept_and_change_it(desk: Driver) -> None:
    desk.press("<F10>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, Settings)
    form = sheet._form
    assert form.text_of("altitude") == "1609.3 m"
    assert form.text_of("tax_rates") == "State 6.875\nCounty 0.5"
    form["bench_rate"].focus_input()
    desk.press("<Control-a>")
    desk.type("72.50")
    form["taxed_sublet"].focus_input()
    desk.type(" ")
    desk.press("<Control-s>")
    shop = desk.shift.shop
    assert shop.bench_rate == Decimal("72.50")
    assert {kind.value for kind in shop.taxed} >= {"part", "labour", "fee", "sublet"}
    assert desk.window.unsaved() == []
    desk.shots("settings")


def test_settings_refuse_a_tax_of_nonsense_at_its_field(desk: Driver) -> None:
    desk.press("<F10>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, Settings)
    sheet._form["tax_rates"].focus_input()
    desk.press("<Control-End>")
    desk.type("\nCity lots")
    desk.press("<Control-s>")
    assert "no tax rate" in sheet._form["tax_rates"].error
    assert len(desk.shift.shop.tax_rates) == 2


def test_settings_go_from_section_to_section(desk: Driver) -> None:
    desk.press("<F10>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, Settings)
    form = sheet._form
    seen = []
    for _ in form.sections:
        desk.press("<F7>")
        seen.append(next(one.name for one in form if one.input is desk.focus))
    assert seen == [
        *("bench_rate", "part_markups", "tax_rates", "excess", "currency", "name"),
    ]
    desk.press("<F8>")
    assert desk.focus is form["currency"].input
    desk.shots("settings-place")


def test_settings_keep_every_rule_of_the_shop(desk: Driver) -> None:
    desk.press("<F10>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, Settings)
    form = sheet._form
    for name, typed in (
        ("labour_rates", "Electrical 85.00"),
        ("part_markups", "up to 10.00: 100 %\nall above: 30 %"),
        ("supplies_percent", "5"),
        ("supplies_cap", "15"),
        ("storage_per_day", "1.50"),
        ("prices_new", "string trimmer 189.00"),
    ):
        form[name].focus_input()
        desk.type(typed)
    for name in ("credit_diagnosis", "tax_included", "southern"):
        form[name].focus_input()
        desk.type(" ")
    desk.press("<Control-s>")
    assert desk.notice.startswith("Saved.")
    shop = desk.shift.shop
    assert (shop.labour_rates[0].name, shop.supplies.cap) == ("Electrical", Decimal("15.00"))
    assert shop.part_markups[-1].markup == 30
    assert (shop.credit_diagnosis, shop.tax_included, shop.southern) == (True, True, True)
    assert (shop.storage_per_day, shop.prices_new["string trimmer"]) == (
        Decimal("1.50"),
        Decimal("189.00"),
    )
    desk.shots("settings-filled")

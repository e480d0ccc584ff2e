"""The first run, and the settings later."""

from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

from shopdesk.desk.settings import Settings
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


def test_first_run_can_open_the_demo_instead(
    drive: Callable[..., Driver], empty_shift: Shift, tmp_path: Path
) -> None:
    def demo() -> Shift:
        demo_shift = Shift(open_records(tmp_path / "demo.db", datetime.now(UTC)), "", lambda: NOW)
        set_up_shop(demo_shift, ShopEntry(name="The demo shop"))
        return demo_shift

    desk = drive(empty_shift, demo)
    desk.press("<Alt-d>")
    assert desk.window.front.shift.shop.name == "The demo shop"


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

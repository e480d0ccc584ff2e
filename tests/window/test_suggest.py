"""What is offered while typing stands below its field, or above it where there is no room."""

import pytest
import ttkbootstrap as ttk

from shopdesk.desk.suggest import Offer, Suggestions
from tests.window.conftest import Driver


@pytest.mark.parametrize(("rely", "below"), [(0.2, True), (0.97, False)])
def test_offers_stay_inside_the_window(desk: Driver, rely: float, below: bool) -> None:
    entry = ttk.Entry(desk.root)
    entry.place(relx=0.5, rely=rely)
    entry.insert(0, "fuel")
    found = [Offer(f"Fuel line {number}", number) for number in range(8)]
    suggestions = Suggestions(entry, lambda words: found, lambda number: None)
    entry.focus_set()
    desk.settle()
    suggestions.look_now()
    desk.settle()
    shown = suggestions.list_in_sight
    assert shown is not None
    assert (shown.winfo_rooty() > entry.winfo_rooty()) is below
    assert shown.winfo_rooty() >= desk.root.winfo_rooty()
    bottom = desk.root.winfo_rooty() + desk.root.winfo_height()
    assert shown.winfo_rooty() + shown.winfo_height() <= bottom

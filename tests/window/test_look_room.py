"""Where there is little room, buttons, fields, columns and tabs make do with it."""

import pytest
import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.columns import two_columns
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form
from shopdesk.desk.rows import Column, RowList, shared_out
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.cut_off import cut_off


def held(desk: Driver, width: int) -> ttk.Frame:
    """A frame of a width over the window, which keeps that width."""
    frame = ttk.Frame(desk.window, width=width, height=400)
    frame.pack_propagate(False)
    frame.place(x=0, y=0)
    return frame


def widen(desk: Driver, frame: ttk.Frame, width: int) -> None:
    frame.configure(width=width)
    desk.until(lambda: frame.winfo_width() == width, "the width")
    desk.settle()


def test_buttons_go_on_in_a_row_below_and_come_back(desk: Driver) -> None:
    frame = held(desk, 900)
    flow = Flow(frame, padding=(12, 0, 12, 8))
    flow.pack(fill="x")
    buttons = [ttk.Button(flow, text=f"Button number {place}") for place in range(4)]
    for button in buttons:
        button.pack(side="left", padx=(0, 8))
    desk.settle()
    assert flow.rows == 1
    tall = flow.winfo_height()
    widen(desk, frame, 320)
    assert flow.rows == 2
    assert flow.winfo_height() > tall
    assert cut_off(frame) == []
    assert buttons[0].tk_focusNext() is buttons[1], "Tab goes the way the eye goes"
    widen(desk, frame, 900)
    assert flow.rows == 1
    assert flow.winfo_height() == tall


def test_words_beside_buttons_get_a_row_of_their_own_over_them(desk: Driver) -> None:
    frame = held(desk, 900)
    flow = Flow(frame)
    flow.pack(fill="x")
    button = ttk.Button(flow, text="Throw it away")
    button.pack(side="right")
    words = ttk.Label(flow, text="Many words that take a good part of a line. " * 3, width=1)
    words.pack(side="left", fill="x", expand=True)
    desk.settle()
    assert flow.rows == 1
    widen(desk, frame, 150)
    assert flow.rows == 2
    assert words.winfo_rooty() < button.winfo_rooty()


def test_a_button_that_is_shown_later_finds_its_place(desk: Driver) -> None:
    frame = held(desk, 300)
    flow = Flow(frame)
    flow.pack(fill="x")
    first, second = (
        ttk.Button(flow, text="The first button"),
        ttk.Button(flow, text="The second one"),
    )
    first.pack(side="left")
    desk.settle()
    assert flow.rows == 1
    second.pack(side="left")
    widen(desk, frame, 200)
    assert flow.rows == 2
    second.pack_forget()
    desk.settle()
    assert flow.rows == 1


def test_a_form_takes_fewer_columns_where_words_would_be_cut_off(desk: Driver) -> None:
    frame = held(desk, 900)
    form = Form(frame, columns=4)
    for name in ("one", "two", "three", "four"):
        form.line(name, f"The field called {name}", hint="and a hint")
    form.pack(fill="x")
    desk.settle()
    assert len({field.winfo_rooty() for field in form}) == 1
    widen(desk, frame, 450)
    assert len({field.winfo_rooty() for field in form}) == 2
    assert cut_off(frame) == []
    widen(desk, frame, 900)
    assert len({field.winfo_rooty() for field in form}) == 1


def test_a_field_that_comes_back_keeps_its_place_in_a_narrow_form(desk: Driver) -> None:
    frame = held(desk, 300)
    form = Form(frame, columns=2)
    for name in ("one", "two", "three"):
        form.line(name, f"The field called {name}", hint="and a hint")
    form.pack(fill="x")
    form["two"].grid_remove()
    desk.settle()
    form["two"].grid()
    desk.settle()
    tops = [field.winfo_rooty() for field in form]
    assert tops == sorted(set(tops)), "one under the other, in their order"


def test_two_halves_stand_under_each_other_where_they_would_be_too_narrow(desk: Driver) -> None:
    frame = held(desk, 900)
    inside = ttk.Frame(frame)
    inside.pack(fill="both", expand=True)
    left, right = two_columns(inside)
    for half in (left, right):
        ttk.Label(half, text="words").pack()
    desk.settle()
    assert left.winfo_rooty() == right.winfo_rooty()
    widen(desk, frame, 500)
    assert left.winfo_rooty() < right.winfo_rooty()


@pytest.mark.parametrize(
    ("room", "widths"),
    [
        (500, [320, 100, 80]),
        (380, [200, 100, 80]),
        (330, [150, 100, 80]),
        (280, [115, 84, 80]),
        (90, [30, 30, 30]),
        (1, [200, 100, 80]),
    ],
)
def test_columns_share_the_room(room: int, widths: list[int]) -> None:
    found = shared_out([200, 100, 80], [True, False, False], [60, 60, 80], room)
    assert sum(found) <= max(room, 380 if room == 1 else 0)
    if room > 90:
        assert found == pytest.approx(widths, abs=4)


def test_headings_that_are_too_long_end_in_an_ellipsis(desk: Driver) -> None:
    frame = held(desk, 160)
    rows = RowList(frame, [Column("A heading of some length", 200), Column("Another one", 200)])
    rows.show([(1, ("cell", "cell"))])
    rows.pack(fill="x")
    desk.settle()
    assert str(rows.tree.heading("c0", "text")).endswith("…")
    assert cut_off(frame) == []


def test_tabs_say_their_keys_as_fully_as_there_is_room(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    book = desk.window.pane._book
    assert book.tab(1, "text") == "Diagnosis  Alt+2"
    look.wear(look.root_of(desk.window), dark=False, text=150)
    desk.settle()
    try:
        assert book.tab(1, "text") == "Diagnosis 2"
        assert cut_off(desk.root) == []
    finally:
        look.wear(look.root_of(desk.window), dark=False, text=100)
    desk.settle()
    assert book.tab(1, "text") == "Diagnosis  Alt+2"

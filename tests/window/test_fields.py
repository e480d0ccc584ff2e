"""The fields of a form: what they take, what they offer, and where their errors stand."""

import tkinter as tk
from collections.abc import Callable, Iterator

import pytest
import ttkbootstrap as ttk

from shopdesk.desk.choice_field import meant_by
from shopdesk.desk.forms import Form
from shopdesk.desk.line_held import hold
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.errors import JobError
from shopdesk.job.lines import LineEntry
from shopdesk.job.shift import Shift
from tests.window.conftest import Driver


@pytest.fixture
def form(desk: Driver) -> Iterator[Form]:
    """A form of its own in a window over the desk."""
    desk.window.pack_forget()
    form = Form(desk.root, columns=2)
    form.line("description", "Description")
    form.choice("kind", "Kind", ["part", "labour", "fee"])
    form.choice("onset", "Onset", [("at once", "all at once"), ("crept in", "crept in over time")])
    form.choice("maker", "Make", ["Tarnbeck", "Oakrill"], free=True)
    form.text("notes", "Note")
    form.tick("done", "Done")
    form.pack(fill="both", expand=True)
    desk.settle()
    yield form
    form.destroy()


def test_enter_goes_from_field_to_field_and_space_ticks(desk: Driver, form: Form) -> None:
    form.focus_first()
    desk.type("Cap\n")
    assert desk.focus is form["kind"].input
    form["done"].focus_input()
    desk.type(" ")
    assert form.ticked("done")


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("l", "labour"),
        ("LAB", "labour"),
        ("part", "part"),
        ("nonsense", "nonsense"),
        ("", ""),
    ],
)
def test_a_choice_is_taken_by_its_first_letters(
    desk: Driver, form: Form, typed: str, kept: str
) -> None:
    form["kind"].focus_input()
    desk.type(typed)
    desk.press("<Tab>")
    assert form.text_of("kind") == kept


@pytest.mark.parametrize("typed", ["at on", "AT ONCE", "all", "once"])
def test_a_choice_is_taken_by_any_word_begun(desk: Driver, form: Form, typed: str) -> None:
    form["onset"].focus_input()
    desk.type(typed)
    assert form.text_of("onset") == "at once", "also before the field is left"
    desk.press("<Tab>")
    assert desk.root.getvar(str(form["onset"].input.cget("textvariable"))) == "all at once"


COMPLAINTS = {
    "won't start": "won't start",
    "hot": "starts cold, won't restart hot",
    "dies": "starts, then dies",
    "idle": "won't idle",
}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("starts th", ["dies"]),
        ("starts, then", ["dies"]),
        ("wont start", ["won't start"]),
        ("HOT", ["hot"]),
        ("wont", ["won't start", "idle"]),
        ("starts", ["hot", "dies"]),
        ("then starts", []),
        ("then then", []),
        ("?!", []),
    ],
)
def test_what_choice_is_meant(typed: str, meant: list[str]) -> None:
    assert meant_by(typed, COMPLAINTS) == meant


def test_what_is_no_choice_is_said_in_the_words_of_the_list(desk: Driver, form: Form) -> None:
    form["onset"].offer(list(COMPLAINTS.items()))  # type: ignore[attr-defined]
    form["onset"].focus_input()
    desk.type("explodes")
    form.show_error(JobError("It can't be that: choose one of hot, dies.", "onset"))
    assert form["onset"].error == (
        "“explodes” is not in the list: choose one of won't start; starts cold, won't restart hot; "
        "starts, then dies; won't idle."
    )
    desk.press("<Control-a>")
    desk.type("wont")
    desk.press("<Delete>")
    form.show_error(JobError("It can't be that: choose one of hot, dies.", "onset"))
    assert form["onset"].error == (
        "“wont” may be several of the list: choose one of won't start, won't idle."
    )
    form["kind"].focus_input()
    form.show_error(JobError("The kind is empty: type it.", "kind"))
    assert form["kind"].error == "The kind is empty: type it."


def test_a_choice_shows_words_and_gives_its_key(desk: Driver, form: Form) -> None:
    form["onset"].focus_input()
    desk.type("cr")
    desk.press("<Tab>")
    assert form.text_of("onset") == "crept in"
    form.fill({"onset": "at once"})
    assert form["onset"].get() == "at once"


def test_a_free_choice_lets_other_words_stand_and_backspace_refuses_the_offer(
    desk: Driver, form: Form
) -> None:
    form["maker"].focus_input()
    desk.type("Tarn")
    desk.press("<BackSpace>")
    desk.press("<KeyRelease-BackSpace>", "<Tab>")
    assert form.text_of("maker") == "Tarn"


def test_arrows_choose_in_a_box_of_choices(desk: Driver, form: Form) -> None:
    box = form["kind"].input
    form["kind"].focus_input()
    desk.press("<Down>")
    popdown = str(desk.root.tk.call("ttk::combobox::PopdownWindow", str(box)))
    desk.until(lambda: desk.root.tk.call("winfo", "ismapped", popdown), "the list")
    for key in ("<Down>", "<Return>"):
        desk.root.tk.call("event", "generate", f"{popdown}.f.l", key)
        desk.settle()
    assert form.text_of("kind") == "labour"


def test_tab_leaves_a_text_and_shift_tab_goes_back(desk: Driver, form: Form) -> None:
    form["notes"].focus_input()
    desk.type("one\ntwo")
    desk.press("<Tab>")
    assert desk.focus is form["done"].input
    desk.press("<Shift-Tab>")
    assert desk.focus is form["notes"].input
    assert form.text_of("notes") == "one\ntwo"


def test_error_is_shown_in_words_with_a_sign_and_the_focus(desk: Driver, form: Form) -> None:
    assert form.show_error(JobError("The description is empty: type it.", "description"))
    desk.settle()
    assert form["description"].error == "The description is empty: type it."
    assert desk.focus is form["description"].input
    assert not form.show_error(JobError("Elsewhere.", "unknown"))
    desk.type("x")
    assert form["description"].error == ""


def test_an_error_at_what_cannot_be_seen_is_left_to_the_notice_line(
    desk: Driver, form: Form
) -> None:
    hold(form, "phase")
    form["notes"].focus_input()
    desk.settle()
    assert not form.show_error(JobError("No proof run yet.", "phase"))
    assert desk.focus is form["notes"].input
    form.pack_forget()
    assert not form.show_error(JobError("The note is too long.", "notes"))


def test_errors_of_one_row_stand_over_its_width_one_under_the_other(
    desk: Driver, form: Form
) -> None:
    desk.resize("1280x800")
    for name in ("description", "kind"):
        form[name].show_error(f"{name}: {'what to do about it, ' * 8}")
    desk.settle()
    first, second = form["description"]._error, form["kind"]._error
    assert first is not None
    assert second is not None
    assert first.winfo_width() > form.winfo_width() * 0.9
    top, bottom = sorted((first, second), key=lambda one: one.winfo_y())
    fields_end = max(
        form[name].winfo_y() + form[name].winfo_height()
        for name in form.fields
        if form[name].grid_info()["row"] == 0
    )
    assert fields_end <= top.winfo_y()
    assert top.winfo_y() + top.winfo_height() <= bottom.winfo_y()
    assert bottom.winfo_y() + bottom.winfo_height() <= form["onset"].winfo_y()
    form.clear_errors()
    desk.settle()
    assert form["onset"].winfo_y() - fields_end < 20, "the row is as low as before"


def test_an_error_below_the_page_is_scrolled_into_sight(desk: Driver) -> None:
    desk.window.pack_forget()
    page = ScrollPage(desk.root)
    page.pack(fill="both", expand=True)
    ttk.Frame(page.inside, height=2 * desk.root.winfo_height()).pack()
    form = Form(page.inside, columns=2)
    form.line("reading", "Reading")
    form.pack(fill="x")
    desk.settle()
    form["reading"].focus_input()
    desk.settle()
    form.show_error(JobError("That is no pressure: " + "type it like 142 psi. " * 12, "reading"))
    desk.settle()
    error = form["reading"]._error
    assert error is not None
    assert error.winfo_rooty() + error.winfo_height() <= page.winfo_rooty() + page.winfo_height()
    assert form["reading"].input.winfo_rooty() >= page.winfo_rooty()
    page.destroy()


def test_keys_go_through_a_page_but_not_from_a_text_of_several_lines(desk: Driver) -> None:
    desk.window.pack_forget()
    page = ScrollPage(desk.root)
    page.pack(fill="both", expand=True)
    form = Form(page.inside, columns=2)
    form.line("reading", "Reading")
    form.text("note", "Note")
    form.pack(fill="x")
    ttk.Frame(page.inside, height=3 * desk.root.winfo_height()).pack()
    form["reading"].focus_input()
    desk.settle()

    def seen() -> tuple[float, float]:
        return page._canvas.yview()

    desk.press("<Next>")
    assert 0 < seen()[0] < 0.5
    desk.press("<Control-End>")
    assert seen()[1] == 1
    desk.press("<Prior>")
    assert seen()[1] < 1
    desk.press("<Control-Home>")
    assert seen()[0] == 0
    form["note"].focus_input()
    desk.press("<Next>", "<Control-End>")
    assert seen()[0] == 0
    page.destroy()


def test_draft_holds_only_what_is_not_kept_and_comes_back(form: Form) -> None:
    form.fill({"description": "Cap", "done": True})
    assert not form.changed
    form["description"].set("Cap, new")
    form["done"].set(False)
    assert form.draft() == {"description": "Cap, new", "done": False}
    draft = form.draft()
    form.fill({"description": "Other"})
    form.restore(draft)
    assert form.text_of("description") == "Cap, new"
    assert form.changed
    form.settle()
    assert not form.changed


def test_a_form_makes_the_jobs_entry_of_equally_named_fields(form: Form) -> None:
    form.fill({"description": "Cap", "kind": "part"})
    assert form.into(LineEntry, quantity="2") == LineEntry("part", "Cap", quantity="2")


def test_odd_text_goes_through_unchanged(form: Form) -> None:
    odd = "<b>&amp;</b> \u0141ukasz \u03a9 \U0001f600 [exec] $x {brace\\"
    form.fill({"description": odd, "notes": f"{odd}\n{odd}", "maker": odd})
    assert form.text_of("description") == odd
    assert form.text_of("notes") == f"{odd}\n{odd}"
    assert form.text_of("maker") == odd


def test_space_presses_the_focused_button(desk: Driver) -> None:
    pressed: list[int] = []
    button = ttk.Button(desk.root, text="Go", command=lambda: pressed.append(1))
    button.pack()
    button.focus_set()
    desk.type(" ")
    desk.press("<Return>")
    button.destroy()
    assert pressed == [1, 1]


def test_a_callback_that_raises_is_said_and_logged(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    desk = drive(shift)
    caught: list[BaseException] = []
    desk.app.faults._also = caught.append

    def broken() -> None:
        raise ZeroDivisionError("inside")

    desk.window.front.keys.add(desk.window, "F9", "Breaks", broken)
    desk.press("<F9>")
    assert isinstance(caught[0], ZeroDivisionError)
    assert "Something went wrong in the program itself (ZeroDivisionError)" in desk.notice
    log = shift.records.file.with_name("shopdesk.log").read_text(encoding="utf-8")
    assert "def broken" not in log
    assert 'raise ZeroDivisionError("inside")' in log
    assert isinstance(desk.root, tk.Tk)

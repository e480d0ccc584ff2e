"""The real questions, answered by keyboard."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk.tk_dialogs import TkDialogs
from tests.window.conftest import Driver


def answer(desk: Driver, *keys: str, shot: str = "") -> None:
    """Press keys in the question that is about to stand there."""

    def press() -> None:
        box = next(child for child in desk.root.winfo_children() if isinstance(child, tk.Toplevel))
        if not box.winfo_viewable() or box.focus_get() is None:
            desk.root.after(5, press)
            return
        if shot:
            box.update()
        for key in keys:
            box.update()
            focus = box.focus_get()
            assert focus is not None
            focus.event_generate(key)

    desk.root.after(5, press)


def asked(desk: Driver, question: Callable[[TkDialogs], object], *keys: str) -> object:
    answer(desk, *keys)
    found = question(TkDialogs(desk.root))
    desk.settle()
    return found


def test_enter_says_yes_escape_says_no_and_tab_goes_to_the_other(desk: Driver) -> None:
    def sure(dialogs: TkDialogs) -> bool:
        return dialogs.confirm("Sure?", "Is it so?")

    assert asked(desk, sure, "<Return>") is True
    assert asked(desk, sure, "<Escape>") is False
    assert asked(desk, sure, "<Tab>", "<space>") is False


def test_enter_alone_does_not_do_what_is_risky(desk: Driver) -> None:
    def sure(dialogs: TkDialogs) -> bool:
        return dialogs.confirm("Sure?", "Lose it all?", risky=True)

    assert asked(desk, sure, "<Return>") is False
    assert asked(desk, sure, "<Tab>", "<space>") is True


def test_text_is_typed_and_taken_with_enter(desk: Driver) -> None:
    def why(dialogs: TkDialogs) -> str | None:
        return dialogs.ask_text("Why", "Why is that?", "so")

    assert asked(desk, why, "<End>", "<x>", "<Return>") == "sox"
    assert asked(desk, why, "<Escape>") is None


def test_one_of_several_is_taken_with_the_arrows(desk: Driver) -> None:
    def which(dialogs: TkDialogs) -> int | None:
        return dialogs.choose("Which", "Which one?", ["first", "second", "third"])

    assert asked(desk, which, "<Return>") == 0
    assert asked(desk, which, "<Down>", "<Down>", "<Return>") == 2
    assert asked(desk, which, "<Up>", "<Return>") == 2
    assert asked(desk, which, "<Escape>") is None


def test_the_focus_goes_back_where_it_was(desk: Driver) -> None:
    entry = ttk.Entry(desk.root)
    entry.pack()
    entry.focus_set()
    desk.settle()
    asked(desk, lambda dialogs: dialogs.inform("Read", "Read this."), "<Return>")
    assert desk.focus is entry
    entry.destroy()


def test_a_long_list_of_keys_stands_in_columns_its_answer_on_a_small_screen(desk: Driver) -> None:
    heights: list[int] = []

    def measure() -> None:
        box = next(child for child in desk.root.winfo_children() if isinstance(child, tk.Toplevel))
        heights.append(box.winfo_reqheight())

    def inform(dialogs: TkDialogs) -> None:
        desk.root.after_idle(measure)
        dialogs.inform("Keys", "\n".join(f"Alt+{place}:  what it does" for place in range(45)))

    asked(desk, inform, "<Return>")
    assert heights[0] < 600

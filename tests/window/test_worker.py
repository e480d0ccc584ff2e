"""What takes long is done beside the window."""

import threading

import ttkbootstrap as ttk

from shopdesk.desk.worker import Worker
from tests.window.conftest import Driver


def test_work_is_done_off_the_windows_thread_and_comes_back_on_it(desk: Driver) -> None:
    found: list[tuple[threading.Thread, threading.Thread]] = []
    desk.window.front.worker.run(
        threading.current_thread, lambda there: found.append((there, threading.current_thread()))
    )
    assert desk.window.front.worker.busy
    desk.settle()
    ((there, here),) = found
    assert here is threading.main_thread()
    assert there is not here


def test_an_error_comes_back_as_words(desk: Driver) -> None:
    errors: list[Exception] = []
    desk.window.front.worker.run(lambda: 1 / 0, lambda found: None, sorry=errors.append)
    desk.settle()
    assert isinstance(errors[0], ZeroDivisionError)


def test_what_runs_is_shown_until_it_is_done(desk: Driver) -> None:
    gate = threading.Event()
    worker = desk.window.front.worker
    worker.run(gate.wait, lambda found: None, doing="Reading a large photo")
    desk.root.update()
    assert "Reading a large photo …" in words_at_the_foot(desk)
    gate.set()
    desk.settle()
    assert "Reading a large photo …" not in words_at_the_foot(desk)


def test_finishing_waits_for_all_of_it_and_brings_it_back(root: ttk.App) -> None:
    came: list[object] = []
    worker = Worker(root, came.append)
    worker.finish()
    worker.run(lambda: "first", came.append)
    worker.run(lambda: 1 / 0, came.append)
    worker.finish()
    assert came[0] == "first"
    assert isinstance(came[1], ZeroDivisionError)
    assert not worker.busy
    worker.close()


def test_closing_drops_what_waits_and_ends_the_thread(root: ttk.App) -> None:
    gate = threading.Event()
    ran: list[object] = []
    worker = Worker(root, ran.append)
    worker.run(gate.wait, ran.append)
    worker.run(lambda: "second", ran.append)
    gate.set()
    worker.close()
    assert worker._thread is not None
    assert not worker._thread.is_alive()
    worker.run(lambda: "late", ran.append)
    root.update()
    assert ran == [], "nothing comes back into a window that is closed"


def words_at_the_foot(desk: Driver) -> list[str]:
    return [
        str(child.cget("text"))
        for child in desk.window.front.notices.winfo_children()
        if child.winfo_class() == "TLabel" and child.winfo_ismapped()
    ]

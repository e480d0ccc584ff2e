"""Photos by keyboard: added from files and the clipboard, looked at, captioned, dropped."""

import shutil
import sys
import tkinter as tk
from pathlib import Path

import pytest
from PIL import Image

from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.intake_page import IntakePage
from shopdesk.desk.photo_window import read_photo
from shopdesk.desk.teardown_page import TeardownPage
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.history import ticket_journal
from shopdesk.job.photos import add_photo, photo_file
from shopdesk.job.shift import Shift
from shopdesk.job.teardown import StepEntry, note_step
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import at_bench


@pytest.fixture
def page(desk: Driver, ticket: TicketView) -> IntakePage:
    """The Intake page of a ticket without photos."""
    desk.open(ticket)
    found = desk.window.pane.page
    assert isinstance(found, IntakePage)
    return found


def picture(folder: Path, name: str, colour: str = "red", size: tuple[int, int] = (64, 48)) -> Path:
    Image.new("RGB", size, colour).save(folder / name)
    return folder / name


def large_windows(desk: Driver) -> list[str]:
    windows = [child for child in desk.root.winfo_children() if isinstance(child, tk.Toplevel)]
    return [window.title() for window in windows if window.title() == "Photo"]


def test_several_files_are_added_and_shown_small(
    desk: Driver, page: IntakePage, ticket: TicketView, tmp_path: Path
) -> None:
    files = [picture(tmp_path, "a.png"), picture(tmp_path, "b.jpg", "blue", (48, 64))]
    desk.dialogs.answers.append(files)
    desk.press("<Alt-a>")
    assert len(desk.kept(ticket).photos) == 2
    assert len(page.photos.thumbnails) == 2
    assert all(one.cget("image") for one in page.photos.thumbnails)
    assert desk.notice == "Added to the ticket's photos."
    desk.press("<Alt-z>")
    desk.shots("intake-photos")


def test_choosing_no_file_adds_nothing(desk: Driver, page: IntakePage, ticket: TicketView) -> None:
    desk.dialogs.answers.append([])
    desk.press("<Alt-a>")
    assert desk.kept(ticket).photos == ()


def test_what_is_no_photo_gets_a_sentence_and_the_others_are_kept(
    desk: Driver, page: IntakePage, ticket: TicketView, tmp_path: Path
) -> None:
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(b"\xff\xd8 no more of it")
    desk.dialogs.answers.append([broken, picture(tmp_path, "a.png")])
    desk.press("<Alt-a>")
    assert "broken.jpg is no photo that can be read" in desk.notice
    assert len(desk.kept(ticket).photos) == 1


def test_a_photo_opens_large_and_escape_closes_it(
    desk: Driver, shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    add_photo(shift, ticket.id, picture(tmp_path, "a.png"), "left side")
    add_photo(shift, ticket.id, picture(tmp_path, "b.png", "blue"))
    desk.open(ticket)
    desk.press("<Alt-z>")
    thumbnail = desk.focus
    desk.press("<Return>")
    assert large_windows(desk) == ["Photo"]
    labels = [str(child.cget("text")) for child in desk.focus.winfo_toplevel().winfo_children()]
    assert any("left side" in words and "1 of 2" in words for words in labels)
    desk.press("<Right>")
    labels = [str(child.cget("text")) for child in desk.focus.winfo_toplevel().winfo_children()]
    assert any("2 of 2" in words for words in labels)
    desk.press("<Escape>")
    assert large_windows(desk) == []
    assert desk.focus is thumbnail


def test_arrows_go_through_the_thumbnails_and_space_opens(
    desk: Driver, shift: Shift, page: IntakePage, ticket: TicketView, tmp_path: Path
) -> None:
    for name, colour in (("a.png", "red"), ("b.png", "blue")):
        add_photo(shift, ticket.id, picture(tmp_path, name, colour))
    desk.open(ticket)
    desk.press("<Alt-z>", "<Right>", "<Right>")
    assert desk.focus is page.photos.thumbnails[1]
    desk.press("<space>")
    assert large_windows(desk) == ["Photo"]
    desk.press("<Escape>")


def test_a_caption_is_written_and_a_photo_dropped_with_a_reason(
    desk: Driver, shift: Shift, page: IntakePage, ticket: TicketView, tmp_path: Path
) -> None:
    add_photo(shift, ticket.id, picture(tmp_path, "a.png"))
    desk.open(ticket)
    desk.dialogs.answers += ["cracked <b>tank</b>", None, "wrong machine"]
    desk.press("<Alt-z>", "<F2>")
    assert desk.kept(ticket).photos[0].caption == "cracked <b>tank</b>"
    assert "cracked" in str(page.photos.thumbnails[0].cget("text"))
    desk.press("<Alt-z>", "<Delete>")
    assert len(desk.kept(ticket).photos) == 1
    desk.press("<Delete>")
    assert desk.kept(ticket).photos == ()
    assert page.photos.thumbnails == []
    assert any("wrong machine" in line.why for line in ticket_journal(shift, ticket.id))


def test_without_a_photo_the_key_says_how_to_add_one(desk: Driver, page: IntakePage) -> None:
    desk.press("<Alt-z>")
    assert desk.notice == "No photo of the machine yet. Alt+A adds some."


def test_a_photo_whose_file_is_gone_says_so(
    desk: Driver, shift: Shift, page: IntakePage, ticket: TicketView, tmp_path: Path
) -> None:
    photo = add_photo(shift, ticket.id, picture(tmp_path, "a.png")).photos[0]
    photo_file(shift, photo.file).unlink()
    desk.open(ticket)
    assert str(page.photos.thumbnails[0].cget("text")) == "its file is missing"
    desk.press("<Alt-z>", "<Return>")
    texts = [str(child.cget("text")) for child in desk.focus.winfo_toplevel().winfo_children()]
    assert "The photo's file is missing or broken." in texts
    desk.press("<Escape>")


def test_a_finding_has_photos_of_its_own(
    desk: Driver, shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    at_bench(shift, ticket)
    finding = record_finding(shift, ticket.id, "compression", "60").findings[0]
    desk.open(ticket)
    page = desk.window.pane.page
    assert isinstance(page, DiagnosisPage)
    assert page.photos.words == "No photo of the machine yet."
    desk.press("<Alt-l>")
    desk.dialogs.answers.append([picture(tmp_path, "a.png")])
    desk.press("<Alt-a>")
    assert desk.kept(ticket).photos[0].finding_id == finding.id
    assert page.photos.words.startswith("Photos of “Compression”")
    assert len(page.photos.thumbnails) == 1


def test_a_step_of_the_teardown_has_photos_of_its_own(
    desk: Driver, shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    at_bench(shift, ticket)
    note_step(shift, ticket.id, StepEntry("Muffler"))
    step = note_step(shift, ticket.id, StepEntry("Shroud")).teardown[-1]
    desk.open(ticket)
    desk.press("<Alt-Key-6>", "<Alt-l>", "<Down>")
    page = desk.window.pane.page
    assert isinstance(page, TeardownPage)
    desk.dialogs.answers.append([picture(tmp_path, "a.png")])
    desk.press("<Alt-a>")
    assert desk.kept(ticket).photos[0].step_id == step.id
    assert page.log.tree.set(str(step.id), "c3") == "1"
    desk.press("<Up>")
    assert page.photos.thumbnails == []
    desk.shots("teardown-photos")


@pytest.fixture
def clipboard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let a program of our own answer as the system's clipboard does; returns what it hands out."""
    programs, held = tmp_path / "bin", tmp_path / "clipboard"
    programs.mkdir()
    cat = shutil.which("cat")
    program = programs / "xclip"
    program.write_text(
        f'#!/bin/sh\nif [ -f "{held}" ]; then exec {cat} "{held}"; fi\n'
        'echo "Error: target image/png not available" >&2\nexit 1\n'
    )
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(programs))
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    return held


needs_x11 = pytest.mark.skipif(
    sys.platform in ("win32", "darwin"), reason="those systems' clipboards need no program"
)


@needs_x11
def test_a_copied_picture_is_pasted(
    desk: Driver, page: IntakePage, ticket: TicketView, clipboard: Path, tmp_path: Path
) -> None:
    picture(tmp_path, "copied.png", "green").rename(clipboard)
    desk.press("<Alt-v>")
    (photo,) = desk.kept(ticket).photos
    assert desk.notice == "Added to the ticket's photos."
    assert photo.file


@needs_x11
def test_an_empty_clipboard_says_what_to_do(
    desk: Driver, page: IntakePage, clipboard: Path
) -> None:
    desk.press("<Alt-v>")
    assert desk.notice.startswith("No picture is on the clipboard: copy one first")


@needs_x11
def test_what_is_no_picture_says_what_to_do(
    desk: Driver, page: IntakePage, clipboard: Path
) -> None:
    clipboard.write_bytes(b"just words")
    desk.press("<Alt-v>")
    assert desk.notice.startswith("What is on the clipboard can't be read as a picture")


@needs_x11
def test_a_system_without_a_clipboard_program_names_what_to_install(
    desk: Driver, page: IntakePage, clipboard: Path
) -> None:
    (clipboard.parent / "bin" / "xclip").unlink()
    desk.press("<Alt-v>")
    assert "install wl-clipboard (Wayland) or xclip (X11)" in desk.notice


def test_a_large_photo_is_shown_no_larger_than_its_room(tmp_path: Path) -> None:
    image = read_photo(picture(tmp_path, "wide.png", size=(900, 300)), (300, 300))
    assert image is not None
    assert image.size == (300, 100)

"""Drives the real window by real key events: one root window, a new shop for each test."""

import time
import tkinter as tk
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
import ttkbootstrap as ttk
from PIL import ImageGrab

from shopdesk.desk import look
from shopdesk.desk.app import DeskApp
from shopdesk.desk.dressing import Dressing
from shopdesk.desk.welcome import OpenDemo
from shopdesk.desk.window import Window
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.opened import open_ticket
from shopdesk.job.settings import ShopEntry, set_up_shop
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from shopdesk.records.store import open_records

NOW = datetime(2027, 3, 15, 14, 30, tzinfo=UTC)
"""A Monday."""
OUTPUT = Path(__file__).parents[2] / "test-output" / "window"
PATIENCE = 10.0
SIZES = {"1280x800": (1280, 800), "1920x1080": (1920, 1080)}
_KEYSYMS = {
    " ": "space",
    "\n": "Return",
    "\t": "Tab",
    ".": "period",
    ",": "comma",
    "-": "minus",
    "/": "slash",
    "'": "apostrophe",
    '"': "quotedbl",
    "@": "at",
    "+": "plus",
    ":": "colon",
    ";": "semicolon",
    "&": "ampersand",
    "<": "less",
    ">": "greater",
    "(": "parenleft",
    ")": "parenright",
    "$": "dollar",
    "%": "percent",
    "?": "question",
    "!": "exclam",
    "#": "numbersign",
}


@dataclass
class Answers:
    """Answers questions from a list made beforehand, and remembers what was asked."""

    answers: list[object] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def confirm(
        self, title: str, question: str, yes: str = "Yes", no: str = "No", *, risky: bool = False
    ) -> bool:
        return bool(self._next(question))

    def ask_text(self, title: str, question: str, initial: str = "") -> str | None:
        answer = self._next(question)
        return None if answer is None else str(answer)

    def choose(self, title: str, question: str, choices: Sequence[str]) -> int | None:
        """Answer with an index, or with the beginning of a choice's words."""
        answer = self._next(f"{question} {list(choices)}")
        if isinstance(answer, str):
            return next(at for at, words in enumerate(choices) if words.startswith(answer))
        assert answer is None or isinstance(answer, int)
        return answer

    def inform(self, title: str, sentence: str) -> None:
        self.asked.append(sentence)

    def choose_files(self, title: str, endings: Sequence[str]) -> tuple[Path, ...]:
        answer = self._next(title)
        assert isinstance(answer, list)
        return tuple(answer)

    def _next(self, question: str) -> object:
        self.asked.append(question)
        assert self.answers, f"nobody told the test what to answer to: {question}"
        return self.answers.pop(0)


@dataclass
class Driver:
    """A person at the keyboard of one window."""

    app: DeskApp
    shift: Shift
    dialogs: Answers
    opened: list[Path]

    @property
    def window(self) -> Window:
        assert self.app.window is not None, "the welcome is open, not the desk"
        return self.app.window

    @property
    def root(self) -> ttk.App:
        return self.app.root

    @property
    def focus(self) -> tk.Misc:
        """The widget that has the focus."""
        found = self.root.focus_get()
        assert found is not None, "nothing has the focus"
        return found

    @property
    def notice(self) -> str:
        """The sentence at the foot of the window."""
        return self.window.front.notices.text

    def settle(self) -> None:
        """Let the window do all that waits."""
        self.root.update()
        self.until(lambda: self.app.window is None or not self.app.window.front.worker.busy)
        self.root.update()

    def until(self, condition: Callable[[], object], what: str = "") -> None:
        """Go on once ``condition`` holds."""
        deadline = time.monotonic() + PATIENCE
        while not condition():
            self.root.update()
            assert time.monotonic() < deadline, f"it never came: {what or condition}"

    def press(self, *sequences: str) -> None:
        """Press keys where the focus is: ``<Control-n>``, ``<Return>``."""
        for sequence in sequences:
            self.root.update()
            self.focus.event_generate(sequence)
            self.settle()

    def type(self, words: str) -> None:
        """Type words where the focus is."""
        self.root.update()
        for char in words:
            for happening in ("<KeyPress>", "<KeyRelease>"):
                self.focus.event_generate(happening, keysym=_KEYSYMS.get(char, char))
        self.settle()

    def fill(self, *words: str) -> None:
        """Type into one field after another, Tab between them."""
        for one in words:
            self.type(one)
            self.press("<Tab>")

    def open(self, ticket: TicketView) -> None:
        """Open a ticket, fresh from the records, on the page of its stage."""
        self.window.open_ticket(ticket.id)
        self.settle()

    def kept(self, ticket: TicketView) -> TicketView:
        """Return the ticket as the records have it now."""
        return open_ticket(self.shift, ticket.id)

    def resize(self, size: str) -> None:
        """Make the window as large as one of ``SIZES``."""
        width, height = SIZES[size]
        self.root.geometry(f"{width}x{height}+0+0")
        self.until(lambda: abs(self.root.winfo_width() - width) <= 2, f"a window of {size}")
        self.settle()

    def shot(self, name: str) -> Path:
        """Keep a picture of the window under test-output/window."""
        self.settle()
        OUTPUT.mkdir(parents=True, exist_ok=True)
        left, top = self.root.winfo_rootx(), self.root.winfo_rooty()
        box = (left, top, left + self.root.winfo_width(), top + self.root.winfo_height())
        file = OUTPUT / f"{name}.png"
        ImageGrab.grab(bbox=box, xdisplay=str(self.root.winfo_screen())).save(file)
        return file

    def shots(self, name: str) -> list[Path]:
        """Keep a picture in each of ``SIZES``."""
        files = []
        for size in SIZES:
            self.resize(size)
            files.append(self.shot(f"{name}-{size}"))
        self.resize("1280x800")
        return files


@pytest.fixture(scope="session")
def root() -> Iterator[look.DeskRoot]:
    """The session's one root window."""
    window = look.make_root()
    window.geometry("1280x800+0+0")
    yield window
    window.destroy()


@pytest.fixture
def empty_shift(tmp_path: Path) -> Iterator[Shift]:
    """A shift on records that have no shop yet."""
    records = open_records(tmp_path / "shop.db", NOW)
    yield Shift(records, "Mira", lambda: NOW)
    records.close()


@pytest.fixture
def shift(empty_shift: Shift) -> Shift:
    """A shift in an invented shop, high enough for the air to matter."""
    set_up_shop(
        empty_shift,
        ShopEntry(
            name="Wrenmoor Bend Small Engines",
            address="12 Ferry Lane\nWrenmoor Bend",
            phone="555-0100",
            email="desk@wrenmoor.example.com",
            tax_rates="State 6.875\nCounty 0.5",
            altitude="5280 ft",
        ),
    )
    return empty_shift


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    """A ticket just taken in."""
    return take_in(
        shift,
        CustomerEntry(
            name="Ansel Brightwater",
            phones=("home 555-0142", "555-0143"),
            address="7 Mill Row\nWrenmoor Bend",
        ),
        UnitEntry(
            kind="string trimmer",
            engine="two-stroke",
            make="Tarnbeck",
            model="TB-26",
            serial="TB26-00417",
        ),
        TicketEntry(
            complaint="Starts, then dies as soon as I squeeze the trigger.",
            complaint_kind="starts then dies",
            onset="after storage",
            fuel="left in since autumn",
            accessories="guard, harness",
            limit="60",
        ),
    )


@pytest.fixture
def drive(root: look.DeskRoot) -> Iterator[Callable[[Shift], Driver]]:
    """Open a window on a shift's records; whatever raises in it fails the test."""
    faults: list[BaseException] = []
    apps: list[DeskApp] = []

    def opened(
        shift: Shift, open_demo: OpenDemo | None = None, dressing: Dressing | None = None
    ) -> Driver:
        papers: list[Path] = []

        def viewer(file: Path) -> bool:
            papers.append(file)
            return True

        dialogs = Answers()
        app = DeskApp(
            shift,
            root=root,
            dressing=dressing,
            dialogs=dialogs,
            opener=viewer,
            open_demo=open_demo,
            on_fault=faults.append,
        )
        apps.append(app)
        driver = Driver(app, shift, dialogs, papers)
        root.deiconify()
        root.focus_force()
        driver.until(lambda: root.focus_get() is not None, "the focus")
        driver.settle()
        return driver

    yield opened
    for app in apps:
        app.shut()
    for child in root.winfo_children():
        child.destroy()
    root.update()
    if faults:
        raise faults[0]


@pytest.fixture
def desk(drive: Callable[[Shift], Driver], shift: Shift, ticket: TicketView) -> Driver:
    """The window on a shop with one ticket, which is on the board and not open yet."""
    driver = drive(shift)
    driver.until(lambda: driver.window.board.tickets == [ticket.id], "the ticket on the board")
    return driver

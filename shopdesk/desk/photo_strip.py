"""The photos of a machine, a finding or a teardown step in a row: add, look at, caption, drop."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import ttkbootstrap as ttk
from PIL import Image, ImageTk

from shopdesk.desk import look
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import action_button, with_modifier
from shopdesk.desk.page import Page
from shopdesk.desk.photo_source import ENDINGS, add_copied, add_files
from shopdesk.desk.photo_window import PhotoWindow, read_photo
from shopdesk.job.opened import open_ticket
from shopdesk.job.photos import caption_photo, drop_photo, photo_file
from shopdesk.job.views import FindingView, PhotoView, TeardownStepView

_SIDE = 96
_CAPTION_LENGTH = 15


class PhotoStrip(ttk.Frame):
    """Works for a ``page``: its ticket, its keys. Reads and adds photos beside the window."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._photos: Sequence[PhotoView] = ()
        self._of: dict[str, int | None] = {}
        self._seen: dict[str, ImageTk.PhotoImage] = {}
        head = Flow(self)
        head.pack(fill="x")
        keys = page.front.keys
        for words, key, run in (
            ("Add photos …", "Alt+A", self.add),
            ("Paste a photo", "Alt+V", self.paste),
        ):
            action_button(head, keys, words, key, run).pack(side="left", padx=(0, 8))
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(fill="x", pady=(4, 0))
        self._row = ttk.Frame(self)
        keys.add(self, "Alt+Z", "Go to the photos", self._focus_first)

    @property
    def words(self) -> str:
        """What is said of whose photos these are."""
        return str(self._words.cget("text"))

    @property
    def thumbnails(self) -> list[ttk.Button]:
        """The small pictures, each a button that opens the photo."""
        return [child for child in self._row.winfo_children() if isinstance(child, ttk.Button)]

    def show_loose(self) -> None:
        """Show the photos of the machine as a whole."""
        loose = [one for one in self._page.ticket.photos if not (one.finding_id or one.step_id)]
        self._show("of the machine", loose)

    def show_finding(self, finding: FindingView) -> None:
        """Show the photos of a finding."""
        mine = [one for one in self._page.ticket.photos if one.finding_id == finding.id]
        self._show(f"of “{finding.title}”", mine, finding_id=finding.id)

    def show_step(self, step: TeardownStepView) -> None:
        """Show the photos of a step of the teardown."""
        self._show(f"of step {step.number}, {step.off}", step.photos, step_id=step.id)

    def add(self) -> None:
        """Ask for files and add them."""
        files = self._page.front.dialogs.choose_files("Photos", ENDINGS)
        if files:
            self._adding(partial(add_files, files=files))

    def paste(self) -> None:
        """Add what was copied to the clipboard."""
        self._adding(add_copied)

    def _show(self, of: str, photos: Sequence[PhotoView], **where: int | None) -> None:
        self._of = {"finding_id": None, "step_id": None, **where}
        said = f"Photos {of} (Alt+Z): Enter opens one, F2 writes under it, Delete drops it."
        self._words.configure(text=said if photos else f"No photo {of} yet.")
        if tuple(photos) == self._photos:
            return
        self._photos = tuple(photos)
        ours = {photo.file for photo in self._page.ticket.photos}
        self._seen = {name: image for name, image in self._seen.items() if name in ours}
        for child in self._row.winfo_children():
            child.destroy()
        if not photos:
            self._row.pack_forget()
            return
        self._row.pack(fill="x", pady=(6, 0))
        for place, photo in enumerate(photos):
            self._put(place, photo)
        self._read_missing()

    def _put(self, place: int, photo: PhotoView) -> None:
        button = ttk.Button(
            self._row,
            text=_short(photo.caption) or f"photo {place + 1}",
            compound="top",
            command=lambda: self._open(place),
        )
        if photo.file in self._seen:
            button.configure(image=self._seen[photo.file])
        button.pack(side="left", anchor="n", padx=(0, 6))
        for sequence, run in (
            ("<Return>", lambda: self._open(place)),
            ("<F2>", lambda: self._caption(photo)),
            ("<Delete>", lambda: self._drop(photo)),
            ("<Left>", lambda: self._focus(place - 1)),
            ("<Right>", lambda: self._focus(place + 1)),
        ):
            button.bind(sequence, partial(_run, run))

    def _read_missing(self) -> None:
        """Read the pictures that were not seen yet, beside the window."""
        shift, side = self._page.front.shift, look.pixels(self, _SIDE)
        files = {
            photo.file: photo_file(shift, photo.file)
            for photo in self._photos
            if photo.file not in self._seen
        }
        if files:
            self._page.front.worker.run(lambda: _read_all(files, side), self._show_read)

    def _show_read(self, read: dict[str, Image.Image | None]) -> None:
        if not self.winfo_exists():
            return
        for name, image in read.items():
            if image is not None:
                self._seen[name] = ImageTk.PhotoImage(image, master=self)
        for button, photo in zip(self.thumbnails, self._photos, strict=True):
            if photo.file in self._seen:
                button.configure(image=self._seen[photo.file])
            elif photo.file in read:
                button.configure(text="its file is missing")

    def _adding(self, add: Callable[..., list[str]]) -> None:
        shift, ticket_id, where = self._page.front.shift, self._page.ticket.id, dict(self._of)
        self._page.front.worker.run(
            lambda: add(shift, ticket_id, **where),
            lambda sorry: self._added(ticket_id, sorry),
            doing="Adding photos",
        )

    def _added(self, ticket_id: int, sorry: Sequence[str]) -> None:
        front = self._page.front
        if self.winfo_exists() and self._page.ticket.id == ticket_id:
            front.show_ticket(open_ticket(front.shift, ticket_id))
        if sorry:
            front.notices.trouble(" ".join(sorry))
        else:
            front.notices.say("Added to the ticket's photos.")

    def _open(self, place: int) -> None:
        shift = self._page.front.shift
        photos = [(photo_file(shift, photo.file), photo.caption) for photo in self._photos]
        PhotoWindow(self, self._page.front.worker, photos, place)

    def _caption(self, photo: PhotoView) -> None:
        front = self._page.front
        words = front.dialogs.ask_text("Caption", "What does the photo show?", photo.caption)
        if words is not None:
            self._page.attempt(
                lambda: caption_photo(front.shift, photo.id, words), said="The caption is kept."
            )

    def _drop(self, photo: PhotoView) -> None:
        front = self._page.front
        why = front.dialogs.ask_text("Drop a photo", "Why is this photo taken off the ticket?")
        if why is not None:
            self._page.attempt(
                lambda: drop_photo(front.shift, photo.id, why),
                said="The photo is off the ticket; the journal keeps that it was there.",
            )

    def _focus(self, place: int) -> None:
        buttons = self.thumbnails
        if 0 <= place < len(buttons):
            buttons[place].focus_set()

    def _focus_first(self) -> None:
        if self.thumbnails:
            self._focus(0)
        else:
            self._page.front.notices.trouble(f"{self.words} Alt+A adds some.")


def _read_all(files: dict[str, Path], side: int) -> dict[str, Image.Image | None]:
    return {name: read_photo(file, (side, side)) for name, file in files.items()}


def _run(run: Callable[[], object], event: "tk.Event[tk.Misc]") -> str | None:
    if with_modifier(event):
        return None
    run()
    return "break"


def _short(caption: str) -> str:
    cut = caption[: _CAPTION_LENGTH - 1]
    return caption if len(caption) <= _CAPTION_LENGTH else f"{cut}…"

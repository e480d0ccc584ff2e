"""One photo large, in a window of its own: arrows go through its neighbours, Escape closes it."""

import tkinter as tk
from collections.abc import Sequence
from pathlib import Path

import ttkbootstrap as ttk
from PIL import Image, ImageTk, UnidentifiedImageError

from shopdesk.desk.worker import Worker

_SHARE = 0.8
"""How much of the screen it may take."""


class PhotoWindow:
    """Shows one of several ``photos`` (file, caption), read beside the window."""

    def __init__(
        self, over: tk.Misc, worker: Worker, photos: Sequence[tuple[Path, str]], place: int
    ) -> None:
        self._worker = worker
        self._photos = photos
        self._place = place
        self._back_to = over.focus_get()
        self.window = ttk.Toplevel(master=over.winfo_toplevel(), title="Photo", iconphoto=None)
        self._picture = ttk.Label(self.window, anchor="center")
        self._picture.pack(fill="both", expand=True)
        self._words = ttk.Label(self.window, padding=8, anchor="center")
        self._words.pack(fill="x")
        for sequence in ("<Escape>", "<Return>", "<space>"):
            self.window.bind(sequence, lambda _event: self.close())
        self.window.bind("<Left>", lambda _event: self._go(-1))
        self.window.bind("<Right>", lambda _event: self._go(1))
        self.window.protocol("WM_DELETE_WINDOW", self.close)
        self._show()
        self.window.focus_force()

    @property
    def words(self) -> str:
        """The caption, and which of how many it is."""
        return str(self._words.cget("text"))

    def close(self) -> None:
        """Close the window; the focus goes back to where it was."""
        self.window.destroy()
        if self._back_to is not None and self._back_to.winfo_exists():
            self._back_to.focus_force()

    def _go(self, by: int) -> None:
        self._place = (self._place + by) % len(self._photos)
        self._show()

    def _show(self) -> None:
        file, caption = self._photos[self._place]
        count = f"{self._place + 1} of {len(self._photos)}"
        self._words.configure(text="   ·   ".join(filter(None, (caption, count, "Esc closes"))))
        room = (
            int(self.window.winfo_screenwidth() * _SHARE),
            int(self.window.winfo_screenheight() * _SHARE),
        )
        place = self._place
        self._worker.run(
            lambda: read_photo(file, room), lambda image: self._show_read(place, image)
        )

    def _show_read(self, place: int, image: Image.Image | None) -> None:
        if place != self._place or not self.window.winfo_exists():
            return
        if image is None:
            self._picture.configure(image="", text="The photo's file is missing or broken.")
            return
        self._shown = ImageTk.PhotoImage(image, master=self.window)
        self._picture.configure(image=self._shown)


def read_photo(file: Path, room: tuple[int, int]) -> Image.Image | None:
    """Return a photo no larger than ``room`` (width, height), or ``None`` if it can't be read."""
    try:
        with Image.open(file) as image:
            image.draft("RGB", room)
            image.thumbnail(room)
            return image.convert("RGB")
    except (OSError, UnidentifiedImageError, ValueError):
        return None

"""A page that scrolls when it is too tall, and brings the focused field into sight."""

import tkinter as tk
from functools import partial
from typing import Literal

import ttkbootstrap as ttk

from shopdesk.desk import look

_MARGIN = 24
_SHOWN = "<<Shown>>"
_KEYS: dict[str, tuple[int, Literal["pages", "moveto"]]] = {
    "<Prior>": (-1, "pages"),
    "<Next>": (1, "pages"),
    "<Control-Home>": (0, "moveto"),
    "<Control-End>": (1, "moveto"),
}
"""The keys that go through a page, and how far."""


def bring_into_sight(widget: tk.Misc) -> None:
    """Have the page that the widget is on scrolled so far that it is seen, once it is laid out."""
    widget.event_generate(_SHOWN, when="tail")


class ScrollPage(ttk.Frame):
    """Put things into ``inside``; it is as wide as the page."""

    def __init__(self, parent: tk.Misc, padding: int = 12) -> None:
        super().__init__(parent)
        self._canvas = ttk.Canvas(self, highlightthickness=0, borderwidth=0)
        self._bar = ttk.Scrollbar(self, orient="vertical", command=self._canvas.yview)
        self._canvas.configure(yscrollcommand=self._bar.set)
        self._holder = ttk.Frame(self._canvas)
        self._holder.columnconfigure(0, weight=1)
        self.inside = ttk.Frame(self._holder, padding=padding)
        self.inside.grid(row=0, column=0, sticky="nsew")
        self._window = self._canvas.create_window(0, 0, anchor="nw", window=self._holder)
        self._canvas.grid(row=0, column=0, sticky="nsew")
        self.rowconfigure(0, weight=1)
        self.columnconfigure(0, weight=1)
        look.when_worn(self, self._keep_room)
        self._canvas.bind("<Configure>", self._fit)
        self._holder.bind("<Configure>", self._fit)
        self._bind_window()

    def to_top(self) -> None:
        """Scroll back to the top."""
        self._canvas.yview_moveto(0)

    def see(self, widget: tk.Misc) -> None:
        """Scroll just so far that the widget can be seen whole."""
        top = widget.winfo_rooty() - self.inside.winfo_rooty()
        bottom = top + widget.winfo_height()
        whole, seen = self.inside.winfo_height(), self._canvas.winfo_height()
        start = self._canvas.canvasy(0)
        if whole <= seen:
            return
        if top < start + _MARGIN:
            self._canvas.yview_moveto(max(0, top - _MARGIN) / whole)
        elif bottom > start + seen - _MARGIN:
            self._canvas.yview_moveto((bottom + _MARGIN - seen) / whole)

    def _keep_room(self) -> None:
        """Keep the bar's room free: what is laid out by its width must not move it."""
        self.columnconfigure(1, minsize=self._bar.winfo_reqwidth())

    def _bind_window(self) -> None:
        window = self.winfo_toplevel()
        bound = [
            (sequence, window.bind(sequence, handler, add="+"))
            for sequence, handler in (
                ("<FocusIn>", self._focused),
                (_SHOWN, self._look),
                ("<MouseWheel>", self._wheel),
                ("<Button-4>", self._wheel),
                ("<Button-5>", self._wheel),
            )
        ]
        bound += [
            (key, window.bind(key, partial(self._turn, far, unit), add="+"))
            for key, (far, unit) in _KEYS.items()
        ]
        self._bound = bound

    def _holds(self, widget: object) -> bool:
        if not isinstance(widget, tk.Misc) or not self.winfo_exists():
            return False
        return self.winfo_viewable() and str(widget).startswith(f"{self.inside}.")

    def _focused(self, event: "tk.Event[tk.Misc]") -> None:
        """See the widget that has the focus: those that hold it hear of it as well."""
        if self._holds(event.widget) and str(event.widget) == str(self.tk.call("focus")):
            self.see(event.widget)

    def _look(self, event: "tk.Event[tk.Misc]") -> None:
        if self._holds(event.widget):
            self.update_idletasks()
            self._fit(event)
            self.see(event.widget)

    def _wheel(self, event: "tk.Event[tk.Misc]") -> None:
        scrolls_itself = isinstance(event.widget, tk.Text | ttk.Treeview | tk.Listbox)
        if self._holds(event.widget) and not scrolls_itself and self._bar.winfo_ismapped():
            up = event.num == 4 or (event.num != 5 and event.delta > 0)
            self._canvas.yview_scroll(-3 if up else 3, "units")

    def _turn(self, far: int, unit: Literal["pages", "moveto"], event: "tk.Event[tk.Misc]") -> None:
        """Go through the page by key, where neither a text nor a list has its own use for it."""
        if not self.winfo_exists() or not self.winfo_viewable():
            return
        if isinstance(event.widget, tk.Text | ttk.Treeview | tk.Listbox):
            return
        if unit == "pages":
            self._canvas.yview_scroll(far, "pages")
        else:
            self._canvas.yview_moveto(far)

    def _fit(self, _event: object) -> None:
        width, seen = self._canvas.winfo_width(), self._canvas.winfo_height()
        self._holder.rowconfigure(0, weight=1, minsize=seen)
        height = max(self._holder.winfo_reqheight(), seen)
        self._canvas.itemconfigure(self._window, width=width)
        self._canvas.configure(scrollregion=(0, 0, width, height), yscrollincrement=16)
        if height > seen and not self._bar.winfo_ismapped():
            self._bar.grid(row=0, column=1, sticky="ns")
        elif height <= seen and self._bar.winfo_ismapped():
            self._bar.grid_remove()

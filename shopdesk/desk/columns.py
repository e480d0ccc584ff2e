"""Two halves of a page, side by side; one under the other where that would be too narrow."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk import look

_LEAST = 660
"""How wide a page must be at least for two halves, in unscaled pixels."""
_BETWEEN = 16


def two_columns(parent: ttk.Frame) -> tuple[ttk.Frame, ttk.Frame]:
    """Return the left and the right half of a page, for packing things into."""
    left, right = ttk.Frame(parent), ttk.Frame(parent)
    parent.rowconfigure(0, weight=1)
    side_by_side(parent, left, right, sticky="nsew")
    return left, right


def side_by_side(
    parent: tk.Misc, left: tk.Widget, right: tk.Widget, *, sticky: str = "new"
) -> None:
    """Lay two things out in a frame that holds nothing else, as there is room for them."""

    def lay_out(_event: object = None) -> None:
        narrow = 1 < parent.winfo_width() < look.pixels(parent, _LEAST)
        parent.columnconfigure(0, weight=1, uniform="" if narrow else "half")
        parent.columnconfigure(1, weight=0 if narrow else 1, uniform="" if narrow else "half")
        left.grid(row=0, column=0, sticky=sticky, padx=(0, 0 if narrow else _BETWEEN))
        right.grid(row=int(narrow), column=int(not narrow), sticky=sticky)

    parent.bind("<Configure>", lay_out, add="+")
    look.when_worn(parent, lay_out)

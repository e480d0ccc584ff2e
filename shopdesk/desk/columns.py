"""Two halves of a page, side by side."""

import ttkbootstrap as ttk


def two_columns(parent: ttk.Frame) -> tuple[ttk.Frame, ttk.Frame]:
    """Return the left and the right half of a page, for packing things into."""
    left, right = ttk.Frame(parent), ttk.Frame(parent)
    parent.rowconfigure(0, weight=1)
    for place, half in enumerate((left, right)):
        parent.columnconfigure(place, weight=1, uniform="half")
        half.grid(row=0, column=place, sticky="nsew", padx=(0, 0 if place else 16))
    return left, right

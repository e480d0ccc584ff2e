"""Finds what a window does not show whole: words squeezed, or beyond what holds them."""

import tkinter as tk
from collections.abc import Iterator
from tkinter.font import nametofont

import ttkbootstrap as ttk

WORDY = (ttk.Label, ttk.Button, ttk.Checkbutton, ttk.Radiobutton)
SLACK = 2
"""Pixels that nobody sees."""


def cut_off(root: tk.Misc) -> list[str]:
    """Return in words what in the window is cut off or squeezed."""
    root.update_idletasks()
    return [f"{_called(widget)}: {why}" for widget in _seen(root) for why in _wrong(widget)]


def _seen(widget: tk.Misc) -> Iterator[tk.Misc]:
    for child in widget.winfo_children():
        if isinstance(child, tk.Toplevel) or not child.winfo_ismapped():
            continue
        yield child
        yield from _seen(child)


def _wrong(widget: tk.Misc) -> Iterator[str]:
    if isinstance(widget, ttk.Treeview):
        yield from _columns(widget)
    elif isinstance(widget, ttk.Notebook):
        if widget.winfo_reqwidth() > widget.winfo_width() + SLACK:
            yield f"its tabs need {widget.winfo_reqwidth()} of {widget.winfo_width()}"
    elif isinstance(widget, WORDY) and str(widget.cget("text")):
        yield from _squeezed(widget)
    if isinstance(widget, (*WORDY, ttk.Entry, ttk.Combobox, ttk.Treeview, tk.Text)):
        yield from _beyond(widget)
    if isinstance(widget, tk.Canvas):
        yield from _drawn(widget)


def _squeezed(widget: tk.Misc) -> Iterator[str]:
    wide, high = widget.winfo_reqwidth(), widget.winfo_reqheight()
    if wide > widget.winfo_width() + SLACK:
        yield f"needs {wide} of {widget.winfo_width()} across"
    if high > widget.winfo_height() + SLACK:
        yield f"needs {high} of {widget.winfo_height()} down"


def _beyond(widget: tk.Misc) -> Iterator[str]:
    """What holds it must hold it whole; downwards a page that scrolls need not."""
    left, top = widget.winfo_rootx(), widget.winfo_rooty()
    right, bottom = left + widget.winfo_width(), top + widget.winfo_height()
    holder, scrolls = widget.master, False
    while holder is not None:
        scrolls = scrolls or isinstance(holder, tk.Canvas)
        x, y = holder.winfo_rootx(), holder.winfo_rooty()
        if left < x - SLACK or right > x + holder.winfo_width() + SLACK:
            yield f"lies {max(x - left, right - x - holder.winfo_width())} beyond its side"
            return
        if not scrolls and (top < y - SLACK or bottom > y + holder.winfo_height() + SLACK):
            yield f"lies {max(y - top, bottom - y - holder.winfo_height())} beyond its foot"
            return
        if isinstance(holder, tk.Tk):
            return
        holder = holder.master


def _columns(tree: ttk.Treeview) -> Iterator[str]:
    shown = tree["show"]
    names = [*(["#0"] if "tree" in str(shown) else []), *tree["columns"]]
    widths = [int(tree.column(name, "width")) for name in names]
    if sum(widths) > tree.winfo_width() + SLACK:
        yield f"its columns need {sum(widths)} of {tree.winfo_width()}"
    if "headings" in str(shown):
        font = nametofont("TkHeadingFont", root=tree)
        for name, width in zip(names, widths, strict=True):
            words = str(tree.heading(name, "text"))
            if font.measure(words) > width - SLACK:
                yield f"heading “{words}” needs {font.measure(words)} of {width}"


def _drawn(canvas: tk.Canvas) -> Iterator[str]:
    for item in canvas.find_all():
        if str(canvas.type(item)) == "text":
            left, top, right, bottom = canvas.bbox(item)
            if left < -SLACK or right > canvas.winfo_width() + SLACK:
                yield f"drawn words “{canvas.itemcget(item, 'text')}” go over its side"
            if top < -SLACK or bottom > canvas.winfo_height() + SLACK:
                yield f"drawn words “{canvas.itemcget(item, 'text')}” go over its foot"


def _called(widget: tk.Misc) -> str:
    words = str(widget.cget("text")) if isinstance(widget, WORDY) else ""
    holder = widget
    while type(holder).__module__.startswith(("ttkbootstrap", "tkinter")) and holder.master:
        holder = holder.master
    return f"{type(holder).__name__} {type(widget).__name__} “{words[:60]}”"

"""How the window looks: the colours of a job card, its type, and the room things take."""

import tkinter as tk
from collections.abc import Callable
from tkinter.font import Font, names
from typing import Any

import ttkbootstrap as ttk

FAMILY = "jobcard"
_LIGHT: dict[str, Any] = {
    "primary": "#1f5145",
    "success": "#1f6b46",
    "info": "#22597a",
    "warning": "#7a4d00",
    "danger": "#a1241a",
    "neutral": "#5a625e",
    "light": {"background": "#fcfbf7", "foreground": "#1c2022"},
}
_DARK: dict[str, Any] = {
    "primary": "#8fd0ba",
    "success": "#8fd3a8",
    "info": "#9cc7e4",
    "warning": "#ecc475",
    "danger": "#ffb3ab",
    "neutral": "#a9b2ad",
    "dark": {"background": "#1b201e", "foreground": "#eceee9"},
}

SMALL = "CardSmall"
STRONG = "CardStrong"
HEADING = "CardHeading"
TITLE = "CardTitle"
QUOTE = "CardQuote"
"""Names of the fonts, beside Tk's own for the body."""

BOARD = "Board.Treeview"
LIST = "Treeview"
GAP = 8
"""Distance between things that belong together, in unscaled pixels."""

TAB_SIDE, _TAB_ABOVE = 5, 6
"""What is free around the words on a tab, in pixels; at its sides no more with larger text."""
_CHOSEN_LIGHT, _CHOSEN_DARK = "#d5e4dc", "#2c463c"
_IDLE_LIGHT, _IDLE_DARK = "#626a66", "#a0a9a4"
_EDGE_LIGHT, _EDGE_DARK = "#838a86", "#7f8884"
_INPUTS = ("TEntry", "TCombobox", "TSpinbox")
_BUTTONS = ("default", "primary", "link", "danger")
_ITEM: list[Any] = [
    (
        "Treeitem.padding",
        {"sticky": "nsew", "children": [("Treeitem.text", {"side": "left", "sticky": ""})]},
    )
]
_X11_FAMILY = "DejaVu Sans Condensed"
_SIZES: dict[str, dict[str, Any]] = {
    SMALL: {"size": 9},
    STRONG: {"size": 10, "weight": "bold"},
    HEADING: {"size": 11, "weight": "bold"},
    TITLE: {"size": 17, "weight": "bold"},
    QUOTE: {"size": 11, "slant": "italic"},
}


class DeskRoot(ttk.App):
    """The root window. It knows its screen's own scale, and how wide columns were drawn."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self.scale_of_screen = float(self.tk.call("tk", "scaling"))
        self.widths: dict[str, tuple[int, ...]] = {}
        """Unscaled widths of the columns of lists, by the list's name."""


def make_root(*, dark: bool = False, text: int = 100) -> DeskRoot:
    """Return the program's one root window, themed, not yet filled."""
    _theme(100, dark=dark).register()
    root = DeskRoot(
        title="shopdesk",
        theme=_theme_name(100, dark=dark),
        size=(1280, 800),
        minsize=(1024, 640),
        iconphoto=None,
    )
    root.bind_class("TButton", "<space>", _press)
    if text == 100:
        _dress(root, text)
    else:
        wear(root, dark=dark, text=text)
    return root


def wear(root: DeskRoot, *, dark: bool, text: int) -> None:
    """Show the window light or dark, its letters, rows and drawings at ``text`` per cent."""
    root.tk.call("tk", "scaling", root.scale_of_screen * text / 100)
    name = _theme_name(text, dark=dark)
    if name not in root.style.theme_names():
        _theme(text, dark=dark).register()
    _set_type(root)
    root.style.theme_use(name)
    _dress(root, text)


def root_of(widget: tk.Misc) -> DeskRoot:
    """Return the root window that a widget is in."""
    root = widget.nametowidget(".")
    assert isinstance(root, DeskRoot)
    return root


def when_worn(widget: tk.Misc, put_on: Callable[[], object]) -> None:
    """Do ``put_on`` now, and again whenever the window is shown lighter, darker or larger."""

    def worn(_style: object) -> None:
        put_on()

    ttk.on_theme_change(worn)
    widget.bind("<Destroy>", lambda _event: ttk.remove_theme_change_callback(worn), add="+")


def pixels(widget: tk.Misc, unscaled: int) -> int:
    """Return a distance for the screen that the widget is on."""
    return int(ttk.scale_size(widget, unscaled))


def colour(role: str) -> str:
    """Return the theme's colour for ``bg``, ``fg``, ``danger``, ``primary`` and the like."""
    return str(ttk.Style.get_instance().colors.get(role))


def chosen_colour() -> str:
    """Return the ground of a chosen row: a tint of the theme's accent that text stands out from."""
    return _CHOSEN_DARK if _is_dark() else _CHOSEN_LIGHT


def idle_colour() -> str:
    """Return the ink of a button that can't be pressed: paler than the others, and legible."""
    return _IDLE_DARK if _is_dark() else _IDLE_LIGHT


def edge_colour() -> str:
    """Return the edge of what can be typed into: plain to see against page and field."""
    return _EDGE_DARK if _is_dark() else _EDGE_LIGHT


def _is_dark() -> bool:
    return bool(ttk.Style.get_instance().theme_mode == "dark")


def _theme_name(text: int, *, dark: bool) -> str:
    return f"{FAMILY}{text}-{'dark' if dark else 'light'}"


def _theme(text: int, *, dark: bool) -> ttk.Theme:
    """Return the theme for one size: what is drawn for its buttons and boxes fits only that one."""
    return ttk.Theme(name=f"{FAMILY}{text}", **(_DARK if dark else _LIGHT))


def _dress(root: DeskRoot, text: int) -> None:
    _set_type(root)
    _set_lists(root)
    _set_tabs(root)
    _set_inputs(root)
    _set_buttons(root)


def _set_type(root: ttk.App) -> None:
    family = _X11_FAMILY if root.winsys == "x11" else str(_body(root).actual("family"))
    ttk.Fonts.set_global_family(family)
    for name in ("TkDefaultFont", "TkTextFont", "TkMenuFont", "TkHeadingFont"):
        ttk.Fonts.configure(name, size=10)
    known = names(root)
    for name, options in _SIZES.items():
        set_up = ttk.Fonts.configure if name in known else ttk.Fonts.create_alias
        set_up(name, family=family, **options)


def _set_lists(root: ttk.App) -> None:
    line = int(_body(root).metrics("linespace"))
    style = root.style
    style.configure(LIST, rowheight=line + pixels(root, 8))
    style.configure(BOARD, rowheight=2 * line + pixels(root, 12), indent=0, borderwidth=0)
    style.configure(f"{BOARD}.Item", padding=(pixels(root, 12), 0, 0, 0))
    style.layout(f"{BOARD}.Item", _ITEM)
    style.layout(BOARD, [("Treeview.treearea", {"sticky": "nsew"})])
    for name in (LIST, BOARD):
        style.map(
            name,
            background=[("selected", chosen_colour())],
            foreground=[("selected", colour("fg"))],
        )


def _set_inputs(root: ttk.App) -> None:
    for style in _INPUTS:
        root.style.configure(style, bordercolor=edge_colour())


def _set_tabs(root: ttk.App) -> None:
    root.style.configure("TNotebook.Tab", padding=(TAB_SIDE, pixels(root, _TAB_ABOVE)))


def _set_buttons(root: ttk.App) -> None:
    """Show a button that can't be pressed as an empty outline with legible words."""
    ink, ground = idle_colour(), colour("bg")
    idle = {
        "foreground": ink,
        "focuscolor": ink,
        "background": ground,
        "lightcolor": ground,
        "darkcolor": ground,
        "bordercolor": colour("border"),
    }
    for bootstyle in _BUTTONS:
        probe = ttk.Button(root, bootstyle=bootstyle)
        style = str(probe.cget("style"))
        probe.destroy()
        known: dict[str, Any] = dict(root.style.map(style))
        changed: dict[str, Any] = {
            name: [("disabled", tone), *(one for one in known[name] if one[0] != "disabled")]
            for name, tone in idle.items()
            if name in known
        }
        root.style.map(style, **changed)


def _body(root: ttk.App) -> Font:
    return ttk.nametofont("TkDefaultFont", root=root)


def _press(event: "tk.Event[tk.Misc]") -> None:
    if isinstance(event.widget, ttk.Button):
        event.widget.invoke()

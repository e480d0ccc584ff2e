"""The keys: what each one does on the page in sight, for pressing and for the list under F1."""

import tkinter as tk
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

import ttkbootstrap as ttk

_NAMES = {
    "Ctrl": "Control",
    "Enter": "Return",
    "Esc": "Escape",
    "Del": "Delete",
    "/": "slash",
    "PgUp": "Prior",
    "PgDn": "Next",
}
_SAME_KEYS = {"Plus": ("plus", "equal", "KP_Add"), "Minus": ("minus", "KP_Subtract")}
"""Keys that stand in several places of a keyboard, or need Shift on some."""
_MODIFIERS = 0x4 | 0x8 | 0x20000
_TYPING = ("TEntry", "TCombobox", "Text", "Entry", "TSpinbox")


@dataclass(frozen=True, slots=True)
class Key:
    """A key of the window while ``owner`` is in sight: ``Alt+E``, ``Ctrl+Enter``, ``F1``."""

    owner: tk.Misc
    name: str
    does: str
    run: Callable[[], object]
    shut: Callable[[], object] | None = None
    """What is done instead while the owner is a button that can't be pressed."""


class Keys:
    """All keys of one window. Of two alike, the one added last and in sight wins."""

    def __init__(self, window: tk.Misc) -> None:
        self._window = window
        self._keys: dict[str, list[Key]] = {}

    def add(
        self,
        owner: tk.Misc,
        name: str,
        does: str,
        run: Callable[[], object],
        shut: Callable[[], object] | None = None,
    ) -> None:
        """Make ``name`` do ``run`` while ``owner`` is in sight, ``shut`` while it is disabled."""
        if name not in self._keys:
            self._keys[name] = []
            for sequence in _sequences(name):
                self._window.bind(sequence, partial(self._pressed, name))
        self._keys[name].append(Key(owner, name, does, run, shut))

    def rename(self, owner: tk.Misc, does: str) -> None:
        """Say something else of what the keys of ``owner`` do."""
        for keys in self._keys.values():
            keys[:] = [replace(one, does=does) if one.owner is owner else one for one in keys]

    def in_force(self) -> list[Key]:
        """Return the keys that would do something now, in the order they were added."""
        found = (_first_usable(self._in_sight(name)) for name in self._keys)
        return [key for key in found if key is not None]

    def _pressed(self, name: str, event: "tk.Event[tk.Misc]") -> str | None:
        if len(name) == 1 and event.widget.winfo_class() in _TYPING:
            return None
        in_sight = self._in_sight(name)
        key = _first_usable(in_sight)
        if key is not None:
            key.run()
        elif in_sight and in_sight[0].shut is not None:
            in_sight[0].shut()
        return "break" if in_sight else None

    def _in_sight(self, name: str) -> list[Key]:
        """Return the keys of that name whose owner is in sight, the last added first."""
        living = [key for key in self._keys[name] if key.owner.winfo_exists()]
        self._keys[name] = living
        return [key for key in reversed(living) if key.owner.winfo_viewable()]


def keys_first(widget: tk.Misc) -> None:
    """Let the window's keys see a key press before the widget types it (Ctrl+Enter in a text)."""
    tags = widget.bindtags()
    top = str(widget.winfo_toplevel())
    others = [tag for tag in tags if tag != top]
    widget.bindtags((others[0], top, *others[1:]))


def with_modifier(event: "tk.Event[tk.Misc]") -> bool:
    """Whether Ctrl or Alt was held: a binding of a plain key hears of those as well."""
    return bool(int(event.state) & _MODIFIERS)


def action_button(
    parent: tk.Misc,
    keys: Keys,
    label: str,
    key: str,
    run: Callable[[], object],
    *,
    main: bool = False,
    bootstyle: str = "",
    shut: Callable[[], object] | None = None,
) -> ttk.Button:
    """Return a button that shows its key beside its words; ``main`` marks a chief action.

    ``shut`` is what its key does while the button can't be pressed: say why.
    """
    button = ttk.Button(
        parent,
        text=f"{label}  {key}" if key else label,
        command=run,
        bootstyle=bootstyle or ("primary" if main else "default"),
    )
    if key:
        keys.add(button, key, label.rstrip(" …"), button.invoke, shut)
    return button


def _sequences(name: str) -> list[str]:
    *modifiers, last = name.split("+")
    lead = "".join(f"{_NAMES.get(one, one)}-" for one in modifiers)
    if len(last) == 1 and last.isalpha():
        return [f"<{lead}{last.lower()}>", f"<{lead}{last.upper()}>"]
    if last == "Enter":
        return [f"<{lead}Return>", f"<{lead}KP_Enter>"]
    if last in _SAME_KEYS:
        return [f"<{lead}{one}>" for one in _SAME_KEYS[last]]
    if last.isdigit():
        return [f"<{lead}Key-{last}>"]
    return [f"<{lead}{_NAMES.get(last, last)}>"]


def _first_usable(keys: list[Key]) -> Key | None:
    return next((key for key in keys if not _disabled(key.owner)), None)


def _disabled(owner: tk.Misc) -> bool:
    return isinstance(owner, ttk.Button) and bool(owner.instate(["disabled"]))

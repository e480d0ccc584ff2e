"""A field for one of several choices: a letter or two and the rest is filled in."""

import re
import tkinter as tk
from collections.abc import Mapping, Sequence

import ttkbootstrap as ttk

from shopdesk.desk.fields import Field, Value
from shopdesk.text import fold

_MOST_NAMED = 20
"""How many choices a sentence names."""


class ChoiceField(Field):
    """One of several, by the arrows or the beginnings of its words; ``free`` lets others stand."""

    def __init__(
        self,
        parent: tk.Misc,
        name: str,
        label: str,
        choices: Sequence[str] | Sequence[tuple[str, str]],
        hint: str = "",
        width: int = 12,
        *,
        free: bool = False,
    ) -> None:
        super().__init__(parent, name, label, hint)
        self.free = free
        self._begun = ""
        self._text = tk.StringVar(self)
        self._box = ttk.Combobox(self, textvariable=self._text, width=width)
        self._place(self._box)
        self.offer(choices)
        self._watch = self._text.trace_add("write", self._typed)
        self._box.bind("<KeyRelease>", self._complete)
        self._box.bind("<FocusIn>", self._entering, add="+")
        self._box.bind("<FocusOut>", self._settle, add="+")
        for key in ("<Return>", "<KP_Enter>"):
            self._box.bind(key, self._entered)

    def offer(self, choices: Sequence[str] | Sequence[tuple[str, str]]) -> None:
        """Change what may be chosen: words, or (key, words) where the job wants a key."""
        pairs = [one if isinstance(one, tuple) else (one, one) for one in choices]
        self._words = dict(pairs)
        self._box.configure(values=[words for _, words in pairs])

    def get(self) -> str:
        """Return the key of the choice, or what was typed where it is none of them."""
        typed = self._text.get()
        found = self._named(typed)
        return typed if found is None else found

    def set(self, value: Value) -> None:
        """Show the choice of that key."""
        self._text.trace_remove("write", self._watch)
        self._text.set(self._words.get(str(value), str(value)))
        self._watch = self._text.trace_add("write", self._typed)

    def to_end(self) -> None:
        """Put the cursor after the words."""
        self._box.icursor("end")

    def show_error(self, sentence: str) -> None:
        """Say what is wrong; where it is none of the choices, in the words of the list."""
        typed = self._text.get().strip()
        if typed and not self.free and self._named(typed) is None:
            sentence = _none_of_them(typed, self._words) or sentence
        super().show_error(sentence)

    def _named(self, typed: str) -> str | None:
        wanted = fold(typed.strip())
        exact = [key for key, words in self._words.items() if fold(words) == wanted]
        if exact or not wanted or self.free:
            return exact[0] if exact else None
        meant = meant_by(typed, self._words)
        return meant[0] if len(meant) == 1 else None

    def _complete(self, event: "tk.Event[tk.Misc]") -> None:
        """After a letter, fill in the first choice that begins so, its rest marked."""
        typed, before = self._text.get(), self._begun
        self._begun = typed
        at_end = self._box.index("insert") == len(typed)
        if not typed or typed == before or not at_end or event.keysym in ("BackSpace", "Delete"):
            return
        wanted = fold(typed)
        for words in self._words.values():
            if len(fold(words)) == len(words) and fold(words).startswith(wanted):
                self._text.set(typed + words[len(typed) :])
                self._box.selection_range(len(typed), "end")
                self._box.icursor(len(typed))
                return

    def _entering(self, _event: object) -> None:
        self._begun = self._text.get()

    def _settle(self, _event: object) -> None:
        """On leaving, show the whole words of what was begun."""
        self._box.selection_clear()
        key = self._named(self._text.get())
        if key is not None and self._text.get() != self._words[key]:
            self._text.set(self._words[key])


def meant_by(typed: str, choices: Mapping[str, str]) -> list[str]:
    """Return the keys of the choices that may be meant: by whole words, else by those begun.

    ``at on`` means “all at once”. Capitals, accents, commas and apostrophes count for nothing.
    """
    wanted = _split(typed)
    known = {key: _split(words) for key, words in choices.items()}
    begun = [key for key, words in known.items() if _begins(wanted, words)]
    leading = [key for key in begun if " ".join(known[key]).startswith(" ".join(wanted))]
    whole = [key for key in leading if known[key] == wanted]
    return whole or leading or begun


def _split(words: str) -> list[str]:
    return re.findall(r"\w+", fold(words).replace("'", ""))


def _begins(wanted: Sequence[str], words: Sequence[str]) -> bool:
    """Whether each wanted word begins a word, one after the other."""
    rest = iter(words)
    return bool(wanted) and all(any(one.startswith(begun) for one in rest) for begun in wanted)


def _none_of_them(typed: str, choices: Mapping[str, str]) -> str:
    """Return what is wrong with it and which there are; nothing where they are too many to name."""
    meant = meant_by(typed, choices)
    named = [choices[key] for key in meant or choices if choices[key]]
    if len(named) > _MOST_NAMED:
        return ""
    trouble = "may be several of the list" if meant else "is not in the list"
    between = "; " if any("," in words for words in named) else ", "
    return f"“{typed[:40]}” {trouble}: choose one of {between.join(named)}."

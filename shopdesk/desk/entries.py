"""What a card lists of its thing, with the form for one more (or one changed) below the list."""

import tkinter as tk
from collections.abc import Mapping
from typing import ClassVar

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.rows import RowList


class Entries(ttk.Frame):
    """Make one by giving it ``build``, which sets ``list`` and ``form``, and ``keep``."""

    name: ClassVar[str]
    """What its form is called in the card's draft."""
    new: ClassVar[Mapping[str, Value]] = {}
    """What stands in the form before anything is typed."""
    held = ""
    """The held field that says which entry is being changed; empty where none can be."""
    add_words = "Add it"
    keys_words = ""
    """What the keys do in its list."""
    list: RowList
    form: Form

    def __init__(self, parent: tk.Misc, card: Card) -> None:
        super().__init__(parent)
        self.card = card
        self.build()
        self.form.submit_with(self.keep)
        self._buttons = ttk.Frame(self)
        self._buttons.pack(fill="x")
        keys = card.front.keys
        self._keep = action_button(self._buttons, keys, f"{self.add_words}  Enter", "", self.keep)
        self._keep.pack(side="left")
        self._leave = action_button(self._buttons, keys, "Leave it as it was", "Esc", self.leave)
        hint = ttk.Label(
            self._buttons, text=self.keys_words, font=look.SMALL, bootstyle="secondary"
        )
        hint.pack(side="right", padx=(8, 0))
        card.keep_typed(self.name, self.form)
        self.form.fill(self.new)

    def build(self) -> None:
        """Put list and form."""
        raise NotImplementedError

    def keep(self) -> bool:
        """Keep what is typed; false when it can't be kept yet."""
        raise NotImplementedError

    @property
    def changing(self) -> int | None:
        """The id of the entry that is being changed, if one is."""
        held = self.form.text_of(self.held) if self.held else ""
        return int(held) if held else None

    def begin(self) -> None:
        """Begin at the form's first field, what stands there marked for overtyping."""
        self.form.focus_first()
        next(iter(self.form)).input.event_generate("<<SelectAll>>")

    def empty(self) -> None:
        """Empty the form: what stood there is kept, or is to be forgotten."""
        self.form.fill(self.new)
        self.show_mode()

    def change(self, values: Mapping[str, Value]) -> None:
        """Put an entry into the form for changing."""
        self.form.fill(self.new)
        self.form.restore(values)
        self.show_mode()
        self.begin()

    def leave(self) -> None:
        """Forget the change; the entry stays as it is."""
        self.empty()
        self.list.focus_list()

    def show_mode(self) -> None:
        """Say whether an entry is added or changed."""
        changing = self.changing is not None
        self._keep.configure(text=f"{'Keep it' if changing else self.add_words}  Enter")
        if changing:
            self._leave.pack(side="left", padx=8)
        else:
            self._leave.pack_forget()

    def done(self) -> bool:
        """Empty the form after something was kept, show the card anew, and begin again."""
        self.empty()
        self.card.show_anew()
        self.card.front.drafts.gather()
        self.begin()
        return True

"""What the shop knows of the model that stands on the counter, in a few lines."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.model_words import card_in_short
from shopdesk.job.model_notes import model_card
from shopdesk.job.shift import Shift
from shopdesk.job.views import UnitView


class ModelStrip(ttk.Frame):
    """Takes no room while nothing is known of the model."""

    def __init__(self, parent: tk.Misc, shift: Shift) -> None:
        super().__init__(parent)
        self._shift = shift
        self._words = wrapping(ttk.Label(self, font=look.SMALL))

    @property
    def words(self) -> str:
        """What is said of the model."""
        return str(self._words.cget("text"))

    def show(self, unit: UnitView) -> None:
        """Show what is known of a machine's model."""
        card = model_card(self._shift, unit.make, unit.model)
        words = card_in_short(card) if card and not card.is_empty else ""
        self._words.configure(text=words)
        if words:
            self._words.pack(fill="x", pady=(0, 4))
        else:
            self._words.pack_forget()
            self.configure(height=1)

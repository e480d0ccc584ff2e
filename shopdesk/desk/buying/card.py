"""One basket as a card: what it costs, when all is here, who sends what, the key to order it."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import Keys, action_button
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.buying.views import BasketView
from shopdesk.pricing.money import show_money

LOOKING = "Looking …"


class BasketCard(ttk.Frame):
    """Shows a basket; its button and ``key`` do ``order``, or say why that can't be done."""

    def __init__(
        self,
        parent: tk.Misc,
        keys: Keys,
        title: str,
        key: str,
        order: Callable[[], object],
        say_why: Callable[[str], object],
    ) -> None:
        super().__init__(parent, padding=look.GAP, relief="solid", borderwidth=1)
        self._why = ""
        self._usual = title
        self._title = ttk.Label(self, text=title, font=look.HEADING, bootstyle="primary")
        self._title.pack(anchor="w")
        head = Flow(self)
        head.pack(fill="x")
        self._total = ttk.Label(head, font=look.TITLE)
        self._total.pack(side="left")
        self.button = action_button(
            head, keys, "Order this", key, order, shut=lambda: say_why(self._why)
        )
        self.button.pack(side="right")
        self._ready = ttk.Label(self, font=look.STRONG)
        self._inside = ttk.Frame(self)
        self._inside.pack(fill="both", expand=True)
        self.look()

    def look(self) -> None:
        """Show that the basket is still being looked for."""
        self._clear(self._usual, "", "")
        self._words(LOOKING)
        self._shut(LOOKING)

    def show(self, found: BasketView, currency: str, refused: str = "") -> None:
        """Show a basket, or why there is none; ``refused`` is why it may not be ordered yet."""
        total = "" if found.total is None else show_money(found.total, currency)
        self._clear(found.title, total, _sentence(found.ready))
        if found.trouble:
            self._trouble(found.trouble)
        elif found.same_as:
            self._words(f"Buys the same as “{found.same_as}”.")
        else:
            self._basket(found)
        self._shut(found.trouble or refused)

    @property
    def said(self) -> str:
        """All that stands on the card."""
        labels = [self._title, self._total, self._ready, *_labels(self._inside)]
        return "\n".join(str(label.cget("text")) for label in labels)

    def _basket(self, found: BasketView) -> None:
        for purchase in found.purchases:
            self._words(purchase.words)
            for item in purchase.items:
                self._words(item, font=look.SMALL, indent=12)
        for note in found.notes:
            self._words(note, top=4)

    def _trouble(self, words: str) -> None:
        line = ttk.Frame(self._inside)
        line.pack(fill="x")
        SignMark(line, Sign.CAUTION).pack(side="left", anchor="n", padx=(0, 6))
        wrapping(ttk.Label(line, text=words)).pack(side="left", fill="x", expand=True)

    def _words(self, words: str, *, indent: int = 0, top: int = 2, font: str = "") -> None:
        label = wrapping(ttk.Label(self._inside, text=words, font=font or "TkDefaultFont"))
        label.pack(fill="x", padx=(indent, 0), pady=(top, 0))

    def _clear(self, title: str, total: str, ready: str) -> None:
        self._title.configure(text=title)
        self._total.configure(text=total)
        self._ready.configure(text=ready)
        if ready:
            self._ready.pack(anchor="w", pady=(0, 4), before=self._inside)
        else:
            self._ready.pack_forget()
        for child in self._inside.winfo_children():
            child.destroy()

    def _shut(self, why: str) -> None:
        self._why = why
        self.button.state(["disabled" if why else "!disabled"])


def _labels(frame: tk.Misc) -> list[ttk.Label]:
    found: list[ttk.Label] = []
    for child in frame.winfo_children():
        found += [child] if isinstance(child, ttk.Label) else _labels(child)
    return found


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]

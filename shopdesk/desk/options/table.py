"""The ways out as columns side by side, in large figures, each with the key that chooses it."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import Keys, action_button
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.options.views import OptionView
from shopdesk.job.options.words import rough
from shopdesk.pricing.money import show_money, show_quantity

KEYS = ("F2", "F3", "F4", "F7", "F8", "F9")
"""Keys that choose a way, from left to right; further ones have a button only."""
_NOTHING = "–"
_LABELS = (
    "Price now",
    "That it runs then",
    "About, until it runs",
    "At worst",
    "Ready",
    "At the bench",
    "Life left, a guide",
    "Per hour of life",
)
_BODY = "TkDefaultFont"
_FONTS = (
    *(look.TITLE, look.HEADING, look.HEADING, _BODY),
    *(look.STRONG, _BODY, _BODY, look.HEADING),
)
_OURS, _HERE = "we would take this", "on the ticket now"
_MARKS = 0
_TITLE = 1
_FIRST = 2
_LAST = _FIRST + len(_LABELS)


def _fitting(font: str, words: Sequence[str], width: int) -> str:
    """Return the font, or the largest smaller one in which the longest of the words fits."""
    for one in (font, look.HEADING, _BODY):
        if max(map(ttk.nametofont(one).measure, words), default=0) <= width:
            return one
    return look.SMALL


class WaysTable(ttk.Frame):
    """One column for each way; ``choose`` is told the key of the one that is chosen."""

    def __init__(self, parent: tk.Misc, keys: Keys, choose: Callable[[str], object]) -> None:
        super().__init__(parent)
        self._keys = keys
        self._choose = choose
        self._columns: list[_Column] = []
        for place, words in enumerate(_LABELS):
            label = ttk.Label(self, text=words, bootstyle="secondary")
            label.grid(row=_FIRST + place, column=0, sticky="w", padx=(0, 8), pady=2)

    def show(self, options: Sequence[OptionView], currency: str) -> None:
        """Show these ways; columns that are too many go out of sight."""
        while len(self._columns) < len(options):
            self._add_column()
        for place, column in enumerate(self._columns):
            if place < len(options):
                column.show(options[place], currency)
            else:
                column.hide()
            self.columnconfigure(
                2 * place + 2, weight=place < len(options), uniform="way", minsize=0
            )
        self.fit_words()

    def fit_words(self, _event: object = None) -> None:
        """Give all columns the same letters: as large as the longest figure of a row lets them."""
        shown = [column for column in self._columns if column.shown]
        width = min((column.width for column in shown), default=1)
        if width > 1:
            rows = zip(*(column.figures for column in shown), strict=True)
            fonts = [
                _fitting(font, " ".join(row).split(), width)
                for font, row in zip(_FONTS, rows, strict=True)
            ]
            for column in shown:
                column.wrap(width, fonts)

    @property
    def titles(self) -> list[str]:
        """What the columns in sight are called."""
        return [column.title for column in self._columns if column.shown]

    def figures(self, title: str) -> list[str]:
        """Return what stands in a column from top to bottom."""
        return next(c.figures for c in self._columns if c.shown and c.title == title)

    def marks(self, title: str) -> str:
        """Return what is said over a column."""
        return next(c.marks for c in self._columns if c.shown and c.title == title)

    def _add_column(self) -> None:
        place = len(self._columns)
        key = KEYS[place] if place < len(KEYS) else ""
        self._columns.append(_Column(self, self._keys, place, key, self._choose))


class _Column:
    """One way: marks, title, figures, and the button."""

    def __init__(
        self,
        table: WaysTable,
        keys: Keys,
        place: int,
        key: str,
        choose: Callable[[str], object],
    ) -> None:
        self._grid = 2 * place + 2
        self._option: OptionView | None = None
        self._keys = keys
        self.shown = False
        self._rule = ttk.Separator(table, orient="vertical")
        self._marks = ttk.Frame(table)
        self._sign = SignMark(self._marks, Sign.GOOD)
        self._said = ttk.Label(self._marks, font=look.SMALL, justify="center")
        self._title = wrapping(
            ttk.Label(table, font=look.HEADING, anchor="center", justify="center")
        )
        self._title.bind("<Configure>", table.fit_words, add="+")
        self._cells = [
            ttk.Label(table, anchor="center", justify="center", font=font) for font in _FONTS
        ]
        self._button = action_button(table, keys, "Choose", key, partial(self._chosen, choose))

    @property
    def title(self) -> str:
        """What the way is called."""
        return str(self._title.cget("text"))

    @property
    def width(self) -> int:
        """How wide the column is, in pixels."""
        return self._title.winfo_width()

    @property
    def figures(self) -> list[str]:
        """What stands in it from top to bottom."""
        return [str(cell.cget("text")) for cell in self._cells]

    @property
    def marks(self) -> str:
        """What is said over it."""
        return str(self._said.cget("text"))

    def show(self, option: OptionView, currency: str) -> None:
        """Show a way."""
        self._option = option
        self._title.configure(text=option.title)
        self._keys.rename(self._button, f"Choose {option.title}")
        for cell, words in zip(self._cells, _figures(option, currency), strict=True):
            cell.configure(text=words)
        said = [_OURS] if option.suggested else []
        said += [_HERE] if option.stands else []
        self._said.configure(text="\n".join(said))
        self._place(bool(said))

    def hide(self) -> None:
        """Go out of sight."""
        self.shown = False
        widgets = (self._rule, self._marks, self._title, *self._cells, self._button)
        for widget in widgets:
            widget.grid_remove()

    def wrap(self, width: int, fonts: Sequence[str]) -> None:
        """Let words run on over lines of this width, figures in these letters."""
        for cell, font in zip(self._cells, fonts, strict=True):
            cell.configure(wraplength=width, font=font)
        self._said.configure(wraplength=max(width - 2 * self._sign.winfo_reqwidth(), 1))

    def _place(self, marked: bool) -> None:
        self.shown = True
        column = self._grid
        self._rule.grid(row=_MARKS, rowspan=_LAST + 1, column=column - 1, sticky="ns")
        self._marks.grid(row=_MARKS, column=column)
        for widget in (self._sign, self._said):
            if marked:
                widget.pack(side="left", padx=(0, 4))
            else:
                widget.pack_forget()
        self._title.grid(row=_TITLE, column=column, sticky="ew", padx=4, pady=(0, 4))
        for place, cell in enumerate(self._cells):
            cell.grid(row=_FIRST + place, column=column, sticky="ew", pady=2)
        self._button.grid(row=_LAST, column=column, pady=(6, 0), padx=4)

    def _chosen(self, choose: Callable[[str], object]) -> None:
        if self._option is not None:
            choose(self._option.key)


def _figures(option: OptionView, currency: str) -> list[str]:
    """Return the figures of a way in the order of their labels."""
    price = show_money(option.price_now, currency)
    ready = show_date(option.ready_on) if option.ready_on else _NOTHING
    life, hour = option.life_hours, option.per_hour
    return [
        f"~ {price}" if option.typical else price,
        option.chance_words,
        rough(option.expected, currency) if option.mends else _NOTHING,
        rough(option.worst, currency) if option.mends else _NOTHING,
        f"{ready[:-5]}\n{option.ready_words}" if option.ready_on else _NOTHING,
        f"{show_quantity(option.hours)} h" if option.hours else _NOTHING,
        f"{show_quantity(life)} h" if life else _NOTHING,
        _NOTHING if hour is None else show_money(hour, currency),
    ]

"""A form: fields in columns, filled from what is kept, read as typed, errors at their fields."""

import tkinter as tk
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields as fields_of
from math import ceil
from typing import Any, TypeVar

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.choice_field import ChoiceField
from shopdesk.desk.fields import (
    ROW_GAP,
    Field,
    LineField,
    TextField,
    TickField,
    Value,
)
from shopdesk.desk.fields import (
    wrapping as wrapping,
)
from shopdesk.desk.flow import padding_of
from shopdesk.errors import JobError

_BESIDE = 12
"""Distance between columns, in pixels."""

Entry = TypeVar("Entry")
AnyField = TypeVar("AnyField", bound=Field)


class Form(ttk.Frame):
    """Fields from left to right in equal columns; ``on_change`` is told when something is typed."""

    def __init__(self, parent: tk.Misc, columns: int = 4) -> None:
        super().__init__(parent)
        self.columns = columns
        self.fields: dict[str, Field] = {}
        self.on_change: Callable[[], object] = lambda: None
        self._kept: dict[str, Value] = {}
        self._suggested: tuple[str, ...] = ()
        self._row, self._column = 0, 0
        self._across = 0
        self._homes: dict[tk.Widget, tuple[int, int, int]] = {}
        """Row, column and span of each thing where there is room for all columns."""
        self._set_columns(columns)
        self.bind("<Configure>", self._fit)
        look.when_worn(self, lambda: self.after_idle(self._fit_if_there))

    def __getitem__(self, name: str) -> Field:
        return self.fields[name]

    def __iter__(self) -> Iterator[Field]:
        return iter(self.fields.values())

    def line(self, name: str, label: str, hint: str = "", *, span: int = 1) -> LineField:
        """Add a field for one line."""
        return self.add(LineField(self, name, label, hint), span)

    def choice(
        self,
        name: str,
        label: str,
        choices: Sequence[str] | Sequence[tuple[str, str]],
        hint: str = "",
        *,
        span: int = 1,
        free: bool = False,
    ) -> ChoiceField:
        """Add a field for one of several; see ``ChoiceField``."""
        return self.add(ChoiceField(self, name, label, choices, hint, free=free), span)

    def text(
        self, name: str, label: str, hint: str = "", *, span: int = 0, lines: int = 3
    ) -> TextField:
        """Add a field for several lines, over the whole width unless ``span`` says less."""
        return self.add(TextField(self, name, label, hint, lines), span or self.columns)

    def tick(self, name: str, label: str, hint: str = "", *, span: int = 1) -> TickField:
        """Add a box to tick."""
        return self.add(TickField(self, name, label, hint), span)

    def add(self, field: AnyField, span: int = 1) -> AnyField:
        """Add a field that was made with this form as its parent."""
        if self._column + span > self.columns:
            self.next_row()
        field.grid(
            row=self._row,
            column=self._column,
            columnspan=span,
            sticky="sew" if isinstance(field, TickField) else "new",
            padx=(0, _BESIDE),
            pady=(0, ROW_GAP),
        )
        self._column += span
        self._take_home(field)
        self.fields[field.name] = field
        self._kept[field.name] = field.get()
        field.watch(self._changed)
        return field

    def words(self, text: str, *, span: int) -> None:
        """Put words where a field would stand."""
        label = wrapping(ttk.Label(self, text=text))
        label.grid(
            row=self._row,
            column=self._column,
            columnspan=span,
            sticky="sew",
            padx=(0, _BESIDE),
            pady=(0, 2 * ROW_GAP),
        )
        self._column += span

    def next_row(self) -> None:
        """Go on at the left of a new row."""
        self._row, self._column = self._row + 1, 0

    def submit_with(self, run: Callable[[], object], *names: str) -> None:
        """Let Enter in one of the named fields (or in any) do ``run`` instead of going on."""
        for field in self if not names else [self.fields[name] for name in names]:
            field.on_enter = run

    def suggests(self, *names: str) -> None:
        """Take what is filled into these fields as an offer: emptied, nothing is typed there."""
        self._suggested = names

    def values(self) -> dict[str, Value]:
        """Return what stands in each field now."""
        return {name: field.get() for name, field in self.fields.items()}

    def text_of(self, name: str) -> str:
        """Return what is typed in one field."""
        return str(self.fields[name].get())

    def ticked(self, name: str) -> bool:
        """Return whether one box is ticked."""
        return bool(self.fields[name].get())

    def into(self, entry: Callable[..., Entry], **more: Any) -> Entry:
        """Return the job's entry made of the fields whose names it shares, and of ``more``."""
        wanted = {one.name for one in fields_of(entry)} - more.keys()  # type: ignore[arg-type]
        return entry(
            **{name: value for name, value in self.values().items() if name in wanted}, **more
        )

    def fill(self, values: Mapping[str, Value]) -> None:
        """Show what is kept; fields not named are emptied. What was typed there is gone."""
        for name, field in self.fields.items():
            field.set(values.get(name, False if isinstance(field, TickField) else ""))
            field.clear_error()
        self.settle()

    def settle(self) -> None:
        """Take what stands in the fields as kept."""
        self._kept = self.values()
        self._changed()

    @property
    def changed(self) -> bool:
        """Whether anything was typed that is not kept yet."""
        return bool(self.draft())

    def draft(self) -> dict[str, Value]:
        """Return what was typed and is not kept yet."""
        return {
            name: value
            for name, value in self.values().items()
            if value != self._kept[name] and not self._is_turned_down(name, value)
        }

    def put_back(self) -> None:
        """Show what is kept, or was offered, and nothing of what was typed."""
        self.fill(self._kept)

    def restore(self, draft: Mapping[str, Value]) -> None:
        """Show again what ``draft`` returned; a field that is no more is left out."""
        for name, value in draft.items():
            field = self.fields.get(name)
            if field is not None and isinstance(value, type(field.get())):
                field.set(value)
                field.to_end()
        self._changed()

    def show_error(self, error: JobError) -> bool:
        """Show the error at its field, with the focus; returns whether it can be seen there."""
        field = self.fields.get(error.field)
        if field is None or not _has_a_place(field):
            return False
        field.show_error(error.sentence)
        field.focus_input()
        return True

    def clear_errors(self) -> None:
        """Take all sentences away."""
        for field in self:
            field.clear_error()

    def focus_first(self) -> None:
        """Put the focus into the first field."""
        next(iter(self)).focus_input()

    def _is_turned_down(self, name: str, value: Value) -> bool:
        return name in self._suggested and not str(value).strip()

    def _changed(self) -> None:
        self.on_change()

    def _fit_if_there(self) -> None:
        if self.winfo_exists():
            self._fit()

    def _fit(self, _event: object = None) -> None:
        """Go on in rows below where the columns are too narrow for the words over the fields."""
        if self.winfo_width() <= 1:
            return
        wanted = next(
            (across for across in range(self.columns, 1, -1) if self._holds_all(across)), 1
        )
        if wanted != self._across or self._is_moved():
            self._lay_out(wanted)

    def _things(self) -> list[tk.Widget]:
        """Return what stands in the form, in the order in which it is read."""
        sentences = [field.sentence for field in self]
        things = [one for one in self.grid_slaves() if one not in sentences]
        for one in things:
            if one not in self._homes:
                self._take_home(one)
        return sorted(things, key=self._homes.__getitem__)

    def _take_home(self, one: tk.Widget) -> None:
        """Remember where a thing stands while there is room for all columns."""
        self._homes[one] = _place_of(one)
        one.bind("<Map>", lambda _event: self.after_idle(self._fit_if_there), add="+")

    def _holds_all(self, across: int) -> bool:
        width = self.winfo_width() / across
        return all(_needs(one) <= width * self._span(one, across) + 1 for one in self._things())

    def _span(self, one: tk.Widget, across: int) -> int:
        return min(across, ceil(self._homes[one][2] * across / self.columns))

    def _places(self, across: int) -> dict[tk.Widget, tuple[int, int, int]]:
        """Return row, column and span of each thing in a form of so many columns."""
        if across == self.columns:
            return {one: self._homes[one] for one in self._things()}
        found: dict[tk.Widget, tuple[int, int, int]] = {}
        row, column, home = -1, 0, -1
        for one in self._things():
            span = self._span(one, across)
            if self._homes[one][0] != home or column + span > across:
                row, column, home = row + 1, 0, self._homes[one][0]
            found[one] = row, column, span
            column += span
        return found

    def _is_moved(self) -> bool:
        """Whether something was put in, or shown again, since the form was laid out."""
        return any(_place_of(one) != at for one, at in self._places(self._across).items())

    def _lay_out(self, across: int) -> None:
        self._set_columns(across)
        for one, (row, column, span) in self._places(across).items():
            one.grid_configure(row=row, column=column, columnspan=span)
        for field in self:
            if field.error:
                field.show_error(field.error)

    def _set_columns(self, across: int) -> None:
        self._across = across
        for column in range(self.columns):
            if column < across:
                self.columnconfigure(column, weight=1, uniform="field")
            else:
                self.columnconfigure(column, weight=0, uniform="")


def _needs(one: tk.Widget) -> int:
    """Return how much room a thing must have: a field as much as the words over it."""
    if isinstance(one, Field):
        return one.words_width + _BESIDE
    return one.winfo_reqwidth() + padding_of(one.grid_info()["padx"])


def _place_of(one: tk.Widget) -> tuple[int, int, int]:
    at = one.grid_info()
    return int(at["row"]), int(at["column"]), int(at["columnspan"])


def section(parent: tk.Misc, title: str, *, top: int = 10) -> ttk.Label:
    """Put a heading over what follows in a packed frame."""
    label = ttk.Label(parent, text=title, font=look.HEADING, bootstyle="primary")
    label.pack(anchor="w", pady=(top, 4))
    return label


def _has_a_place(widget: tk.Misc) -> bool:
    """Whether the widget and all around it are laid out: what is only held is seen by nobody."""
    top = widget.winfo_toplevel()
    while widget is not top and widget.winfo_manager():
        assert widget.master is not None
        widget = widget.master
    return widget is top

"""The fields of a form: a name over each, what is wrong under it, and what is typed kept."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.keys import keys_first, with_modifier
from shopdesk.desk.scrolling import bring_into_sight
from shopdesk.desk.signs import Sign, SignMark

Value = str | bool
ROW_GAP = 6
"""Distance from one row of a form to the next, in pixels."""
_EDGE, _LEAST = 6, 60
"""What a wrapped label keeps free at its sides, and the least it wraps to, in pixels."""


class Field(ttk.Frame):
    """What all fields share. ``name`` is what the job's function calls it in its errors."""

    input: tk.Widget

    def __init__(self, parent: tk.Misc, name: str, label: str, hint: str = "") -> None:
        super().__init__(parent)
        self.name = name
        self.label = label
        self._told: list[Callable[[], object]] = []
        self.on_enter: Callable[[], object] = self.leave
        self.columnconfigure(0, weight=1)
        self._error: ttk.Frame | None = None
        self._put_label(label, hint)

    def get(self) -> Value:
        """Return what is typed or ticked."""
        raise NotImplementedError

    def set(self, value: Value) -> None:
        """Show a value without telling anyone that it changed."""
        raise NotImplementedError

    def to_end(self) -> None:
        """Put the cursor after what stands there, so that one can type on."""

    def watch(self, told: Callable[[], object]) -> None:
        """Call ``told`` whenever something is typed or chosen here."""
        self._told.append(told)

    def focus_input(self) -> None:
        """Put the focus into the field."""
        self.input.focus_set()

    def leave(self) -> None:
        """Go on to the next field."""
        following = self.input.tk_focusNext()
        if following is not None:
            following.focus_set()

    @property
    def error(self) -> str:
        """The sentence that stands under the field, if any."""
        return str(self._error.winfo_children()[1].cget("text")) if self._error else ""

    @property
    def sentence(self) -> tk.Widget | None:
        """What stands under the field while something is wrong with it."""
        return self._error

    @property
    def words_width(self) -> int:
        """How wide the words over the field are, in pixels."""
        return self.winfo_children()[0].winfo_reqwidth()

    def show_error(self, sentence: str) -> None:
        """Say under the field what is wrong with it, in as many columns as there are beside it."""
        self.clear_error()
        place = self.grid_info()
        columns = self.master.grid_size()[0]
        first = min(int(place["column"]), columns // 2)
        self._error = ttk.Frame(self.master)
        SignMark(self._error, Sign.TROUBLE).pack(side="left", anchor="n", padx=(0, 4))
        words = ttk.Label(self._error, text=sentence, bootstyle="danger", font=look.SMALL)
        words.pack(side="left", fill="x", expand=True)
        wrapping(words)
        self._error.grid(
            row=place["row"], column=first, columnspan=columns - first, sticky="sew", padx=(0, 12)
        )
        self._error.bind("<Configure>", self._error_moved)

    def clear_error(self) -> None:
        """Take the sentence away."""
        if self._error is not None:
            self._error.destroy()
            self._error = None
            self._make_room()

    def _error_moved(self, _event: object) -> None:
        self._make_room()
        if self._error is not None:
            bring_into_sight(self._error)

    def _make_room(self) -> None:
        """Keep free, under all that stands in this row, what its sentences need, one by one."""
        row = self.grid_info().get("row")
        if row is None:
            return
        beside = self.master.grid_slaves(row=row)
        sentences = [one._error for one in beside if isinstance(one, Field) and one._error]
        below = ROW_GAP
        for sentence in sentences:
            sentence.grid_configure(pady=(0, below))
            below += sentence.winfo_reqheight() + 2
        for widget in beside:
            if widget not in sentences:
                widget.grid_configure(pady=(0, below))

    def _put_label(self, label: str, hint: str) -> None:
        line = ttk.Frame(self)
        line.grid(row=0, column=0, sticky="ew")
        ttk.Label(line, text=label, font=look.SMALL).pack(side="left")
        if hint:
            ttk.Label(line, text=hint, font=look.SMALL, bootstyle="secondary").pack(
                side="left", padx=(6, 0)
            )

    def _place(self, widget: tk.Widget) -> None:
        self.input = widget
        widget.grid(row=1, column=0, sticky="nsew", pady=(1, 0))
        keys_first(widget)

    def _typed(self, *_: object) -> None:
        self.clear_error()
        for told in self._told:
            told()

    def _entered(self, event: "tk.Event[tk.Misc]") -> str | None:
        if with_modifier(event):
            return None
        self.on_enter()
        return "break"


class LineField(Field):
    """One line of text."""

    def __init__(
        self, parent: tk.Misc, name: str, label: str, hint: str = "", width: int = 12
    ) -> None:
        super().__init__(parent, name, label, hint)
        self._text = tk.StringVar(self)
        self.entry = ttk.Entry(self, textvariable=self._text, width=width)
        self._place(self.entry)
        self._watch = self._text.trace_add("write", self._typed)
        for key in ("<Return>", "<KP_Enter>"):
            self.input.bind(key, self._entered)

    def get(self) -> str:
        """Return the line as typed."""
        return self._text.get()

    def set(self, value: Value) -> None:
        """Show a line."""
        self._text.trace_remove("write", self._watch)
        self._text.set(str(value))
        self._watch = self._text.trace_add("write", self._typed)

    def to_end(self) -> None:
        """Put the cursor after the line."""
        self.entry.icursor("end")


class TextField(Field):
    """Several lines of text; Tab leaves it, Enter begins a new line."""

    def __init__(
        self,
        parent: tk.Misc,
        name: str,
        label: str,
        hint: str = "",
        lines: int = 3,
        width: int = 12,
    ) -> None:
        super().__init__(parent, name, label, hint)
        self.rowconfigure(1, weight=1)
        self._text = ttk.Text(
            self, height=lines, width=width, wrap="word", undo=True, font="TkTextFont"
        )
        self._text.configure(padx=6, pady=4)
        look.when_worn(
            self._text, lambda: self._text.configure(highlightbackground=look.edge_colour())
        )
        self._place(self._text)
        self._text.bind("<<Modified>>", self._modified)
        self._text.bind("<Tab>", self._next)
        self._text.bind("<Shift-Tab>", self._previous)
        if self._text.tk.call("tk", "windowingsystem") == "x11":
            self._text.bind("<ISO_Left_Tab>", self._previous)

    def get(self) -> str:
        """Return the text as typed."""
        return self._text.get("1.0", "end-1c")

    def set(self, value: Value) -> None:
        """Show a text."""
        self._text.delete("1.0", "end")
        self._text.insert("1.0", str(value))
        self._text.edit_reset()
        self._text.edit_modified(False)

    def _modified(self, _event: object) -> None:
        if self._text.edit_modified():
            self._text.edit_modified(False)
            self._typed()

    def _next(self, _event: object) -> str:
        return _go(self._text.tk_focusNext())

    def _previous(self, _event: object) -> str:
        return _go(self._text.tk_focusPrev())


class TickField(Field):
    """A box to tick, its words beside it; Space ticks it."""

    def __init__(self, parent: tk.Misc, name: str, label: str, hint: str = "") -> None:
        super().__init__(parent, name, label, hint)
        self._ticked = tk.BooleanVar(self)
        self._place(ttk.Checkbutton(self, text=label, variable=self._ticked, command=self._typed))
        for key in ("<Return>", "<KP_Enter>"):
            self.input.bind(key, self._entered)

    def get(self) -> bool:
        """Return whether it is ticked."""
        return self._ticked.get()

    def set(self, value: Value) -> None:
        """Tick it or not."""
        self._ticked.set(bool(value))

    @property
    def words_width(self) -> int:
        """How wide the box and its words are, in pixels."""
        return self.input.winfo_reqwidth()

    def _put_label(self, label: str, hint: str) -> None:
        if hint:
            super()._put_label("", hint)


def wrapping(label: ttk.Label) -> ttk.Label:
    """Let a label's words run on over as many lines as the width it is given needs.

    It asks for no width of its own (pack it with ``fill="x"``): a label that asks for what its
    wrapped words take, and wraps to what it is given, could go back and forth for ever.
    """
    label.configure(width=1)
    label.bind(
        "<Configure>", lambda event: label.configure(wraplength=max(event.width - _EDGE, _LEAST))
    )
    return label


def _go(to: tk.Misc | None) -> str:
    if to is not None:
        to.focus_set()
    return "break"

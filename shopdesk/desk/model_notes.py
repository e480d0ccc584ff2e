"""The entries of a model's card: settings, hose lengths, tools, traps, usual parts and notes."""

import tkinter as tk
from collections.abc import Sequence

import ttkbootstrap as ttk

from shopdesk.dates import local_day, show_date
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.model_words import note_words
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.model_notes import (
    KINDS,
    NOTE,
    NoteEntry,
    NoteView,
    add_note,
    change_note,
    drop_note,
    keep_note,
)

_NEW = {"kind": NOTE}


class ModelNotes(ttk.Frame):
    """The list and the form for one entry, for the model of the ``page``'s machine."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._notes: dict[int, NoteView] = {}
        self.list = RowList(
            self,
            [
                Column("Kind", 100),
                Column("What", 380, grows=True),
                Column("From", 70),
                Column("Written", 190),
            ],
            lines=6,
            empty="Nothing stands on the card yet: type the first note below.",
        )
        self.list.pack(fill="x")
        self.list.on_open(lambda _key: self._change())
        self.list.bind_key("<Delete>", lambda _key: self._drop())
        self._put_actions()
        self._put_form()

    def show(self, notes: Sequence[NoteView]) -> None:
        """Show a card's entries."""
        zone = self._page.front.shift.shop.zone
        self._notes = {note.id: note for note in notes}
        self.list.show([(note.id, _cells(note, zone)) for note in notes])
        self.form.fill(_NEW)

    def keep(self) -> bool:
        """Write what is typed on the card, or keep the change."""
        note = self.form.text_of("note")
        done = self._page.attempt(
            lambda: self._page.anew(lambda: self._write(note)),
            self.form,
            said="It stands on the card.",
            empty=True,
        )
        if done:
            self.begin()
        return done

    def begin(self) -> None:
        """Begin at the kind of entry, what stands there marked for overtyping."""
        self.form.focus_first()
        self.form["kind"].input.event_generate("<<SelectAll>>")

    def leave(self) -> None:
        """Forget the change; the entry stays as it is."""
        self.form.fill(_NEW)
        self.show_mode()
        self.list.focus_list()

    def show_mode(self) -> None:
        """Say whether an entry is added or changed."""
        changing = bool(self.form.text_of("note"))
        self._button.configure(text=f"{'Keep it' if changing else 'Write it down'}  Enter")
        if changing:
            self._leave.pack(side="left", padx=8)
        else:
            self._leave.pack_forget()

    def _put_actions(self) -> None:
        line = ttk.Frame(self)
        line.pack(fill="x", pady=4)
        for words, key, run in (
            ("Go to the card", "Alt+L", self.list.focus_list),
            ("Change it", "F2", self._change),
            ("Drop it …", "Alt+D", self._drop),
        ):
            action_button(line, self._page.front.keys, words, key, run).pack(
                side="left", padx=(0, 8)
            )

    def _put_form(self) -> None:
        self.form = form = Form(self, columns=12)
        form.choice("kind", "Kind  Alt+A", KINDS, span=2)
        form.line("title", "Name", "of a setting", span=3)
        form.line("words", "What to know next time", span=5)
        form.line("part_number", "Part number", span=2)
        hold(form, "note")
        form.submit_with(self.keep)
        form.pack(fill="x")
        keys = self._page.front.keys
        line = ttk.Frame(self)
        line.pack(fill="x")
        self._button = action_button(line, keys, "Write it down", "", self.keep)
        self._button.pack(side="left")
        self._leave = action_button(line, keys, "Leave it as it was", "Esc", self.leave)
        keys.add(form, "Alt+A", "Write something on the card", self.begin)

    def _write(self, note: str) -> object:
        shift, ticket, entry = self._page.front.shift, self._page.ticket, self.form.into(NoteEntry)
        if note:
            return change_note(shift, int(note), entry)
        if entry.title or entry.part_number:
            return add_note(shift, ticket.unit.make, ticket.unit.model, entry)
        return keep_note(shift, ticket.id, entry.kind, entry.words)

    def _change(self) -> None:
        note = self._chosen()
        if note is None:
            return
        self.form.restore(
            {
                "note": str(note.id),
                "kind": note.kind,
                "title": note.title,
                "words": note.words,
                "part_number": note.part_number,
            }
        )
        self.show_mode()
        self.form["words"].focus_input()

    def _drop(self) -> None:
        note, page = self._chosen(), self._page
        if note is None:
            return
        why = page.front.dialogs.ask_text(
            "Drop an entry", f"Why is “{note_words(note)}” taken off the card?"
        )
        if why is not None:
            page.attempt(
                lambda: page.anew(lambda: drop_note(page.front.shift, note.id, why)),
                said="It is off the card; the journal keeps it.",
            )

    def _chosen(self) -> NoteView | None:
        note = self._notes.get(self.list.selected or 0)
        if note is None:
            self._page.front.notices.trouble("Choose an entry of the card first.")
            self.list.focus_list()
        return note


def _cells(note: NoteView, zone: str) -> tuple[str, str, str, str]:
    day = show_date(local_day(note.written_at, zone))
    return note.kind, note_words(note), note.tag, " ".join(filter(None, (note.written_by, day)))

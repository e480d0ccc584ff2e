"""A sheet with a list and a form under it, in which an entry is written or changed."""

import ttkbootstrap as ttk

from shopdesk.desk.forms import Form
from shopdesk.desk.rows import RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.job.drafts import Content


class ListedForm(Sheet):
    """Make one by giving it ``list`` and ``form``, its two buttons, and ``read``.

    The form holds the id of the entry that is being changed under ``held``, which is also the name
    of its draft; empty, a new one is written.
    """

    held: str
    adds: str
    """What the button says that keeps a new entry."""
    list: RowList
    form: Form
    keep_button: ttk.Button
    leave_button: ttk.Button

    def read(self) -> None:
        """Read the entries anew and show them in the list."""
        raise NotImplementedError

    def begin(self) -> None:
        """Show the list, and what an earlier window left typed in the form."""
        held = self.front.drafts.find(self.held_at)
        self.read()
        self.form.restore(held.content.get(self.held, {}) if held else {})

    def show_now(self) -> None:
        """Show the entries as they are now; what is typed stays."""
        self.read()
        self.focus_first()

    def focus_first(self) -> None:
        """Go on with what is typed, else begin in the list, or with the first entry."""
        if self.list.tree.get_children() and not self.form.changed:
            self.list.focus_list()
        else:
            self.form.focus_first()

    def draft(self) -> Content:
        """Return all that stands there while any of it is typed and not kept."""
        return {self.held: self.form.values()} if self.form.changed else {}

    def throw_away(self) -> None:
        """Empty the form."""
        self.form.fill({})
        self.show_mode()

    def mark_typed(self) -> None:
        """Say what is not kept, and whether an entry is being changed."""
        super().mark_typed()
        self.show_mode()

    def leave_form(self) -> None:
        """Forget what is typed; the entry stays as it was."""
        self.throw_away()
        self.list.focus_list()

    def show_mode(self) -> None:
        """Say whether an entry is written or changed."""
        changing = bool(self.form.text_of(self.held))
        self.keep_button.configure(text=f"{'Keep it' if changing else self.adds}  Enter")
        if changing:
            self.leave_button.pack(side="left", padx=8)
        else:
            self.leave_button.pack_forget()

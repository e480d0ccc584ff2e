"""The shop's particulars, to be changed later."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.labour.flat_times import FlatTimes
from shopdesk.desk.sheet import Sheet
from shopdesk.desk.shop_form import ShopForm
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content
from shopdesk.job.settings import as_entry, set_up_shop

_FORM = "shop"
_THIS_DESK = (
    "This desk only: Ctrl+L light or dark; Ctrl+Plus, Ctrl+Minus larger or smaller text, Ctrl+0 as "
    "at first. What follows holds for the whole shop."
)


class Settings(Sheet):
    """The same form as at the first run."""

    page, called = "settings", "the settings"

    def build(self) -> None:
        """Put the form."""
        self.head("Settings")
        self.action("Save", "Ctrl+S", self._save, main=True)
        wrapping(ttk.Label(self.body, text=_THIS_DESK, font=look.SMALL)).pack(fill="x")
        self._form = ShopForm(self.body)
        self.action("Flat times", "Alt+T", self._flat_times)
        self.action("In and out", "Alt+I", self._in_and_out)
        self.action("Next section", "F7", self._form.next_section)
        self.action("Section before", "F8", lambda: self._form.next_section(-1))
        self._form.pack(fill="x")
        self._form.on_change = self.mark_typed
        held = self.front.drafts.find(self.held_at)
        self.throw_away()
        if held is not None:
            self._form.restore(held.content.get(_FORM, {}))

    def show(self) -> None:
        """Show what is kept, unless something is typed."""
        if not self._form.changed:
            self.throw_away()
        self.focus_first()

    def draft(self) -> Content:
        """Return what is changed and not kept."""
        typed = self._form.draft()
        return {_FORM: typed} if typed else {}

    def throw_away(self) -> None:
        """Show what is kept."""
        self._form.show(as_entry(self.front.shift.shop))

    def focus_first(self) -> None:
        """Begin with the name."""
        self._form.focus_first()

    def _flat_times(self) -> None:
        self.front.open_sheet(FlatTimes)

    def _in_and_out(self) -> None:
        from shopdesk.desk.import_sheet import ImportSheet

        self.front.open_sheet(ImportSheet)

    def _save(self) -> None:
        self._form.clear_errors()
        try:
            shop = set_up_shop(self.front.shift, self._form.entry())
        except JobError as error:
            self.say_error(error, self._form)
            return
        self._form.show(as_entry(shop))
        self.front.drafts.gather()
        self.front.show_shop(shop)
        self.front.notices.say(
            "Saved. New tickets and papers follow it; what was issued stays as it was."
        )

"""The shop's particulars, to be changed later."""

from shopdesk.desk.sheet import Sheet
from shopdesk.desk.shop_form import ShopForm
from shopdesk.errors import JobError
from shopdesk.job.settings import as_entry, set_up_shop


class Settings(Sheet):
    """The same form as at the first run."""

    def build(self) -> None:
        """Put the form."""
        self.head("Settings")
        self.action("Save", "Ctrl+S", self._save, main=True)
        self._form = ShopForm(self.body)
        self._form.pack(fill="x")
        self._form.on_change = lambda: self.mark_typed(self._form.changed)

    def show(self) -> None:
        """Show what is kept, unless something is typed."""
        if not self._form.changed:
            self._form.show(as_entry(self.front.shift.shop))
        self.focus_first()

    def focus_first(self) -> None:
        """Begin with the name."""
        self._form.focus_first()

    def unsaved(self) -> list[str]:
        """Return whether the settings are changed and not kept."""
        return ["the settings"] if self._form.changed else []

    def _save(self) -> None:
        self._form.clear_errors()
        try:
            shop = set_up_shop(self.front.shift, self._form.entry())
        except JobError as error:
            self.say_error(error, self._form)
            return
        self._form.show(as_entry(shop))
        self.front.show_shop(shop)
        self.front.notices.say(
            "Saved. New tickets and papers follow it; what was issued stays as it was."
        )

"""What the cards of owners and machines share: particulars changed in place, nothing lost."""

from collections.abc import Mapping

from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.sheet import Sheet
from shopdesk.errors import JobError


class Card(Sheet):
    """A sheet about one thing known by its id; what was typed about another waits for it."""

    form: Form
    known: int | None = None

    def show(self, known: int) -> None:
        """Show the thing of that id, and over it what was typed and not kept."""
        self._put_away()
        self.known = known
        self.fill(known)
        self.form.restore(self._drafts.pop(known, {}))
        self._scroll.to_top()
        self.focus_first()

    def fill(self, known: int) -> None:
        """Show what is kept of the thing."""
        raise NotImplementedError

    def keep(self, known: int) -> None:
        """Hand what is typed to the job."""
        raise NotImplementedError

    def called(self) -> str:
        """Return what to call the thing in "… is not saved yet"."""
        raise NotImplementedError

    def save(self) -> bool:
        """Keep what is typed; false when it can't be kept yet."""
        if self.known is None or not self.form.changed:
            return True
        self.form.clear_errors()
        try:
            self.keep(self.known)
        except JobError as error:
            self.say_error(error, self.form)
            return False
        self.form.settle()
        self.fill(self.known)
        self.front.notices.say("Saved.")
        return True

    def unsaved(self) -> list[str]:
        """Return what is typed and not kept."""
        return [self.called()] if self.form.changed or self._drafts else []

    def watch_form(self, form: Form) -> None:
        """Take this form as the one that holds the particulars."""
        self.form = form
        self._drafts: dict[int, Mapping[str, Value]] = {}
        form.on_change = lambda: self.mark_typed(form.changed)

    def _put_away(self) -> None:
        if self.known is not None and self.form.changed:
            self._drafts[self.known] = self.form.draft()

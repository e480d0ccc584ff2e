"""What the cards of owners and machines share: particulars changed in place, nothing lost."""

from shopdesk.desk.forms import Form
from shopdesk.desk.sheet import Sheet
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content, Place

_FORM = "particulars"


class Card(Sheet):
    """A sheet about one thing known by its id; what was typed about another waits for it."""

    form: Form
    known: int | None = None

    def show(self, known: int) -> None:
        """Show the thing of that id, and over it what was typed and not kept."""
        held = self.front.drafts.find(Place(self.page, known))
        self.fill(known)
        self.known = known
        if held is not None:
            self.form.restore(held.content.get(_FORM, {}))
        self.mark_typed()
        self._scroll.to_top()
        self.focus_first()

    def fill(self, known: int) -> None:
        """Show what is kept of the thing."""
        raise NotImplementedError

    def keep(self, known: int) -> None:
        """Hand what is typed to the job."""
        raise NotImplementedError

    @property
    def held_at(self) -> Place:
        """Where what is typed about the thing is held."""
        return Place(self.page, self.known or 0)

    def draft(self) -> Content:
        """Return what is typed about the thing and not kept."""
        typed = self.form.draft()
        return {_FORM: typed} if typed else {}

    def throw_away(self) -> None:
        """Show what is kept of the thing."""
        if self.known is not None:
            self.fill(self.known)

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
        self.front.drafts.gather()
        self.front.notices.say("Saved.")
        return True

    def watch_form(self, form: Form) -> None:
        """Take this form as the one that holds the particulars."""
        self.form = form
        form.on_change = self.mark_typed

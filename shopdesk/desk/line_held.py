"""What a form is about (the line being changed, the check being read), kept with its draft."""

from shopdesk.desk.fields import Field, Value
from shopdesk.desk.forms import Form


class HeldField(Field):
    """A field without a widget: it goes with the form's draft from ticket to ticket and back."""

    def __init__(self, form: Form, name: str) -> None:
        super().__init__(form, name, "")
        self.input = self
        self._held = ""

    def get(self) -> str:
        """Return what is held, or an empty string."""
        return self._held

    def set(self, value: Value) -> None:
        """Hold something else."""
        self._held = str(value)


def hold(form: Form, *names: str) -> None:
    """Add held fields to a form, after all that can be seen."""
    form.next_row()
    for name in names:
        form.add(HeldField(form, name)).grid_remove()

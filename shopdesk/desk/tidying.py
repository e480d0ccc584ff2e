"""Sets out phones, e-mail and address tidily as they are left, and says what looks wrong."""

from functools import partial

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import Field, wrapping
from shopdesk.desk.person_form import PersonForm
from shopdesk.job.shift import Shift
from shopdesk.job.tidy import Tidied, tidy_address, tidy_email, tidy_phones

_FIELDS = ("phones", "email", "address")


class Tidying:
    """Looks after an owner's fields; what was set out tidily can be typed otherwise again."""

    def __init__(self, form: PersonForm, shift: Shift) -> None:
        self._form = form
        self._shift = shift
        self._left_as: dict[str, str] = {}
        self._doubts: dict[str, str] = {}
        self._words = wrapping(ttk.Label(form.master, font=look.SMALL, bootstyle="warning"))
        for name in _FIELDS:
            form[name].input.bind("<FocusOut>", partial(self._left, form[name]), add="+")

    @property
    def doubts(self) -> str:
        """What looks wrong, in words."""
        return " ".join(filter(None, self._doubts.values()))

    def forget(self) -> None:
        """Doubt nothing: somebody else stands in the fields."""
        self._doubts.clear()
        self._left_as.clear()
        self._say()

    def _left(self, field: Field, _event: object) -> None:
        typed = str(field.get())
        if typed == self._left_as.get(field.name) or field.name not in self._form.draft():
            return
        tidied = self._tidied(field.name, typed)
        if tidied.text != typed:
            self._form.restore({field.name: tidied.text})
        self._left_as[field.name] = typed
        self._doubts[field.name] = tidied.doubt
        self._say()

    def _tidied(self, name: str, typed: str) -> Tidied:
        if name == "email":
            return tidy_email(typed)
        country = self._shift.shop.country
        return tidy_phones(typed, country) if name == "phones" else tidy_address(typed, country)

    def _say(self) -> None:
        self._words.configure(text=f"Look again: {self.doubts}")
        if self.doubts:
            self._words.pack(fill="x", after=self._form)
        else:
            self._words.pack_forget()

"""The owner's particulars as fields, for a new owner and for changing one."""

import tkinter as tk
from collections.abc import Mapping

from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.messages import WAYS
from shopdesk.job.views import CustomerView


class PersonForm(Form):
    """Name, phones, e-mail, address and what else is noted of an owner.

    ``whole`` asks as well how they are written to, and whether they moved away; else that stays.
    """

    def __init__(
        self, parent: tk.Misc, columns: int = 2, hint: str = "", *, whole: bool = False
    ) -> None:
        super().__init__(parent, columns)
        self._stays: dict[str, Value] = {}
        self.name_field = self.line("name", "Name", hint, span=2)
        self.text("phones", "Phones", "one to a line", span=1, lines=2)
        self.text("address", "Address", span=1, lines=2)
        self.line("email", "E-mail")
        self.line("tax_exempt_number", "Tax-exempt certificate", "if any")
        self.text("notes", "Note on the owner", span=2, lines=1)
        if whole:
            self.choice("preferred_way", "Write to them by", _WAYS)
        self.tick("may_remind", "May be reminded of upkeep")
        self.tick("shared_phone", "Phone is shared")
        if whole:
            self.tick("moved_away", "Moved away")
        self.fill(EMPTY)

    def entry(self) -> CustomerEntry:
        """Return what is typed, for the job."""
        phones = tuple(self.text_of("phones").splitlines())
        return self.into(CustomerEntry, phones=phones, **self._stays)

    def show(self, owner: CustomerView) -> None:
        """Fill the fields from what is kept."""
        self.fill(as_typed(owner))

    def fill(self, values: Mapping[str, Value]) -> None:
        """Show what is kept; what there is no field for stays as it is."""
        self._stays = {
            name: values[name]
            for name in ("preferred_way", "moved_away")
            if name in values and name not in self.fields
        }
        super().fill(values)


_WAYS = (("", "whatever there is"), *((way, way) for way in WAYS))
EMPTY: dict[str, Value] = {"may_remind": True}


def as_typed(owner: CustomerView) -> dict[str, Value]:
    """Return an owner as it would be typed."""
    phones = (" ".join(filter(None, (phone.label, phone.number))) for phone in owner.phones)
    return {
        "name": owner.name,
        "phones": "\n".join(phones),
        "address": owner.address,
        "email": owner.email,
        "tax_exempt_number": owner.tax_exempt_number,
        "notes": owner.notes,
        "may_remind": owner.may_remind,
        "preferred_way": owner.preferred_way,
        "moved_away": owner.moved_away,
    }

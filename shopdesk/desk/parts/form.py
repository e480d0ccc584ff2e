"""The particulars of a part as fields, for a new part and for changing one."""

import tkinter as tk
from dataclasses import asdict

from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.lines import CONDITIONS
from shopdesk.job.parts.catalogue import PartEntry, part_entry
from shopdesk.job.parts.views import PartView

NEW: dict[str, Value] = {"condition": "new"}


class PartForm(Form):
    """Number, name, where it lies, what it costs the owner, and when it is to be bought again."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent, columns=12)
        self.line("number", "Part number", span=3)
        self.line("name", "Name", span=5)
        self.choice("condition", "Condition", CONDITIONS, span=2)
        self.line("bin", "Bin", span=2)
        self.line("price", "Price", "if fixed", span=2)
        self.line("reorder_at", "Buy when down to", span=2)
        self.line("reorder_to", "Bring up to", span=2)
        self.line("warranty_days", "Warranty", "days", span=2)
        self.line("notes", "Note", span=4)
        self.fill(NEW)

    def entry(self) -> PartEntry:
        """Return what is typed, for the job."""
        return self.into(PartEntry)

    def show(self, part: PartView) -> None:
        """Fill the fields from what is kept."""
        self.fill(asdict(part_entry(part)))

"""The machine's particulars as fields, for a new machine and for changing one."""

import tkinter as tk

from shopdesk.dates import show_date
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.units import ENGINES, KINDS, UnitEntry
from shopdesk.job.views import UnitView
from shopdesk.pricing.money import show_quantity


class MachineForm(Form):
    """Kind, engine, make and model, serial, and how it is used."""

    def __init__(self, parent: tk.Misc, columns: int = 2) -> None:
        super().__init__(parent, columns)
        self.choice("kind", "Kind of machine", KINDS, free=True)
        self.choice("engine", "Engine", ENGINES)
        self.line("make", "Make")
        self.line("model", "Model")
        self.serial_field = self.line("serial", "Serial number")
        self.line("bought_on", "Bought on", "as 14 mar 2024")
        self.line("hours_per_week", "Hours a week")
        self.line("meter_hours", "Hour meter")
        self.line("first_month", "Used from month", "1 to 12")
        self.line("last_month", "to month", "1 to 12")
        self.text("notes", "Note on the machine", span=1, lines=1)
        self.tick("severe_use", "Hard use, dust, every day")

    def entry(self) -> UnitEntry:
        """Return what is typed, for the job."""
        return self.into(UnitEntry)

    def show(self, unit: UnitView) -> None:
        """Fill the fields from what is kept."""
        self.fill(as_typed(unit))


def as_typed(unit: UnitView) -> dict[str, Value]:
    """Return a machine as it would be typed."""
    return {
        "kind": unit.kind,
        "engine": unit.engine,
        "make": unit.make,
        "model": unit.model,
        "serial": unit.serial,
        "bought_on": show_date(unit.bought_on) if unit.bought_on else "",
        "hours_per_week": _number(unit.hours_per_week),
        "meter_hours": _number(unit.meter_hours),
        "first_month": str(unit.first_month or ""),
        "last_month": str(unit.last_month or ""),
        "notes": unit.notes,
        "severe_use": unit.severe_use,
    }


def _number(number: object) -> str:
    return "" if number is None else show_quantity(number)  # type: ignore[arg-type]

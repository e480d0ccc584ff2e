"""The machine of a new ticket: one of the owner's, one known by its serial, or written down new."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import section
from shopdesk.desk.front import Front
from shopdesk.desk.keys import with_modifier
from shopdesk.desk.machine_form import MachineForm
from shopdesk.desk.people import known_machines, machine_words
from shopdesk.desk.same_as import SameAs, put_over
from shopdesk.desk.suggest import Offer, Suggestions, take_or_leave
from shopdesk.job.duplicates import like_machines
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry, change_unit, get_unit
from shopdesk.job.views import UnitView

_OTHER = "another machine"


class MachinePart(ttk.Frame):
    """Fields for the machine.

    ``on_take`` is told which known machine it is, or none; ``on_found``, of one found by its serial
    number.
    """

    def __init__(self, parent: tk.Misc, front: Front, leave: Callable[[], object]) -> None:
        super().__init__(parent)
        self._front = front
        self._leave = leave
        self.on_found: Callable[[UnitView], object] = lambda unit: None
        self.on_take: Callable[[UnitView | None], object] = lambda unit: None
        self.known: UnitView | None = None
        self.owner_id: int | None = None
        """The known owner whose machine it is."""
        self._theirs: tuple[UnitView, ...] = ()
        section(self, "Machine")
        self._put_choice()
        self.form = MachineForm(self)
        self.form.pack(fill="x")
        self.same: SameAs[int] = SameAs(
            self.form, front, "machine", "Alt+J", self._look_for, self._take_same
        )
        serial = self.form.serial_field
        self.suggestions: Suggestions[int] = Suggestions(
            serial.entry, lambda words: known_machines(front.shift, words), self._found, wide=True
        )
        serial.on_enter = partial(take_or_leave, self.suggestions, serial)

    def offer(self, units: Sequence[UnitView], *, take_only: bool = True) -> None:
        """Offer the machines of the owner that was taken; the only one is taken at once.

        Not so for ``take_only`` false: they bring one more.
        """
        self._theirs = tuple(units)
        self._which.configure(values=[*map(machine_words, self._theirs), _OTHER])
        if self._theirs:
            self._choice.pack(fill="x", pady=(0, 6), before=self.form)
        else:
            self._choice.pack_forget()
        self.take(self._theirs[0] if len(self._theirs) == 1 and take_only else None)

    def take(self, unit: UnitView | None) -> None:
        """Take a known machine, or none."""
        if unit is not None:
            self.form.show(unit)
        elif self.known is not None:
            self.form.fill({})
        self.known = unit
        self.same.clear()
        ids = [one.id for one in self._theirs]
        if ids:
            place = ids.index(unit.id) if unit is not None and unit.id in ids else len(ids)
            self._which.current(place)
        self.on_take(unit)

    def focus_first(self) -> None:
        """Begin with the choice among the owner's machines, or with the kind."""
        if self._theirs:
            self._which.focus_set()
        else:
            self.form.focus_first()

    def entry(self) -> int | UnitEntry:
        """Return the machine for the job; what was changed of a known one is kept first."""
        if self.known is None:
            return self.form.entry()
        if self.form.changed:
            self.known = change_unit(
                self._front.shift, self.known.id, self.form.entry(), self.known.version
            )
            self.form.settle()
        return self.known.id

    def _put_choice(self) -> None:
        self._choice = ttk.Frame(self)
        ttk.Label(self._choice, text="Which of theirs", font=look.SMALL).pack(
            side="left", padx=(0, 8)
        )
        self._which = ttk.Combobox(self._choice, state="readonly")
        self._which.pack(side="left", fill="x", expand=True)
        self._which.bind("<<ComboboxSelected>>", self._chosen)
        self._which.bind("<Return>", self._entered)

    def _chosen(self, _event: object) -> None:
        place = self._which.current()
        self.take(self._theirs[place] if place < len(self._theirs) else None)

    def _entered(self, event: "tk.Event[tk.Misc]") -> str | None:
        if with_modifier(event):
            return None
        if self.known is not None:
            self._leave()
        else:
            self.form.focus_first()
        return "break"

    def _found(self, unit_id: int) -> None:
        unit = get_unit(self._front.shift, unit_id)
        self.take(unit)
        self.on_found(unit)

    def _take_same(self, unit_id: int) -> None:
        typed = self.form.values()
        self._found(unit_id)
        put_over(self.form, typed)

    def _look_for(self) -> Callable[[], Sequence[Offer[int]]] | None:
        if self.known is not None or not self.form.changed:
            return None
        return partial(_alike, self._front.shift, self.form.entry(), self.owner_id)


def _alike(shift: Shift, entry: UnitEntry, owner_id: int | None) -> Sequence[Offer[int]]:
    return [Offer(one.words, one.unit.id) for one in like_machines(shift, entry, owner_id)]

"""Two cards that turn out to be one: side by side, field by field, made one or taken apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import ClassVar

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk.card import Card
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.people import known_machines, known_owners
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.suggest import Offer, Suggestions, take_or_leave
from shopdesk.job.customers import get_customer
from shopdesk.job.drafts import Content
from shopdesk.job.duplicates import machines_like, owners_like
from shopdesk.job.merging.apart import MergeView, machine_merges, owner_merges, take_apart
from shopdesk.job.merging.fields import Choices, Side, TwoWords
from shopdesk.job.merging.machines import TwoMachines, merge_machines, two_machines
from shopdesk.job.merging.owners import TwoOwners, merge_owners, two_owners
from shopdesk.job.shift import Shift
from shopdesk.job.units import get_unit
from shopdesk.text import counted

Two = TwoOwners | TwoMachines


@dataclass(frozen=True, slots=True)
class Alike:
    """One that may be the same: its id, what it is called, and why."""

    id: int
    called: str
    why: str


class MergeCard(Card):
    """The card that stays is known; the other is found here, or chosen among those alike."""

    thing: ClassVar[str]
    """What the two are: ``owner`` or ``machine``."""
    look_for: ClassVar[str]
    """What finds the other one."""

    def build(self) -> None:
        """Put the other one on top, what differs under it, and what was made one before below."""
        self._two: Two | None = None
        self._choices: dict[str, Side] = {}
        self._called = ""
        self._came_for = 0
        self.action("Make them one", "Ctrl+S", self.save, main=True)
        self.action("Let the other stay", "Alt+X", self._swap)
        self.action("Take apart …", "Alt+T", self._take_apart)
        self._put_other()
        section(self.body, "What they say differently  Space chooses")
        self.differing = RowList(
            self.body,
            [
                Column("Field", 150),
                Column("This one", 220, grows=True),
                Column("The other", 220, grows=True),
                Column("Stands", 110),
            ],
            lines=6,
            empty="Choose the other one first.",
        )
        self.differing.pack(fill="x")
        self.differing.bind_key(("<space>", "<Return>", "<KP_Enter>"), self._choose_next)
        self._goes_over = wrapping(ttk.Label(self.body))
        self._goes_over.pack(fill="x", pady=(6, 0))
        section(self.body, "Made one before")
        self.before = RowList(
            self.body,
            [
                Column("The other was", 220, grows=True),
                Column("Went over", 260, grows=True),
                Column("When", 170),
                Column("By", 90),
            ],
            lines=3,
            empty="Nothing was made one with it.",
        )
        self.before.pack(fill="x")

    @property
    def called(self) -> str:
        """What the sheet is called."""
        return f"the question whether {self._called} is written down twice"

    def show(self, known: int) -> None:
        """Ask about the one that was open."""
        self._came_for = known
        super().show(known)

    def fill(self, known: int) -> None:
        """Show which others may be the same, and what was made one with it before."""
        shift = self.front.shift
        self._called = self.name_of(shift, known)
        self.head(f"Twice? {self._called}")
        self._alike = self.alike(shift, known)
        self.likely.show([(one.id, (one.called, one.why)) for one in self._alike])
        self._merges = {one.id: one for one in self.merges(shift, known)}
        zone = shift.shop.zone
        self.before.show(
            [
                (
                    one.id,
                    (one.called, one.went_over, show_moment(one.merged_at, zone), one.merged_by),
                )
                for one in self._merges.values()
            ]
        )
        self._other.fill({})
        self._show_two(None)

    def draft(self) -> Content:
        """Return nothing: only choices are made here."""
        return {}

    def focus_first(self) -> None:
        """Begin with those that may be the same, or with the search."""
        if self._alike:
            self.likely.focus_list()
        else:
            self._other.focus_first()

    def choose(self, other: int) -> None:
        """Set another one beside it."""
        if self.known is None:
            return
        two = self.attempt(partial(self.two, self.front.shift, self.known, other), self._other)
        if two is not None:
            self._other.fill({})
            self._show_two(two)
            self.differing.focus_list()

    def save(self) -> bool:
        """Make them one; false when it can't be done."""
        if self._two is None or self.known is None:
            self.front.notices.trouble(f"Choose the other {self.thing} first.")
            return False
        two, known = self._two, self.known
        said = (
            f"{self.name_in(two)} is one {self.thing} now. Alt+T takes them apart again, "
            "if it was a mistake."
        )
        job = partial(self.merge, self.front.shift, known, two.goes.id, self._choices, two.versions)
        done = self.did(job, self._other)
        if done:
            if two.goes.id == self._came_for:
                self.open_stays(known)
            else:
                self.show(known)
            self.front.refresh_board()
            self.front.notices.say(said)
        return done

    def open_stays(self, known: int) -> None:
        """Open the card that stays: the one under this sheet is no more."""
        raise NotImplementedError

    def name_of(self, shift: Shift, known: int) -> str:
        """Return what the one that stays is called."""
        raise NotImplementedError

    def name_in(self, two: Two) -> str:
        """Return what the one that stays is called."""
        raise NotImplementedError

    def found(self, shift: Shift, words: str) -> Sequence[Offer[int]]:
        """Return what a few typed letters may mean."""
        raise NotImplementedError

    def alike(self, shift: Shift, known: int) -> Sequence[Alike]:
        """Return which others may be the same."""
        raise NotImplementedError

    def merges(self, shift: Shift, known: int) -> Sequence[MergeView]:
        """Return what was made one with it."""
        raise NotImplementedError

    def two(self, shift: Shift, stays: int, goes: int) -> Two:
        """Return both side by side."""
        raise NotImplementedError

    def merge(
        self, shift: Shift, stays: int, goes: int, choices: Choices, seen: tuple[int, int]
    ) -> object:
        """Make them one."""
        raise NotImplementedError

    def _put_other(self) -> None:
        section(self.body, f"The other {self.thing}", top=0)
        self._other = Form(self.body, columns=2)
        field = self._other.line("other", "Look for it", self.look_for)
        self._other.pack(fill="x")
        self.suggestions: Suggestions[int] = Suggestions(
            field.entry, self._found_others, self.choose, wide=True
        )
        field.on_enter = partial(take_or_leave, self.suggestions, field)
        self.likely = RowList(
            self.body,
            [Column("May be the same", 300, grows=True), Column("Because", 300, grows=True)],
            lines=4,
            empty="None is alike. Look for it above.",
        )
        self.likely.pack(fill="x")
        self.likely.on_open(self.choose)

    def _found_others(self, words: str) -> Sequence[Offer[int]]:
        found = self.found(self.front.shift, words)
        return [offer for offer in found if offer.thing != self.known]

    def _show_two(self, two: Two | None) -> None:
        self._two = two
        self._choices = {} if two is None else {one.name: one.offered for one in two.fields}
        self.differing.say_empty(
            "Choose the other one first." if two is None else "Both say the same."
        )
        self._show_fields()
        if two is None:
            self._goes_over.configure(text="")
            return
        over = two.goes_over or "nothing hangs on it"
        self._goes_over.configure(
            text=f"From the other goes over: {over}. Its card is no more then; issued invoices "
            "stay as they are. It can be taken apart again."
        )

    def _show_fields(self) -> None:
        fields = self._two.fields if self._two is not None else ()
        self.differing.show(
            [
                (place, (one.words, _one_line(one.stays), _one_line(one.goes), self._stands(one)))
                for place, one in enumerate(fields)
            ]
        )

    def _stands(self, field: TwoWords) -> str:
        return str(self._choices[field.name])

    def _choose_next(self, place: int) -> None:
        assert self._two is not None
        field = self._two.fields[place]
        at = field.sides.index(self._choices[field.name])
        self._choices[field.name] = field.sides[(at + 1) % len(field.sides)]
        self._show_fields()

    def _swap(self) -> None:
        """Let the other card stay, and this one go."""
        if self._two is None or self.known is None:
            self.front.notices.trouble(f"Choose the other {self.thing} first.")
            return
        stays, goes, came_for = self._two.goes.id, self.known, self._came_for
        self.show(stays)
        self._came_for = came_for
        self.choose(goes)

    def _take_apart(self) -> None:
        merge = self._chosen_merge()
        if merge is None:
            return
        question = (
            f"{merge.called} was made one with {self._called}. What went over goes back: "
            f"{merge.went_over or 'nothing hung on it'}. What was changed since stays. "
            "Take them apart?"
        )
        if not self.front.dialogs.confirm("Take apart", question, "Take apart", "Leave as it is"):
            return
        apart = self.attempt(partial(take_apart, self.front.shift, merge.id))
        if apart is None or self.known is None:
            return
        self.show(self.known)
        self.front.refresh_board()
        stayed = ""
        if apart.stayed:
            tickets = counted(len(apart.stayed), "later ticket")
            stayed = f" Look at {tickets} of its machines: {', '.join(apart.stayed)}."
        self.front.notices.say(f"{apart.called} is a card of its own again.{stayed}")

    def _chosen_merge(self) -> MergeView | None:
        if not self._merges:
            self.front.notices.trouble("Nothing was made one with it: there is nothing to undo.")
            return None
        chosen = self.before.selected
        return self._merges[next(iter(self._merges)) if chosen is None else chosen]


class OwnersMerge(MergeCard):
    """Two owners who are one."""

    page = "same owner"
    thing = "owner"
    look_for = "name or phone"

    def open_stays(self, known: int) -> None:
        """Open the owner's card."""
        self.front.open_owner(known)

    def name_of(self, shift: Shift, known: int) -> str:
        """Return the owner's name."""
        return get_customer(shift, known).name

    def name_in(self, two: Two) -> str:
        """Return the owner's name."""
        assert isinstance(two, TwoOwners)
        return two.stays.name

    def found(self, shift: Shift, words: str) -> Sequence[Offer[int]]:
        """Return the owners that a few letters or digits may mean."""
        return known_owners(shift, words)

    def alike(self, shift: Shift, known: int) -> Sequence[Alike]:
        """Return owners with the same phone, mail, or a like name."""
        found = owners_like(shift, known)
        return [Alike(one.owner.id, one.called, ", ".join(one.why)) for one in found]

    def merges(self, shift: Shift, known: int) -> Sequence[MergeView]:
        """Return who was made one with this owner."""
        return owner_merges(shift, known)

    def two(self, shift: Shift, stays: int, goes: int) -> Two:
        """Return both owners."""
        return two_owners(shift, stays, goes)

    def merge(
        self, shift: Shift, stays: int, goes: int, choices: Choices, seen: tuple[int, int]
    ) -> object:
        """Make them one."""
        return merge_owners(shift, stays, goes, choices, seen)


class MachinesMerge(MergeCard):
    """Two machines that are one."""

    page = "same machine"
    thing = "machine"
    look_for = "serial number, make or model"

    def open_stays(self, known: int) -> None:
        """Open the machine's card."""
        self.front.open_machine(known)

    def name_of(self, shift: Shift, known: int) -> str:
        """Return what the machine is."""
        return get_unit(shift, known).title

    def name_in(self, two: Two) -> str:
        """Return what the machine is."""
        assert isinstance(two, TwoMachines)
        return two.stays.title

    def found(self, shift: Shift, words: str) -> Sequence[Offer[int]]:
        """Return the machines that the words may mean."""
        return known_machines(shift, words)

    def alike(self, shift: Shift, known: int) -> Sequence[Alike]:
        """Return machines with the same serial number, or of the same model and owner."""
        found = machines_like(shift, known)
        return [Alike(one.unit.id, one.called, ", ".join(one.why)) for one in found]

    def merges(self, shift: Shift, known: int) -> Sequence[MergeView]:
        """Return what was made one with this machine."""
        return machine_merges(shift, known)

    def two(self, shift: Shift, stays: int, goes: int) -> Two:
        """Return both machines."""
        return two_machines(shift, stays, goes)

    def merge(
        self, shift: Shift, stays: int, goes: int, choices: Choices, seen: tuple[int, int]
    ) -> object:
        """Make them one."""
        return merge_machines(shift, stays, goes, choices, seen)


def _one_line(said: str) -> str:
    return " / ".join(said.splitlines())

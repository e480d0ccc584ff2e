"""The owner of a new ticket: found among the known ones while typing, or written down new."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import section
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.people import known_owners
from shopdesk.desk.person_form import EMPTY, PersonForm
from shopdesk.desk.same_as import SameAs, put_over
from shopdesk.desk.suggest import Offer, Suggestions, take_or_leave
from shopdesk.desk.tidying import Tidying
from shopdesk.job.customers import CustomerEntry, change_customer, get_customer
from shopdesk.job.duplicates import like_owners
from shopdesk.job.phones import is_same_phone
from shopdesk.job.shift import Shift
from shopdesk.job.views import CustomerView
from shopdesk.text import digits


class OwnerPart(ttk.Frame):
    """Fields for the owner; ``on_change`` is told when another owner is taken, or none."""

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self._front = front
        self.on_change: Callable[[CustomerView | None], object] = lambda owner: None
        self.known: CustomerView | None = None
        section(self, "Owner", top=0)
        self._line = ttk.Frame(self)
        self._words = ttk.Label(self._line, font=look.STRONG)
        self._words.pack(side="left", padx=(0, 8))
        action_button(self._line, front.keys, "Someone else", "Alt+W", self.start_over).pack(
            side="left"
        )
        self.form = PersonForm(self, hint="name or phone finds known ones")
        self.form.pack(fill="x")
        self.same: SameAs[int] = SameAs(
            self.form, front, "owner", "Alt+K", self._look_for, self.take_same
        )
        self.tidying = Tidying(self.form, front.shift)
        name = self.form.name_field
        self.suggestions: Suggestions[int] = Suggestions(
            name.entry, self._find, self.take, wide=True
        )
        name.on_enter = partial(take_or_leave, self.suggestions, name)

    @property
    def called(self) -> str:
        """The owner's name as it stands there."""
        return self.form.text_of("name").strip()

    def take(self, customer_id: int) -> None:
        """Take a known owner."""
        self.known = get_customer(self._front.shift, customer_id)
        self.form.show(self.known)
        self._words.configure(text=f"Known owner: {self.known.name}")
        self._line.pack(fill="x", pady=(0, 6), before=self.form)
        self.same.clear()
        self.tidying.forget()
        self.on_change(self.known)

    def take_same(self, customer_id: int) -> None:
        """Take a known owner, and keep what was typed and is not on their card yet."""
        typed = self.form.values()
        self.take(customer_id)
        phones = [*self.form.text_of("phones").splitlines()]
        for phone in str(typed["phones"]).splitlines():
            if not any(is_same_phone(digits(phone), digits(one)) for one in phones):
                phones.append(phone)
        put_over(self.form, {name: typed[name] for name in ("email", "address", "notes")})
        self.form.restore({"phones": "\n".join(phones)})

    def forget(self) -> None:
        """Empty the fields for somebody else."""
        self.known = None
        self._line.pack_forget()
        self.form.fill(EMPTY)
        self.same.clear()
        self.tidying.forget()
        self.on_change(None)

    def start_over(self) -> None:
        """Empty the fields and begin with the name."""
        self.forget()
        self.form.focus_first()

    def entry(self) -> int | CustomerEntry:
        """Return the owner for the job; what was changed of a known one is kept first."""
        if self.known is None:
            return self.form.entry()
        if self.form.changed:
            self.known = change_customer(
                self._front.shift, self.known.id, self.form.entry(), self.known.version
            )
            self.form.settle()
        return self.known.id

    def _find(self, words: str) -> tuple[Offer[int], ...]:
        return () if self.known else tuple(known_owners(self._front.shift, words))

    def _look_for(self) -> Callable[[], Sequence[Offer[int]]] | None:
        if self.known is not None or not self.form.changed:
            return None
        return partial(_alike, self._front.shift, self.form.entry())


def _alike(shift: Shift, entry: CustomerEntry) -> Sequence[Offer[int]]:
    return [Offer(one.words, one.owner.id) for one in like_owners(shift, entry)]

"""A part's card: what it is and costs, who sells it, what it is for, what became of each one."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.columns import two_columns
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.parts.deeds import PartDeeds, level_words, price_words
from shopdesk.desk.parts.fits import PartFits
from shopdesk.desk.parts.form import PartForm
from shopdesk.desk.parts.kit import PartKit
from shopdesk.desk.parts.offers import PartOffers
from shopdesk.desk.parts.stock import PartStock
from shopdesk.job.parts.catalogue import add_part, change_part, open_part
from shopdesk.job.parts.views import PartView


class PartCard(Card):
    """Particulars, offers, contents, fits and moves; id 0 stands for a part not written down yet.

    What hangs on a part (offers and all) can be typed once the part itself is saved.
    """

    page = "part"

    def build(self) -> None:
        """Put the card together from top to bottom."""
        self._part: PartView | None = None
        self._entries: tuple[PartOffers | PartKit | PartFits, ...] = ()
        self.action("Save", "Ctrl+S", self.save, main=True)
        self._deeds = PartDeeds(self)
        self._level = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._level.pack(fill="x")
        self._price = wrapping(ttk.Label(self.body))
        self._price.pack(fill="x", pady=(2, 6))
        self._particulars = PartForm(self.body)
        self._particulars.pack(fill="x")
        self.watch_form(self._particulars)
        self._rest = ttk.Frame(self.body)
        self._put_rest()

    def fill(self, known: int) -> None:
        """Show what is kept of the part, or an empty card."""
        part = self._part = open_part(self.front.shift, known) if known else None
        self._deeds.show(part)
        shop = self.front.shift.shop
        if part is None:
            self.head("A new part")
            self._level.configure(text="")
            self._price.configure(text="Save it, then note who sells it and what it is for.")
            self._particulars.fill({"condition": "new"})
            self._rest.pack_forget()
            return
        self.head(f"{part.number}  {part.name}")
        self._level.configure(text=level_words(part))
        self._price.configure(text=price_words(part, shop.currency))
        self._particulars.show(part)
        for entries in self._entries:
            entries.show(part)
        self.stock.show(part)
        self._rest.pack(fill="both", expand=True)

    def keep(self, known: int) -> None:
        """Write the part down, or change it."""
        shift, entry = self.front.shift, self._particulars.entry()
        if self._part is None:
            self.known = add_part(shift, entry).id
        else:
            change_part(shift, known, entry, self._part.version)

    def save(self) -> bool:
        """Keep the particulars and whatever else is typed."""
        if not super().save():
            return False
        return all(entries.keep() for entries in self._entries if entries.form.changed)

    def mark_typed(self) -> None:
        """Say what is typed and not kept, and which entries are being changed."""
        super().mark_typed()
        for entries in self._entries:
            entries.show_mode()

    def focus_first(self) -> None:
        """Begin with the offers, or with the particulars of a part that has none."""
        if self._part is not None and self._part.offers:
            self.offers.list.focus_list()
        else:
            self._particulars.focus_first()

    @property
    def called(self) -> str:
        """Return the part's number and name."""
        part = self._part
        return f"the card of {part.number} {part.name}" if part else "a new part"

    @property
    def part(self) -> PartView:
        """The part that the card shows."""
        assert self._part is not None, "a new part was asked for before it was saved"
        return self._part

    @property
    def price_told(self) -> str:
        """What is said of its price and of what it costs us."""
        return str(self._price.cget("text"))

    def _put_rest(self) -> None:
        section(self._rest, "What suppliers ask")
        self.offers = PartOffers(self._rest, self)
        self.offers.pack(fill="x")
        halves = ttk.Frame(self._rest)
        halves.pack(fill="x")
        left, right = two_columns(halves)
        section(left, "What it is for")
        self.fits = PartFits(left, self)
        self.fits.pack(fill="x")
        section(right, "What the kit holds")
        self.kit = PartKit(right, self)
        self.kit.pack(fill="x")
        self.stock = PartStock(self._rest, self.front)
        self.stock.pack(fill="both", expand=True)
        self._entries = (self.offers, self.fits, self.kit)

"""The shop's particulars and rules as fields, for the first run and for the settings."""

import tkinter as tk
from dataclasses import asdict

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.settings import SUPPLIES_OF, ShopEntry, first_entry
from shopdesk.job.settings_excess import EXCESS_RULES, WHICH
from shopdesk.job.settings_place import DAY_ORDERS
from shopdesk.job.shop import PAPERS

_TAXED = {
    "part": "Parts are taxed",
    "labour": "Labour is taxed",
    "fee": "Fees are taxed",
    "sublet": "Sublet work is taxed",
    "discount": "A discount lowers the tax",
}
_SUPPLIES_OF = {"part": "of parts", "labour": "of labour"}


class ShopForm(Form):
    """Everything that the shop decides for itself, section by section."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent, columns=4)
        self.sections: list[str] = []
        """The first field of each section."""
        for title, put in (
            ("The shop", self._put_shop),
            ("Labour and fees", self._put_labour),
            ("Parts and new machines", self._put_parts),
            ("Taxes", self._put_taxes),
            ("Estimates and promises", self._put_promises),
            ("Place and papers", self._put_place),
        ):
            self._heading(title)
            known = len(self.fields)
            put()
            self.sections.append(list(self.fields)[known])
        self.show(first_entry())

    def entry(self) -> ShopEntry:
        """Return what is typed, for the job."""
        return self.into(
            ShopEntry,
            taxed=tuple(kind for kind in _TAXED if self.ticked(f"taxed_{kind}")),
            supplies_of=tuple(kind for kind in SUPPLIES_OF if self.ticked(f"supplies_of_{kind}")),
        )

    def show(self, entry: ShopEntry) -> None:
        """Fill the fields."""
        plain = {
            name: value for name, value in asdict(entry).items() if isinstance(value, str | bool)
        }
        ticks: dict[str, Value] = {f"taxed_{kind}": kind in entry.taxed for kind in _TAXED}
        ticks |= {f"supplies_of_{kind}": kind in entry.supplies_of for kind in SUPPLIES_OF}
        self.fill({**plain, **ticks})

    def next_section(self, step: int = 1) -> None:
        """Put the focus into the first field of the section after (or before) the one it is in."""
        focus = str(self.focus_get() or "")
        names = list(self.fields)
        here = next((name for name in names if focus.startswith(f"{self[name]}.")), "")
        place = names.index(here) if here else -1
        begun = [at for at, name in enumerate(self.sections) if names.index(name) <= place]
        self[self.sections[((begun or [-1])[-1] + step) % len(self.sections)]].focus_input()

    def _heading(self, title: str) -> None:
        if self.fields:
            self.next_row()
        label = ttk.Label(self, text=title, font=look.HEADING, bootstyle="primary")
        label.grid(
            row=self._row,
            column=0,
            columnspan=self.columns,
            sticky="w",
            pady=(10 if self.fields else 0, 4),
        )
        self.next_row()

    def _put_shop(self) -> None:
        self.line("name", "Name of the shop", span=2)
        self.line("phone", "Phone")
        self.line("email", "E-mail")
        self.text("address", "Address", "as it stands on the papers", span=2, lines=3)
        self.line("tax_number", "Tax number", "if papers show one")

    def _put_labour(self) -> None:
        self.line("bench_rate", "Price of a bench hour")
        self.choice(
            "tenths",
            "Part of a tenth of an hour",
            [("nearest", "to the nearest tenth"), ("up", "up to the next tenth")],
        )
        self.text(
            "labour_rates",
            "Further labour rates",
            "one to a line: Electrical 85.00",
            span=2,
            lines=2,
        )
        self.line("diagnosis_fee", "Diagnosis fee", "if the owner says no")
        self.tick("credit_diagnosis", "Credited with the repair")
        self.line("disposal_fee", "Disposal fee", "when you get rid of it")
        self.line("bench_hours_per_day", "Bench hours a day", "that get done")
        self.line("supplies_percent", "Shop supplies", "percent; empty: none")
        self.line("supplies_cap", "At most", "for a ticket")
        for kind in SUPPLIES_OF:
            self.tick(f"supplies_of_{kind}", f"Supplies: {_SUPPLIES_OF[kind]}")

    def _put_parts(self) -> None:
        self.text(
            "part_markups",
            "Markup by what a part costs",
            "up to 10.00: 100 %, then all above: 30 %",
            span=2,
            lines=3,
        )
        self.text(
            "prices_new",
            "What a new machine costs",
            "one to a line: string trimmer 189.00",
            span=2,
            lines=3,
        )
        self.line("part_margin", "Or margin on parts", "percent")

    def _put_taxes(self) -> None:
        self.text(
            "tax_rates",
            "Tax rates",
            "one to a line: State 6.875, or City 1.5 on part, labour",
            span=2,
            lines=3,
        )
        self.choice(
            "tax_basis",
            "Tax is rounded",
            [("invoice", "once, on the invoice"), ("line", "on each line")],
        )
        self.tick("tax_included", "Prices have their tax in them")
        for kind, words in _TAXED.items():
            self.tick(f"taxed_{kind}", words)

    def _put_promises(self) -> None:
        self.choice(
            "excess", "Over an estimate may go", EXCESS_RULES, "check your local law", span=2
        )
        self.line("estimate_days", "Estimates hold", "days")
        self.line("turnaround_days", "Usual promise", "days from intake")
        self.line("excess_percent", "Own rule: percent")
        self.line("excess_fixed", "Own rule: amount")
        self.choice("excess_which", "If both", list(WHICH))
        self.line("excess_cap", "Own rule: at most")
        self.line("warranty_days", "Warranty on repairs", "days")
        self.line("part_warranty_days", "On parts, if other", "days")
        self.line("storage_per_day", "Storage a day", "empty: none")
        self.line("storage_after_days", "Asked for after", "days ready")

    def _put_place(self) -> None:
        self.line("currency", "Currency sign")
        self.line("currency_code", "Its code", "as USD or EUR")
        self.line("country", "Country code", "as US or DE")
        self.choice("paper", "Paper", PAPERS)
        self.line("zone", "Time zone", "as Europe/Paris", span=2)
        self.choice("day_order", "Dates like 3/4 are", DAY_ORDERS)
        self.line("altitude", "Altitude", "as 1609 m or 5280 ft")
        self.tick("southern", "Seasons of the southern half of the earth", span=2)
        self.tick("e_invoice", "Invoices carry an e-invoice (EN 16931, Factur-X)", span=2)

"""The shop's particulars and rules as fields, for the first run and for the settings."""

import tkinter as tk
from dataclasses import asdict

from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.job.settings import DAY_ORDERS, EXCESS_RULES, ShopEntry, first_entry
from shopdesk.job.shop import PAPERS

_TAXED = {
    "part": "Parts are taxed",
    "labour": "Labour is taxed",
    "fee": "Fees are taxed",
    "sublet": "Sublet work is taxed",
}


class ShopForm(Form):
    """Everything that the shop decides for itself."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent, columns=4)
        self.line("name", "Name of the shop", span=2)
        self.line("phone", "Phone")
        self.line("email", "E-mail")
        self.text("address", "Address", "as it stands on the papers", span=2, lines=3)
        self.text(
            "tax_rates",
            "Tax rates",
            "name and percent, one to a line: State 6.875",
            span=2,
            lines=3,
        )
        for kind, words in _TAXED.items():
            self.tick(f"taxed_{kind}", words)
        self.line("bench_rate", "Price of a bench hour")
        self.line("diagnosis_fee", "Diagnosis fee", "if the owner says no")
        self.choice(
            "tax_basis",
            "Tax is rounded",
            [("invoice", "once, on the invoice"), ("line", "on each line")],
        )
        self.line("tax_number", "Tax number", "if papers show one")
        self.choice(
            "excess", "Over an estimate may go", EXCESS_RULES, "check your local law", span=2
        )
        self.line("estimate_days", "Estimates hold", "days")
        self.line("warranty_days", "Warranty on repairs", "days")
        self.line("turnaround_days", "Usual promise", "days from intake")
        self.line("altitude", "Altitude", "as 1609 m or 5280 ft")
        self.line("currency", "Currency sign")
        self.choice("paper", "Paper", PAPERS)
        self.line("zone", "Time zone", "as Europe/Paris", span=2)
        self.choice("day_order", "Dates like 3/4 are", DAY_ORDERS, span=2)
        self.show(first_entry())

    def entry(self) -> ShopEntry:
        """Return what is typed, for the job."""
        taxed = tuple(
            kind
            for kind in (*_TAXED, "discount")
            if kind == "discount" or self.ticked(f"taxed_{kind}")
        )
        return self.into(ShopEntry, taxed=taxed)

    def show(self, entry: ShopEntry) -> None:
        """Fill the fields."""
        plain = {name: value for name, value in asdict(entry).items() if isinstance(value, str)}
        ticks: dict[str, Value] = {f"taxed_{kind}": kind in entry.taxed for kind in _TAXED}
        self.fill({**plain, **ticks})

"""The bar for what is the shop's and no ticket's: parts, orders, reports, upkeep that is due."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING

from shopdesk.desk.flow import Flow
from shopdesk.desk.keys import Keys, action_button

if TYPE_CHECKING:
    from shopdesk.desk.sheet import Sheet


@dataclass(frozen=True, slots=True)
class ShopSheet:
    """A sheet of the shop's, and the key that opens it; its module is read when first needed."""

    words: str
    key: str
    module: str
    name: str

    def load(self) -> type[Sheet]:
        """Return the sheet's class."""
        kind: type[Sheet] = getattr(import_module(self.module), self.name)
        return kind


SHEETS: tuple[ShopSheet, ...] = (
    ShopSheet("Parts", "Ctrl+1", "shopdesk.desk.parts.parts_sheet", "PartsSheet"),
    ShopSheet("Orders", "Ctrl+2", "shopdesk.desk.parts.orders_sheet", "OrdersSheet"),
    ShopSheet("Reports", "Ctrl+3", "shopdesk.desk.reports.sheet", "ReportsSheet"),
    ShopSheet("Upkeep due", "Ctrl+4", "shopdesk.desk.due.sheet", "DueSheet"),
    ShopSheet("Not fetched", "Ctrl+5", "shopdesk.desk.unfetched_sheet", "UnfetchedSheet"),
)
"""In the order of the bar: Ctrl+1 and so on."""


class ShopBar(Flow):
    """One button for each of the shop's sheets."""

    def __init__(
        self, parent: tk.Misc, keys: Keys, open_sheet: Callable[[ShopSheet], object]
    ) -> None:
        super().__init__(parent, padding=(12, 0, 12, 8))
        for sheet in SHEETS:
            run = partial(open_sheet, sheet)
            action_button(self, keys, sheet.words, sheet.key, run).pack(side="left", padx=(0, 8))

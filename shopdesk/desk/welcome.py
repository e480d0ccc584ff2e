"""The first run: asks for the shop's particulars, or opens the demo shop."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import Keys, action_button
from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.desk.shop_form import ShopForm
from shopdesk.errors import JobError
from shopdesk.job.settings import set_up_shop
from shopdesk.job.shift import Shift

_WORDS = (
    "These records are new. Say who you are and what an hour at your bench costs; the rest has "
    "sensible values, and all of it can be changed later in the settings (F10)."
)


class Welcome(ttk.Frame):
    """Fills the window until the shop is known; ``done`` goes on, ``demo`` opens the demo shop."""

    def __init__(
        self,
        parent: tk.Misc,
        shift: Shift,
        done: Callable[[], object],
        demo: Callable[[], object] | None,
    ) -> None:
        super().__init__(parent)
        self._shift = shift
        self._done = done
        keys = Keys(self.winfo_toplevel())
        head = ttk.Frame(self, padding=(24, 16, 24, 4))
        head.pack(fill="x")
        ttk.Label(
            head, text="Welcome to your front desk", font=look.TITLE, bootstyle="primary"
        ).pack(anchor="w")
        wrapping(ttk.Label(head, text=_WORDS)).pack(fill="x", pady=(4, 0))
        self.notices = NoticeLine(self)
        self.notices.pack(side="bottom", fill="x")
        foot = ttk.Frame(self, padding=(24, 8))
        foot.pack(side="bottom", fill="x")
        action_button(foot, keys, "Open my shop", "Ctrl+S", self._open_shop, main=True).pack(
            side="left"
        )
        if demo is not None:
            action_button(foot, keys, "Look at the demo shop instead", "Alt+D", demo).pack(
                side="left", padx=12
            )
        scroll = ScrollPage(self, padding=24)
        scroll.pack(fill="both", expand=True)
        self.form = ShopForm(scroll.inside)
        self.form.pack(fill="x")

    def focus_first(self) -> None:
        """Begin with the shop's name."""
        self.form.focus_first()

    def _open_shop(self) -> None:
        self.form.clear_errors()
        try:
            set_up_shop(self._shift, self.form.entry())
        except JobError as error:
            if not self.form.show_error(error):
                self.notices.trouble(error.sentence)
            return
        self._done()

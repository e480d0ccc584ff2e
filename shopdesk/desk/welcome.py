"""The first run: asks for the shop's particulars, or builds and opens the demo shop."""

import tkinter as tk
from collections.abc import Callable
from functools import partial
from threading import Event

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.drafts import Drafts, Typed
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import Keys, action_button
from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.desk.shop_form import ShopForm
from shopdesk.desk.worker import Worker
from shopdesk.errors import JobError
from shopdesk.job.drafts import Place
from shopdesk.job.settings import set_up_shop
from shopdesk.job.shift import Shift

_WORDS = (
    "These records are new. Say who you are and what an hour at your bench costs; the rest has "
    "sensible values, and all of it can be changed later in the settings (F10)."
)


_HELD_AT, _FORM = Place("welcome"), "shop"

OpenDemo = Callable[[Event], Shift]
"""Builds the demo shop, which takes its time; raises ``JobError`` once the event is set."""


class Welcome(ttk.Frame):
    """Fills the window until the shop is known, or the demo is there; ``done`` goes on with it.

    ``sorry`` hears of errors of our own making.
    """

    def __init__(
        self,
        parent: tk.Misc,
        shift: Shift,
        done: Callable[[Shift], object],
        open_demo: OpenDemo | None,
        sorry: Callable[[Exception], object],
    ) -> None:
        super().__init__(parent)
        self._shift = shift
        self._done = done
        self._sorry = sorry
        self._stop = Event()
        self.bound = Keys(self.winfo_toplevel())
        head = ttk.Frame(self, padding=(24, 16, 24, 4))
        head.pack(fill="x")
        ttk.Label(
            head, text="Welcome to your front desk", font=look.TITLE, bootstyle="primary"
        ).pack(anchor="w")
        wrapping(ttk.Label(head, text=_WORDS)).pack(fill="x", pady=(4, 0))
        self.notices = NoticeLine(self)
        self.notices.pack(side="bottom", fill="x")
        self._worker = Worker(self, self._not_built, self.notices.doing)
        self._put_foot(open_demo)
        scroll = ScrollPage(self, padding=24)
        scroll.pack(fill="both", expand=True)
        self.form = ShopForm(scroll.inside)
        self.form.pack(fill="x")
        self.drafts = Drafts(self, shift, self.notices.mention, sorry)
        self._put_back()
        self.form.on_change = partial(self.drafts.touched, self)

    def focus_first(self) -> None:
        """Begin with the shop's name."""
        self.form.focus_first()

    def typed(self) -> Typed | None:
        """Return what is typed and not kept."""
        draft = self.form.draft()
        return Typed(_HELD_AT, "the shop's particulars", {_FORM: draft} if draft else {})

    def close(self) -> None:
        """Stop what is being built, and what is written beside the window."""
        self._stop.set()
        self._worker.close()
        self.drafts.close()

    def _put_back(self) -> None:
        held = self.drafts.find(_HELD_AT)
        if held is not None:
            self.form.restore(held.content.get(_FORM, {}))
            self.notices.mention("What you typed here before is still here, and not saved yet.")

    def _put_foot(self, open_demo: OpenDemo | None) -> None:
        keys = self.bound
        foot = ttk.Frame(self, padding=(24, 8))
        foot.pack(side="bottom", fill="x")
        mine = action_button(foot, keys, "Open my shop", "Ctrl+S", self._open_shop, main=True)
        self._ways = [mine]
        if open_demo is not None:
            build = partial(self._build, open_demo)
            self._ways.append(
                action_button(foot, keys, "Look at the demo shop instead", "Alt+D", build)
            )
        for button in self._ways:
            button.pack(side="left", padx=(0, 12))
        self._stopper = action_button(foot, keys, "Stop building", "Esc", self._stop_building)

    def _build(self, open_demo: OpenDemo) -> None:
        self._show_building(building=True)
        self.notices.clear()
        self._stop = Event()
        self._worker.run(
            partial(open_demo, self._stop),
            self._done,
            doing="Building the demo shop, which takes some ten seconds",
        )

    def _stop_building(self) -> None:
        self._stop.set()

    def _not_built(self, error: Exception) -> None:
        self._show_building(building=False)
        if not isinstance(error, JobError):
            self._sorry(error)
        elif self._stop.is_set():
            self.notices.say(error.sentence)
        else:
            self.notices.trouble(error.sentence)

    def _show_building(self, *, building: bool) -> None:
        for button in self._ways:
            button.state(["disabled" if building else "!disabled"])
        if building:
            self._stopper.pack(side="left")
        else:
            self._stopper.pack_forget()

    def _open_shop(self) -> None:
        self.form.clear_errors()
        try:
            set_up_shop(self._shift, self.form.entry())
        except JobError as error:
            if not self.form.show_error(error):
                self.notices.trouble(error.sentence)
            return
        self.form.settle()
        self.drafts.keep_now()
        self._done(self._shift)

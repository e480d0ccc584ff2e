"""The shop's flat times: the list beside what the clock says of them, and the form for one."""

from datetime import timedelta

import ttkbootstrap as ttk

from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.listed_form import ListedForm
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.labour.flat_times import (
    FlatTimeEntry,
    FlatTimeView,
    add_flat_time,
    as_entry,
    causes_to_mend,
    change_flat_time,
    drop_flat_time,
    flat_times,
)
from shopdesk.job.labour.rates import rate_names, rate_words
from shopdesk.job.labour.report import FlatHours, flat_against_clocked
from shopdesk.job.shop import Shop
from shopdesk.job.units import KINDS
from shopdesk.pricing.money import show_money, show_quantity

_LOOKED_BACK = timedelta(days=365)


class FlatTimes(ListedForm):
    """Enter in the list brings a flat time into the form; Enter there keeps it."""

    page, called = "flat times", "a flat time"
    held, adds = "flat", "Add it"

    def build(self) -> None:
        """Put list and form."""
        self._flats: dict[int, FlatTimeView] = {}
        self.head("Flat times")
        self.action("Save", "Ctrl+S", self.save, main=True)
        self.action("New flat time", "Alt+N", self._begin)
        self.action("Drop it …", "Alt+D", self._drop)
        self.list = RowList(
            self.body,
            [
                Column("Job", 230, grows=True),
                Column("For", 120),
                Column("Puts right", 170, grows=True),
                Column("Hours", 56, right=True),
                Column("Rate", 90),
                Column("Price", 78, right=True),
                Column("By the clock, past year", 160, right=True),
            ],
            lines=10,
            empty="No flat time yet: type the first one below.",
        )
        self.list.pack(fill="x")
        self.list.on_open(lambda key: self._change(self._flats[key]))
        self.list.bind_key("<Delete>", lambda _key: self._drop())
        self._put_form()
        self.begin()

    def save(self) -> bool:
        """Keep the flat time that is typed."""
        if not self.form.changed:
            return True
        self.form.clear_errors()
        shift, held = self.front.shift, self.form.text_of(self.held)
        entry = self.form.into(FlatTimeEntry)
        try:
            kept = (
                change_flat_time(shift, int(held), entry) if held else add_flat_time(shift, entry)
            )
        except JobError as error:
            self.say_error(error, self.form)
            return False
        self.throw_away()
        self.front.drafts.gather()
        self.read()
        self.list.select(kept.id)
        self.front.notices.say(f"{kept.name}: {show_quantity(kept.hours)} h.")
        self.form.focus_first()
        return True

    def _put_form(self) -> None:
        self.form = form = Form(self.body, columns=12)
        form.line("name", "Job", span=4)
        form.line("hours", "Hours", "0.8, 45 min", span=2)
        self._rate = form.choice("rate", "Rate", [], span=2)
        form.choice("kind", "For", KINDS, "empty: every kind", span=4, free=True)
        self._cause = form.choice("cause", "Puts right", [], "if a cause", span=6)
        hold(form, self.held)
        form.pack(fill="x", pady=(8, 0))
        form.on_change = self.mark_typed
        form.submit_with(self.save)
        form["kind"].watch(self._offer_causes)
        line = ttk.Frame(form)
        line.grid(row=1, column=6, columnspan=6, sticky="sw", pady=(0, 6))
        keys = self.front.keys
        self.keep_button = action_button(line, keys, f"{self.adds}  Enter", "", self.save)
        self.keep_button.pack(side="left")
        leave = action_button(line, keys, "Leave it as it was", "Alt+X", self.leave_form)
        self.leave_button = leave

    def read(self) -> None:
        """Read the flat times and show them."""
        shift = self.front.shift
        shop, today = shift.shop, shift.today
        self._flats = {flat.id: flat for flat in flat_times(shift)}
        clocked = {
            (one.name, one.set_hours): one
            for one in flat_against_clocked(shift, today - _LOOKED_BACK, today)
        }
        self.list.show(
            [
                (flat.id, _cells(flat, shop, clocked.get((flat.name, flat.hours))))
                for flat in self._flats.values()
            ]
        )
        self._rate.offer(rate_names(shop))
        self._offer_causes()

    def _offer_causes(self) -> None:
        kind = self.form.text_of("kind")
        known = kind if kind in KINDS else ""
        self._cause.offer([("", ""), *causes_to_mend(known)])

    def _begin(self) -> None:
        self.throw_away()
        self.form.focus_first()

    def _change(self, flat: FlatTimeView) -> None:
        entry = as_entry(flat)
        self.form.fill({})
        self.form.restore(
            {
                "name": entry.name,
                "hours": entry.hours,
                "kind": entry.kind,
                "rate": entry.rate,
                self.held: str(flat.id),
            }
        )
        self._offer_causes()
        self.form.restore({"cause": entry.cause})
        self.show_mode()
        self.form["hours"].focus_input()

    def _drop(self) -> None:
        flat = self._flats.get(self.list.selected or 0)
        if flat is None:
            self.front.notices.trouble("Choose a flat time in the list first.")
            self.list.focus_list()
            return
        why = self.front.dialogs.ask_text("Drop a flat time", f"Why does “{flat.name}” go?")
        if why is None:
            return
        try:
            drop_flat_time(self.front.shift, flat.id, why)
        except JobError as error:
            self.front.notices.trouble(error.sentence)
            return
        if self.form.text_of(self.held) == str(flat.id):
            self.throw_away()
        self.read()
        self.front.notices.say(f"{flat.name} is off the list; lines made from it stay.")


def _cells(flat: FlatTimeView, shop: Shop, clocked: FlatHours | None) -> tuple[str, ...]:
    return (
        flat.name,
        flat.kind or "every kind",
        flat.cause_title,
        show_quantity(flat.hours),
        rate_words(flat.rate),
        show_money(flat.price, shop.currency) if flat.price is not None else "no such rate",
        _clocked(clocked),
    )


def _clocked(clocked: FlatHours | None) -> str:
    if clocked is None or clocked.average is None:
        return ""
    jobs = f"{clocked.jobs} job{'s' if clocked.jobs > 1 else ''}"
    return f"{show_quantity(clocked.average)} h over {jobs}"

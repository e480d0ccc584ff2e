"""What the job hands out: plain, unchanging values that the window and the commands show.

Times are aware UTC; days are in the shop's zone; money is ``Decimal``.
"""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shopdesk.job.labour.views import SpellView
from shopdesk.job.stages import Move, Stage, Way
from shopdesk.pricing.totals import ZERO, LineKind, Totals
from shopdesk.pricing.typed_number import show_number

WORK = (LineKind.PART, LineKind.LABOUR, LineKind.SUBLET)
"""Kinds of line that the bench has to do something for: fees and discounts are no work."""


def machine_title(kind: str, make: str, model: str) -> str:
    """Return a machine in words: ``String trimmer, Tarnbeck TB-26``."""
    name = " ".join(filter(None, (make, model)))
    kind = kind[:1].upper() + kind[1:]
    return f"{kind}, {name}" if name else kind


@dataclass(frozen=True, slots=True)
class PhoneView:
    """One phone of a customer, as typed."""

    label: str
    number: str


@dataclass(frozen=True, slots=True)
class CustomerView:
    """A customer with all their phones."""

    id: int
    version: int
    name: str
    phones: tuple[PhoneView, ...]
    email: str
    address: str
    notes: str
    tax_exempt_number: str
    may_remind: bool
    preferred_way: str = ""
    """How they wish to be written to; empty: whatever there is."""
    moved_away: bool = False


@dataclass(frozen=True, slots=True)
class UnitView:
    """A machine, with the owner of today."""

    id: int
    version: int
    kind: str
    engine: str
    make: str
    model: str
    serial: str
    notes: str
    bought_on: date | None
    hours_per_week: Decimal | None
    first_month: int | None
    last_month: int | None
    severe_use: bool
    meter_hours: Decimal | None
    owner_id: int
    owner_name: str

    @property
    def title(self) -> str:
        """The machine in words: ``String trimmer, Tarnbeck TB-26``."""
        return machine_title(self.kind, self.make, self.model)


@dataclass(frozen=True, slots=True)
class FindingView:
    """A reading, a look-see, a setting or a point of the proof run, judged when it was recorded."""

    id: int
    phase: str
    check_key: str
    title: str
    system: str
    typed: str
    shown: str
    verdict: str
    limit: str
    correction: str
    source: str
    rules_out: str
    points_to: str
    says: str
    note: str
    found_by: str
    found_at: datetime


@dataclass(frozen=True, slots=True)
class LineView:
    """A charge on the ticket, with its why."""

    id: int
    kind: LineKind
    description: str
    part_number: str
    condition: str
    quantity: Decimal
    unit_price: Decimal
    cost: Decimal | None
    net: Decimal
    taxed: bool
    reason: str
    reason_words: str
    reason_note: str
    finding_id: int | None
    evidence: str
    renews: str
    supply: str
    expected_on: date | None
    declined: bool
    """Not charged: the owner doesn't want it, or it is a charge of the shop's that is left out."""
    done: bool
    part_id: int | None = None
    """The part in the catalogue."""
    rate: str = ""
    """Name of the labour rate; empty for the bench rate."""
    percent: Decimal | None = None
    """Of what comes off, or of a discount."""
    value: Decimal | None = None
    """What one would cost, on a line without charge."""
    off: Decimal = ZERO
    """What comes off this line."""
    reckoned: str = ""
    """What works it out: ``supplies``, ``disposal``, ``discount``, ``clock``; empty if typed."""
    left_out_because: str = ""

    @property
    def off_typed(self) -> str:
        """What comes off as it would be typed: ``5.00``, ``10 %``, or empty."""
        if not self.off:
            return ""
        return f"{self.off}" if self.percent is None else f"{show_number(self.percent)} %"

    @property
    def price_typed(self) -> str:
        """The price of one as it would be typed: of a discount ``10 %`` or the amount."""
        if self.kind is LineKind.DISCOUNT and self.percent is not None:
            return f"{show_number(self.percent)} %"
        return f"{abs(self.unit_price) if self.value is None else self.value}"

    @property
    def is_work(self) -> bool:
        """Whether the bench has to do something for it."""
        return self.kind in WORK


@dataclass(frozen=True, slots=True)
class EstimateView:
    """An estimate that was given."""

    id: int
    number: str
    total: Decimal
    made_at: datetime


@dataclass(frozen=True, slots=True)
class ApprovalView:
    """A yes or a no."""

    id: int
    yes: bool
    amount: Decimal
    who: str
    how: str
    phone: str
    note: str
    noted_by: str
    said_at: datetime
    estimate_number: str
    option: str = ""
    """The way out that was chosen, or empty."""


@dataclass(frozen=True, slots=True)
class InvoiceView:
    """An issued invoice or credit note."""

    id: int
    number: str
    credits: str
    credited: bool
    """Whether credit notes took it back whole."""
    total: Decimal
    issued_at: datetime
    credited_amount: Decimal = Decimal(0)
    """What its credit notes took back so far, above zero."""


@dataclass(frozen=True, slots=True)
class PaymentView:
    """A payment, deposit or refund."""

    id: int
    amount: Decimal
    method: str
    note: str
    taken_at: datetime


@dataclass(frozen=True, slots=True)
class WriteOffView:
    """What was given up of a debt, or (below zero) is owed again after all; no money moved."""

    id: int
    amount: Decimal
    why: str
    written_by: str
    written_at: datetime


@dataclass(frozen=True, slots=True)
class ReminderView:
    """Upkeep that falls due."""

    id: int
    due_on: date
    titles: tuple[str, ...]
    state: str


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A photo of the ticket."""

    id: int
    file: str
    caption: str
    finding_id: int | None
    step_id: int | None = None
    """The step of the teardown that it shows."""


@dataclass(frozen=True, slots=True)
class TeardownStepView:
    """One thing that came off."""

    id: int
    number: int
    """What people and other steps call it, from 1."""
    off: str
    sub_assembly: str
    after: str
    """As it can be typed: ``1, 3``, ``none``, or empty for the step before it."""
    fasteners: tuple[str, ...]
    """One kind each, as it can be typed again: ``2 × M5 x 20 T27 in cup 3``."""
    mark: str
    routing: str
    caution_keys: tuple[str, ...]
    """Those noted with it; ``cautions`` has these in words, and those its name brings."""
    cautions: tuple[str, ...]
    setting: str
    """Title of what is set as it goes back, or empty."""
    setting_limit: str
    """As typed."""
    noted_by: str
    noted_at: datetime
    photos: tuple[PhotoView, ...]


@dataclass(frozen=True, slots=True)
class ReassemblyStepView:
    """One thing that goes back, in the order in which it does."""

    step_id: int
    number: int
    """Of the step in the teardown."""
    words: str
    care: tuple[str, ...]
    cautions: tuple[str, ...]
    fasteners: tuple[str, ...]
    """What is to be counted back, kind by kind."""
    waits_for: tuple[str, ...]
    """Steps not ticked yet that have to be back before it."""
    setting: str
    limit: str
    done: bool
    done_by: str
    done_at: datetime | None
    back: tuple[int, ...]
    """How many were put back of each kind."""
    entered: str
    """The setting as entered, or empty."""
    verdict: str
    says: str
    left_over: str
    """What is not right about it, or empty."""
    explained: str


@dataclass(frozen=True, slots=True)
class TicketView:
    """One ticket, whole."""

    id: int
    version: int
    number: int
    tag: str
    stage: Stage
    outcome: str
    move: Move
    owner: CustomerView
    unit: UnitView
    complaint: str
    complaint_kind: str
    onset: str
    fuel: str
    accessories: str
    condition: str
    notes: str
    promised_on: date | None
    days_late: int
    limit: Decimal | None
    old_parts_back: bool
    confirmed: str
    confirmed_note: str
    cause: str
    """Key of what it turned out to be, or empty."""
    cause_title: str
    """The same as it is said."""
    cause_words: str
    """What the mechanic added to it."""
    proof_reason: str
    balance_reason: str
    told_ready_at: datetime | None
    taken_in_at: datetime
    taken_in_on: date
    closed_at: datetime | None
    comeback_of: int | None
    """Ticket number of the earlier visit that this one comes back for."""
    findings: tuple[FindingView, ...]
    lines: tuple[LineView, ...]
    totals: Totals
    """Of the lines that were not declined; ``paid`` and ``due`` count what was taken so far."""
    approved: Decimal
    """The amount of the last yes."""
    may_charge: Decimal
    if_declined: Decimal
    """What is owed if the owner says no: the diagnosis fee with its tax, if it was looked at."""
    declined: bool
    estimates: tuple[EstimateView, ...]
    approvals: tuple[ApprovalView, ...]
    invoices: tuple[InvoiceView, ...]
    payments: tuple[PaymentView, ...]
    paid: Decimal
    balance: Decimal
    """Invoiced less credited, paid and written off: above zero the owner owes it, below zero we."""
    reminders: tuple[ReminderView, ...]
    photos: tuple[PhotoView, ...]
    """All of them, also those of findings and of steps."""
    teardown: tuple[TeardownStepView, ...]
    reassembly: tuple[ReassemblyStepView, ...]
    ways_on: tuple[Way, ...]
    ways_back: tuple[Way, ...]
    written_off: Decimal = ZERO
    write_offs: tuple[WriteOffView, ...] = ()
    spells: tuple[SpellView, ...] = ()
    """Time at the bench, in the order it began."""

    @property
    def running(self) -> tuple[SpellView, ...]:
        """The clocks that run on it."""
        return tuple(spell for spell in self.spells if spell.running)

    @property
    def standing_invoice(self) -> InvoiceView | None:
        """The invoice that holds: issued and not credited."""
        return next(
            (bill for bill in self.invoices if not bill.credits and not bill.credited), None
        )

    @property
    def next_way(self) -> Way | None:
        """The way on that lies nearest: one that is open, else the one with least missing.

        That is the one to Pickup once the owner said no.
        """
        home = next((way for way in self.ways_on if way.to is Stage.PICKUP), None)
        ways = [way for way in self.ways_on if way is not home]
        if home is not None and (self.declined or not ways):
            return home
        may = [way for way in ways if not way.missing]
        return may[-1] if may else min(ways, key=lambda way: len(way.missing), default=None)

    def missing_before(self, stage: Stage) -> tuple[str, ...]:
        """What is missing before the ticket may go to ``stage``."""
        return next((way.missing for way in self.ways_on if way.to is stage), ())


@dataclass(frozen=True, slots=True)
class BoardRow:
    """An open ticket in the list under whose move it is."""

    ticket_id: int
    number: int
    tag: str
    stage: Stage
    move: Move
    owner: str
    machine: str
    complaint: str
    promised_on: date | None
    days_late: int


@dataclass(frozen=True, slots=True)
class VisitView:
    """One earlier visit of a unit, for its history."""

    ticket_id: int
    number: int
    tag: str
    stage: Stage
    outcome: str
    owner: str
    taken_in_on: date
    closed_on: date | None
    complaint: str
    failed: tuple[str, ...]
    """What the readings found out of limits."""
    done: tuple[str, ...]
    """Lines that were done, each with its reason."""
    cause_title: str
    """What it turned out to be, or empty."""
    total: Decimal
    comeback_of: int | None
    charged: Decimal = Decimal("0.00")
    """What was invoiced, less what was credited."""
    hours: Decimal = Decimal(0)
    """At the bench, as the labour lines that were done say."""
    parts: tuple[str, ...] = ()
    """What was fitted."""


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing the find box found; the one id that is not ``None`` says what it is."""

    title: str
    detail: str
    ticket_id: int | None = None
    unit_id: int | None = None
    customer_id: int | None = None

"""What each paper says, as plain values: the papers draw these and know nothing of the records.

Money is ``Decimal`` in the shop's currency, dates are in the shop's zone, texts are as typed (never
marked up).
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from shopdesk.pricing.totals import ZERO, TaxRate, Totals


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The shop as it stands at the top of each paper."""

    name: str
    address: tuple[str, ...]
    phone: str
    email: str
    tax_number: str
    currency: str
    paper: str
    """``letter`` or ``A4``."""


@dataclass(frozen=True, slots=True)
class Addressee:
    """The owner as a paper names them."""

    name: str
    address: tuple[str, ...]
    phones: tuple[str, ...]
    email: str


@dataclass(frozen=True, slots=True)
class MachineOnPaper:
    """The machine as a paper names it."""

    title: str
    """Kind, make and model: ``String trimmer, Tarnbeck TB-26``."""
    serial: str
    engine: str

    @property
    def in_text(self) -> str:
        """The title as it stands within a sentence: ``string trimmer, Tarnbeck TB-26``."""
        initials = self.title[1:2].isupper()
        return self.title if initials else self.title[:1].lower() + self.title[1:]


@dataclass(frozen=True, slots=True)
class TagContent:
    """Claim tag: one part for the owner, one stub tied to the machine."""

    shop: Letterhead
    ticket: str
    """The ticket's number as printed and as the barcode holds it: ``T1043``."""
    owner: Addressee
    machine: MachineOnPaper
    complaint: str
    onset: str
    accessories: str
    condition: str
    taken_in: date
    promised: date | None
    limit: Decimal | None
    """How far the shop may go without asking; ``None`` when the owner is to be asked first."""
    diagnosis_fee: Decimal
    """What is owed, with tax, if the owner declines the repair; agreed with this tag."""
    old_parts_back: bool
    storage_per_day: Decimal = ZERO
    """Asked for each day that it stands ready past ``storage_after_days``; 0 for none."""
    storage_after_days: int = 0


@dataclass(frozen=True, slots=True)
class VisitSlipRow:
    """One machine of a visit, as its owner's slip lists it."""

    ticket: str
    machine: MachineOnPaper
    complaint: str
    accessories: str
    promised: date | None
    limit: Decimal | None
    diagnosis_fee: Decimal
    """With tax."""


@dataclass(frozen=True, slots=True)
class VisitSlipContent:
    """The owner's slip for a visit with several machines."""

    shop: Letterhead
    owner: Addressee
    on: date
    rows: tuple[VisitSlipRow, ...]
    storage_per_day: Decimal = ZERO
    """As on the claim tag."""
    storage_after_days: int = 0


@dataclass(frozen=True, slots=True)
class ChargeRow:
    """One line of an estimate or invoice, with its why."""

    kind: str
    """``part``, ``labour``, ``fee``, ``sublet`` or ``discount``."""
    description: str
    part_number: str
    condition: str
    """``new``, ``used`` or ``rebuilt`` for a part, else empty."""
    quantity: Decimal
    unit_price: Decimal
    net: Decimal
    taxed: bool
    why: str
    """The reason in words: ``failed``, ``worn``, ``came with the kit`` …"""
    evidence: str
    """The finding it rests on, or a plain statement that none supports it."""
    cost: Decimal | None = None
    """What one cost us, if that is known: for our own sums, never printed."""
    of_row: int = 0
    """On a credit note: which row of the invoice, from 1, it takes back; 0 for none."""
    value: Decimal | None = None
    """What one would cost, on a row without charge."""
    off: Decimal = ZERO
    """What comes off this row, as prices are written: ``net`` is after it."""
    percent: Decimal | None = None
    """Of what comes off, or of a discount on the whole bill."""
    rate: str = ""
    """Name of the labour rate; empty for the bench rate."""
    rates: tuple[TaxRate, ...] = ()
    """What taxes the row, as in ``TaxLine.rates``; none for a discount on the whole bill, which is
    taxed as what it is taken off.
    """
    before_tax: Decimal | None = None
    """``net`` without its tax: less than it where prices are written with their tax.

    ``None`` on what was issued before that could be.
    """
    warranty_days: int | None = None
    """Of a part that has its own."""

    @property
    def net_before_tax(self) -> Decimal:
        """What the row comes to before tax, however prices are written."""
        return self.net if self.before_tax is None else self.before_tax


@dataclass(frozen=True, slots=True)
class ApprovalRow:
    """Who said yes (or no), how, when and up to how much."""

    who: str
    how: str
    when: str
    amount: Decimal
    yes: bool
    option: str = ""
    """The way out that was chosen, or empty."""


@dataclass(frozen=True, slots=True)
class PaymentRow:
    """One payment, deposit or refund (negative)."""

    on: date
    method: str
    amount: Decimal
    deposit: bool


@dataclass(frozen=True, slots=True)
class WayOutColumn:
    """One way out as it stands beside the others. Money is with tax."""

    title: str
    words: str
    price_now: Decimal
    expected: Decimal
    worst: Decimal
    chance: str
    hours: Decimal
    ready: date | None
    """``None`` where nothing is mended here."""
    life_hours: Decimal | None
    per_hour: Decimal | None
    typical: bool
    """Whether the price rests on typical ones."""
    itemised: bool
    """Whether the lines on the estimate are those of this way."""
    mends: bool
    suggested: bool
    """Whether it is the one that the shop would take."""


@dataclass(frozen=True, slots=True)
class WaysOut:
    """The ways out side by side, which one the shop would take, and what the figures rest on."""

    columns: tuple[WayOutColumn, ...]
    left_out: tuple[tuple[str, str], ...]
    """The title of each way that makes no sense here, and why."""
    suggestion: str
    guide: tuple[str, ...]

    @property
    def itemised(self) -> str:
        """The title of the way whose lines are on the estimate, or empty."""
        return next((way.title for way in self.columns if way.itemised), "")


@dataclass(frozen=True, slots=True)
class EstimateContent:
    """A written estimate for the owner to approve."""

    shop: Letterhead
    number: str
    ticket: str
    on: date
    owner: Addressee
    machine: MachineOnPaper
    complaint: str
    found: tuple[str, ...]
    """What the bench found, one sentence each."""
    rows: tuple[ChargeRow, ...]
    totals: Totals
    most_allowed: Decimal
    """The most the invoice may come to without a new yes, by the shop's rule."""
    if_declined: Decimal
    """What is owed if the owner declines: the diagnosis fee with its tax."""
    valid_until: date
    ready_by: date | None
    old_parts_back: bool
    ways_out: WaysOut | None = None
    """The ways out side by side; none on an estimate that offers no choice."""
    tax_exempt_number: str = ""
    storage_per_day: Decimal = ZERO
    """Asked for each day that the machine stands ready past ``storage_after_days``; 0 for none."""
    storage_after_days: int = 0


@dataclass(frozen=True, slots=True)
class InvoiceContent:
    """An invoice, or the credit note that puts one right. Kept as issued, never changed."""

    shop: Letterhead
    number: str
    credits: str
    """Number of the invoice that this credit note takes back; empty on an invoice."""
    ticket: str
    on: date
    owner: Addressee
    machine: MachineOnPaper
    complaint: str
    returned_as_is: bool
    rows: tuple[ChargeRow, ...]
    totals: Totals
    approvals: tuple[ApprovalRow, ...]
    approved: Decimal
    payments: tuple[PaymentRow, ...]
    """Deposits and payments taken before issue."""
    warranty_days: int
    old_parts_back: bool
    tax_exempt_number: str
    reason: str
    """Why it was credited; empty on an invoice."""
    currency_code: str = "USD"
    """ISO 4217."""
    country: str = "US"
    """ISO 3166-1 alpha-2; of the shop, and of the owner as far as is known."""
    e_invoice: bool = False
    """Whether the file carries it as an EN 16931 XML too."""
    credits_on: date | None = None
    """The day of the invoice that is taken back."""
    credits_how: str = ""
    """On a credit note ``part`` of a standing invoice, the ``rest`` of one; empty for the whole."""
    part_warranty_days: int | None = None
    """On the parts, where it is not ``warranty_days``."""
    storage_per_day: Decimal = ZERO
    """Asked for each day that the machine stands ready past ``storage_after_days``; 0 for none."""
    storage_after_days: int = 0


@dataclass(frozen=True, slots=True)
class FoundRow:
    """One thing looked at: before, and again after the repair when it was."""

    title: str
    before: str
    after: str
    limit: str
    source: str
    verdict: str
    """Of the first reading: ``pass``, ``marginal``, ``fail`` or ``noted``."""
    verdict_after: str
    clears: str
    """The system that the first reading finds in order as a whole, such as ``spark``, or empty."""
    rules_out: str
    """What the first reading establishes, in a plain sentence, or empty."""
    note: str


@dataclass(frozen=True, slots=True)
class DoneRow:
    """One thing done, and why."""

    what: str
    why: str
    evidence: str
    had_failed: bool
    credited: str = ""
    """Why it was credited, and how many if not all; empty where it was not."""


@dataclass(frozen=True, slots=True)
class CreditRow:
    """What a credit note allowed on an invoice, with its tax and above zero."""

    amount: Decimal
    why: str


@dataclass(frozen=True, slots=True)
class UpkeepRow:
    """One thing to do next."""

    title: str
    words: str
    on: date
    because: str
    owner_can: bool
    key: str = ""
    """Of the upkeep task."""
    yearly: bool = False
    """Whether it comes with the season, every year."""

    @property
    def in_short(self) -> str:
        """The title without what explains it: ``Start the season with fresh fuel``."""
        return self.title.split(";")[0].split(":")[0].strip()


@dataclass(frozen=True, slots=True)
class PhotoOnPaper:
    """A photo with its caption."""

    file: Path
    caption: str


@dataclass(frozen=True, slots=True)
class SummaryContent:
    """Work performed and why, for an owner who is no mechanic."""

    shop: Letterhead
    ticket: str
    on: date
    owner: Addressee
    machine: MachineOnPaper
    complaint: str
    onset: str
    confirmed: str
    """Whether the shop saw the same trouble, in words."""
    returned_as_is: bool
    found: tuple[FoundRow, ...]
    done: tuple[DoneRow, ...]
    not_done: tuple[DoneRow, ...]
    """What was offered and declined."""
    settings: tuple[FoundRow, ...]
    proof: tuple[FoundRow, ...]
    total: Decimal
    """With tax; once invoiced, less what was credited."""
    owed: Decimal | None
    """What the owner still owes; ``None`` before the invoice."""
    next_steps: tuple[UpkeepRow, ...]
    cautions: tuple[str, ...]
    photos: tuple[PhotoOnPaper, ...]
    cause: str = ""
    """What it turned out to be, or empty."""
    credits: tuple[CreditRow, ...] = ()
    """What was credited on the invoice."""


@dataclass(frozen=True, slots=True)
class ReminderContent:
    """A letter that says what upkeep falls due, when and why."""

    shop: Letterhead
    owner: Addressee
    machine: MachineOnPaper
    on: date
    due: date
    last_visit: date | None
    tasks: tuple[UpkeepRow, ...]
    cautions: tuple[str, ...]
    each_use: tuple[str, ...] = ()
    """What to look at every time it is used."""


@dataclass(frozen=True, slots=True)
class CollectContent:
    """A letter that asks an owner to fetch a machine that stands ready."""

    shop: Letterhead
    owner: Addressee
    machine: MachineOnPaper
    ticket: str
    on: date
    step: int
    """1 is the first letter, 2 the second, 3 the last."""
    ready_since: date
    owed: Decimal
    """With tax, for the work; storage apart."""
    storage: Decimal
    """By now, as prices are written."""
    storage_words: str
    storage_per_day: Decimal
    """0 where the shop charges none."""
    storage_from: date
    fetch_by: date
    storage_tax: Decimal = ZERO
    """On top of ``storage``; 0 where no tax is added to it."""
    storage_settled: Decimal = ZERO
    """What was paid of the storage already, with its tax."""


@dataclass(frozen=True, slots=True)
class CautionRow:
    """A caution, and the rule or practice that backs it."""

    words: str
    backing: str


@dataclass(frozen=True, slots=True)
class BenchCheckRow:
    """A check to do at the bench, with room for its result."""

    title: str
    how: str
    tools: tuple[str, ...]
    minutes: Decimal
    limit: str
    """In words, or what should be seen; empty where none is known."""
    correction: str
    """Why the limit is not the one in the book, such as the shop's altitude, or empty."""
    cautions: tuple[CautionRow, ...]


@dataclass(frozen=True, slots=True)
class TeardownRow:
    """One thing that came off."""

    number: int
    off: str
    sub_assembly: str
    after: str
    """Numbers of the steps it comes after where that was said, else empty."""
    fasteners: tuple[str, ...]
    mark: str
    routing: str
    cautions: tuple[CautionRow, ...]
    photos: tuple[PhotoOnPaper, ...]


@dataclass(frozen=True, slots=True)
class ReassemblyRow:
    """One thing to put back, with a box to tick and room to write the count and the setting."""

    number: int
    """Of the step in the teardown."""
    words: str
    care: tuple[str, ...]
    cautions: tuple[CautionRow, ...]
    fasteners: tuple[str, ...]
    setting: str
    limit: str
    ticked: bool
    entered: str
    """The setting that was entered with its verdict, or empty."""
    explained: str


@dataclass(frozen=True, slots=True)
class BenchSheetContent:
    """What lies beside the machine on the bench: checks to do, what came off, the way back."""

    shop: Letterhead
    ticket: str
    on: date
    owner: str
    machine: MachineOnPaper
    complaint: str
    standing: CautionRow
    """The caution that comes before all others."""
    checks: tuple[BenchCheckRow, ...]
    proving: bool
    """Whether the checks are the proof run, which comes once all is back together."""
    teardown: tuple[TeardownRow, ...]
    reassembly: tuple[ReassemblyRow, ...]


@dataclass(frozen=True, slots=True)
class ReorderPaperRow:
    """A part that runs low: packs to order from a supplier; none where nobody offers it."""

    number: str
    name: str
    bin: str
    free: Decimal
    on_order: Decimal
    packs: Decimal
    pack: Decimal
    supplier: str
    supplier_number: str
    cost: Decimal | None


@dataclass(frozen=True, slots=True)
class ReorderContent:
    """What runs low on a day, sorted by supplier."""

    shop: Letterhead
    on: date
    rows: tuple[ReorderPaperRow, ...]


@dataclass(frozen=True, slots=True)
class PartsOrderRow:
    """Packs of a part on an order to a supplier; ``packs`` without those cancelled."""

    number: str
    """Ours."""
    supplier_number: str
    name: str
    condition: str
    packs: Decimal
    pack: Decimal
    cost: Decimal
    total: Decimal
    tickets: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartsOrderContent:
    """An order to a supplier."""

    shop: Letterhead
    number: str
    on: date
    placed: bool
    supplier: str
    phone: str
    email: str
    account: str
    """Our number with the supplier."""
    rows: tuple[PartsOrderRow, ...]
    goods: Decimal
    postage: Decimal
    note: str


@dataclass(frozen=True, slots=True)
class WaysOutContent:
    """The ways out on a sheet of their own, before the lines of one are on the ticket."""

    shop: Letterhead
    ticket: str
    on: date
    owner: Addressee
    machine: MachineOnPaper
    complaint: str
    found: tuple[str, ...]
    ways_out: WaysOut
    valid_until: date

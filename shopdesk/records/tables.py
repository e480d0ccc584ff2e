"""The tables: customers, units, tickets and all that hangs on them.

Shapes only. What may be done with a row, and when, is the job's business; every change of a fact
goes through ``records.journal`` so that it is kept who changed what.
"""

from decimal import Decimal

from peewee import (
    AutoField,
    BlobField,
    BooleanField,
    DatabaseProxy,
    DateField,
    ForeignKeyField,
    IntegerField,
    Model,
    TextField,
)

from shopdesk.records.fields import MoneyField, QuantityField, UtcField

database = DatabaseProxy()


class Row(Model):
    """A row that is journalled; ``version`` grows with each change and catches lost updates."""

    id = AutoField()
    version = IntegerField(default=1)

    class Meta:
        database = database
        legacy_table_names = False


class Setting(Row):
    """One group of the shop's settings, as JSON."""

    name = TextField(unique=True)
    content = TextField()


class Counter(Row):
    """The last number given out in a series (tickets, invoices …)."""

    name = TextField(unique=True)
    last = IntegerField(default=0)


class Customer(Row):
    """Someone who owns, or brings, a machine."""

    name = TextField(index=True)
    folded_name = TextField(index=True)
    email = TextField(default="")
    address = TextField(default="")
    notes = TextField(default="")
    tax_exempt_number = TextField(default="")
    may_remind = BooleanField(default=True)
    preferred_way = TextField(default="")
    moved_away = BooleanField(default=False)
    created_at = UtcField()


class Phone(Row):
    """One of a customer's phones; ``digits`` is for finding."""

    customer_id: int
    customer = ForeignKeyField(Customer, on_delete="CASCADE")
    label = TextField(default="")
    number = TextField()
    digits = TextField(index=True)
    position = IntegerField(default=0)


class Unit(Row):
    """A machine. Who owns it stands in ``Ownership``; ``model_key`` is for finding its model.

    ``price_new`` is what one like it costs; ``gone_on`` and ``gone_how`` say that it is no more.
    """

    kind = TextField(index=True)
    engine = TextField()
    make = TextField(default="")
    model = TextField(default="")
    model_key = TextField(default="", index=True)
    serial = TextField(default="")
    folded_serial = TextField(default="", index=True)
    notes = TextField(default="")
    bought_on = DateField(null=True)
    hours_per_week = QuantityField(null=True)
    first_month = IntegerField(null=True)
    last_month = IntegerField(null=True)
    severe_use = BooleanField(default=False)
    meter_hours = QuantityField(null=True)
    price_new = MoneyField(null=True)
    gone_on = DateField(null=True)
    gone_how = TextField(default="")
    created_at = UtcField()


class Ownership(Row):
    """Whose the unit was, from when until when; the open one has no ``until``."""

    unit_id: int
    unit = ForeignKeyField(Unit, on_delete="CASCADE")
    customer_id: int
    customer = ForeignKeyField(Customer, on_delete="RESTRICT")
    since = DateField()
    until = DateField(null=True)


class Ticket(Row):
    """One visit of one machine, from the counter to the door.

    ``diagnosis_fee`` is the one said at intake; older tickets have none. ``became`` is what became
    of a machine that was never fetched.
    """

    number = IntegerField(unique=True)
    unit_id: int
    unit = ForeignKeyField(Unit, on_delete="RESTRICT")
    customer_id: int
    customer = ForeignKeyField(Customer, on_delete="RESTRICT")
    stage = TextField(index=True)
    outcome = TextField(default="")
    complaint = TextField()
    complaint_kind = TextField(default="")
    onset = TextField(default="")
    fuel = TextField(default="")
    accessories = TextField(default="")
    condition = TextField(default="")
    notes = TextField(default="")
    promised_on = DateField(null=True)
    limit_amount = MoneyField(null=True)
    diagnosis_fee = MoneyField(null=True)
    old_parts_back = BooleanField(default=False)
    confirmed = TextField(default="")
    confirmed_note = TextField(default="")
    cause = TextField(default="")
    cause_words = TextField(default="")
    proof_reason = TextField(default="")
    told_ready_at = UtcField(null=True)
    balance_reason = TextField(default="")
    became = TextField(default="")
    comeback_of_id: int | None
    comeback_of = ForeignKeyField("self", null=True, on_delete="SET NULL")
    taken_in_at = UtcField(index=True)
    closed_at = UtcField(null=True)


class Finding(Row):
    """A reading or look-see with its verdict; ``phase``: diagnosis, a setting left, or proof."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    phase = TextField()
    check_key = TextField(default="")
    title = TextField()
    system = TextField(default="")
    typed = TextField()
    number = TextField(default="")
    typed_unit = TextField(default="")
    si_value = TextField(default="")
    si_unit = TextField(default="")
    shown = TextField()
    verdict = TextField()
    outcome = TextField(default="")
    limit_words = TextField(default="")
    correction = TextField(default="")
    source = TextField(default="")
    rules_out = TextField(default="")
    points_to = TextField(default="")
    says = TextField(default="")
    note = TextField(default="")
    found_by = TextField(default="")
    found_at = UtcField()


class Supplier(Row):
    """Who sells us parts, and on what terms; ``lead_days`` from order to door."""

    name = TextField(unique=True)
    phone = TextField(default="")
    email = TextField(default="")
    account = TextField(default="")
    notes = TextField(default="")
    postage = MoneyField(default=Decimal(0))
    free_postage_from = MoneyField(null=True)
    least_order = MoneyField(null=True)
    lead_days = IntegerField(default=0)
    active = BooleanField(default=True)


class Part(Row):
    """A part of the catalogue: ``quantity`` lies in the bin; an empty ``price`` is reckoned."""

    number = TextField()
    folded_number = TextField(index=True)
    name = TextField()
    folded_name = TextField(index=True)
    condition = TextField(default="new")
    price = MoneyField(null=True)
    bin = TextField(default="")
    quantity = QuantityField(default=Decimal(0))
    reorder_at = QuantityField(null=True)
    reorder_to = QuantityField(null=True)
    warranty_days = IntegerField(null=True)
    notes = TextField(default="")
    active = BooleanField(default=True)


class KitPart(Row):
    """What a kit holds: so many of a part."""

    kit_id: int
    kit = ForeignKeyField(Part, on_delete="CASCADE")
    part_id: int
    part = ForeignKeyField(Part, on_delete="RESTRICT")
    quantity = QuantityField(default=Decimal(1))


class PartFit(Row):
    """What a part is for: a model (or all of a kind), and the cause it cures or the upkeep it does.

    ``cause`` and ``task`` are keys; either may be empty. ``quantity`` is how many it takes,
    ``model`` the make and model as typed.
    """

    part_id: int
    part = ForeignKeyField(Part, on_delete="CASCADE")
    kind = TextField(default="")
    model = TextField(default="")
    model_key = TextField(default="", index=True)
    cause = TextField(default="")
    task = TextField(default="")
    quantity = QuantityField(default=Decimal(1))


class Offer(Row):
    """What a supplier asks for one pack of a part; ``lead_days`` if other than the supplier's."""

    supplier_id: int
    supplier = ForeignKeyField(Supplier, on_delete="CASCADE")
    part_id: int
    part = ForeignKeyField(Part, on_delete="CASCADE")
    supplier_number = TextField(default="")
    folded_number = TextField(default="", index=True)
    pack = QuantityField(default=Decimal(1))
    cost = MoneyField()
    lead_days = IntegerField(null=True)
    asked_at = UtcField()


class PartOrder(Row):
    """An order to a supplier; what became of it stands in its lines."""

    number = TextField(unique=True)
    supplier_id: int
    supplier = ForeignKeyField(Supplier, on_delete="RESTRICT")
    postage = MoneyField(default=Decimal(0))
    note = TextField(default="")
    ordered_by = TextField(default="")
    ordered_at = UtcField(null=True)
    cancelled_at = UtcField(null=True)


class OrderLine(Row):
    """Packs of a part on an order: of ``packs``, so many came and so many were cancelled.

    ``cost`` is for one pack; ``back_ordered`` says that the supplier owes it.
    """

    order_id: int
    order = ForeignKeyField(PartOrder, on_delete="CASCADE")
    part_id: int
    part = ForeignKeyField(Part, on_delete="RESTRICT")
    supplier_number = TextField(default="")
    pack = QuantityField(default=Decimal(1))
    packs = QuantityField()
    received = QuantityField(default=Decimal(0))
    cancelled = QuantityField(default=Decimal(0))
    cost = MoneyField()
    expected_on = DateField(null=True)
    back_ordered = BooleanField(default=False)


class Line(Row):
    """A charge on the ticket: part, labour, fee, sublet or discount, with its reason.

    ``reckoned`` names what works out its price (``percent`` of what), ``rate`` the labour rate,
    ``off`` what comes off this line, ``value`` what a line without charge is worth, ``order_line``
    the order that brings the part.
    """

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    position = IntegerField(default=0)
    kind = TextField()
    description = TextField()
    part_number = TextField(default="")
    condition = TextField(default="")
    quantity = QuantityField()
    unit_price = MoneyField()
    cost = MoneyField(null=True)
    off = MoneyField(null=True)
    value = MoneyField(null=True)
    rate = TextField(default="")
    reckoned = TextField(default="")
    percent = QuantityField(null=True)
    part_id: int | None
    part = ForeignKeyField(Part, null=True, on_delete="SET NULL")
    order_line_id: int | None
    order_line = ForeignKeyField(OrderLine, null=True, on_delete="SET NULL")
    reason = TextField()
    reason_note = TextField(default="")
    finding_id: int | None
    finding = ForeignKeyField(Finding, null=True, on_delete="SET NULL")
    renews = TextField(default="")
    supply = TextField(default="")
    expected_on = DateField(null=True)
    decision = TextField(default="")
    done_at = UtcField(null=True)
    done_by = TextField(default="")


class StockMove(Row):
    """Parts that came into the bin (positive) or left it, and why; ``cost`` is for one."""

    part_id: int
    part = ForeignKeyField(Part, on_delete="RESTRICT")
    quantity = QuantityField()
    why = TextField()
    cost = MoneyField(null=True)
    line_id: int | None
    line = ForeignKeyField(Line, null=True, on_delete="SET NULL")
    order_line_id: int | None
    order_line = ForeignKeyField(OrderLine, null=True, on_delete="SET NULL")
    note = TextField(default="")
    moved_by = TextField(default="")
    moved_at = UtcField(index=True)


class WorkSpell(Row):
    """Time at the bench on a ticket: by the clock, or ``minutes`` written by hand.

    ``work`` is what for: diagnosis or repair. The spell that runs has no ``stopped_at``.
    """

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    line_id: int | None
    line = ForeignKeyField(Line, null=True, on_delete="SET NULL")
    person = TextField(default="")
    work = TextField()
    rate = TextField(default="")
    note = TextField(default="")
    started_at = UtcField(index=True)
    stopped_at = UtcField(null=True)
    minutes = QuantityField(null=True)


class FlatTime(Row):
    """A job with a set time: for a kind of machine (all if empty), at a rate (the first if empty).

    ``cause`` is the key of the cause that it puts right, if one.
    """

    name = TextField()
    kind = TextField(default="")
    cause = TextField(default="")
    hours = QuantityField()
    rate = TextField(default="")


class OwnOption(Row):
    """A way out that the mechanic adds to those worked out; ``cures`` is a JSON list of causes.

    ``price`` is before tax.
    """

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    title = TextField()
    words = TextField(default="")
    price = MoneyField()
    hours = QuantityField(default=Decimal(0))
    cures = TextField(default="[]")
    lead_days = IntegerField(default=0)
    life_hours = QuantityField(null=True)


class Estimate(Row):
    """A written estimate as it was given: its content never changes."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    number = TextField(unique=True)
    total = MoneyField()
    content = TextField()
    made_at = UtcField()


class Approval(Row):
    """Who said yes or no, how, when, and up to how much."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    estimate_id: int | None
    estimate = ForeignKeyField(Estimate, null=True, on_delete="SET NULL")
    yes = BooleanField()
    option = TextField(default="")
    amount = MoneyField()
    who = TextField()
    how = TextField()
    phone = TextField(default="")
    note = TextField(default="")
    noted_by = TextField(default="")
    said_at = UtcField()


class Invoice(Row):
    """An issued invoice or credit note: what was printed, kept as it was.

    ``hash`` is taken over what it says and over ``previous_hash``, that of the one issued before.
    """

    number = TextField(unique=True)
    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
    credits_id: int | None
    credits = ForeignKeyField("self", null=True, on_delete="RESTRICT")
    net = MoneyField()
    tax = MoneyField()
    total = MoneyField()
    content = TextField()
    issued_at = UtcField()
    issued_by = TextField(default="")
    previous_hash = TextField(default="")
    hash = TextField(default="")


class InvoicePrint(Row):
    """The file that was printed of an invoice; its bytes are the ``StoredFile`` of that sum.

    ``missing`` are the characters that stand on it as codes, one after the other.
    """

    invoice_id: int
    invoice = ForeignKeyField(Invoice, on_delete="RESTRICT", unique=True)
    sha256 = TextField()
    pages = IntegerField(default=1)
    missing = TextField(default="")
    made_at = UtcField()


class StoredFile(Model):
    """A file's bytes, compressed with zlib, found by the SHA-256 of what it held. Never changed."""

    id = AutoField()
    sha256 = TextField(unique=True)
    content = BlobField()

    class Meta:
        database = database
        table_name = "stored_file"


class Payment(Row):
    """Money taken (positive) or given back (negative)."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
    amount = MoneyField()
    method = TextField()
    note = TextField(default="")
    taken_by = TextField(default="")
    taken_at = UtcField()


class WriteOff(Row):
    """What is given up of a debt (positive), or owed again after all (negative). No money moves."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
    amount = MoneyField()
    why = TextField()
    written_by = TextField(default="")
    written_at = UtcField()


class TillCount(Row):
    """The cash counted at the end of a day: what the till began with, held, and what was taken out.

    ``opening`` is what lay in it before the day's first payment; the rest stays for the next day.
    """

    day = DateField(unique=True)
    opening = MoneyField()
    counted = MoneyField()
    taken_out = MoneyField(default=Decimal(0))
    note = TextField(default="")
    counted_by = TextField(default="")
    counted_at = UtcField()


class Message(Row):
    """A letter, e-mail or call to a customer: upkeep that is due, or a machine to be fetched.

    ``about`` is upkeep or not fetched, ``step`` the letter's place in its series, ``content`` what
    it said.
    """

    customer_id: int
    customer = ForeignKeyField(Customer, on_delete="CASCADE")
    ticket_id: int | None
    ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
    about = TextField()
    step = IntegerField(default=0)
    way = TextField()
    state = TextField(index=True)
    content = TextField(default="")
    note = TextField(default="")
    booked_on = DateField(null=True)
    made_by = TextField(default="")
    made_at = UtcField()
    sent_at = UtcField(null=True)
    answered_at = UtcField(null=True)


class Reminder(Row):
    """Upkeep that falls due for a unit, what became of it, and the message that it went out in."""

    unit_id: int
    unit = ForeignKeyField(Unit, on_delete="CASCADE")
    customer_id: int
    customer = ForeignKeyField(Customer, on_delete="CASCADE")
    ticket_id: int | None
    ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
    due_on = DateField(index=True)
    tasks = TextField()
    state = TextField(default="open")
    message_id: int | None
    message = ForeignKeyField(Message, null=True, on_delete="SET NULL")
    made_at = UtcField()


class UpkeepDone(Row):
    """Upkeep that somebody says was done, by the owner or elsewhere; ``task`` is its key."""

    unit_id: int
    unit = ForeignKeyField(Unit, on_delete="CASCADE")
    task = TextField()
    done_on = DateField()
    meter_hours = QuantityField(null=True)
    done_by = TextField(default="")
    note = TextField(default="")


class OwnInterval(Row):
    """The shop's own interval of an upkeep task: of a unit, or else of the model of ``model_key``.

    With neither hours nor months the task is not due on it at all.
    """

    unit_id: int | None
    unit = ForeignKeyField(Unit, null=True, on_delete="CASCADE")
    model_key = TextField(default="", index=True)
    task = TextField()
    hours = QuantityField(null=True)
    months = IntegerField(null=True)
    named_by = TextField(default="")


class MeterReading(Row):
    """What a unit's hour meter read on a day."""

    unit_id: int
    unit = ForeignKeyField(Unit, on_delete="CASCADE")
    read_on = DateField()
    hours = QuantityField()


class TeardownStep(Row):
    """What came off the machine, and what became of it on the way back.

    ``after``, ``fasteners``, ``cautions``, ``setting`` and ``back`` are JSON; an empty ``after`` is
    the step before it, an empty ``setting`` none. ``finding`` is the setting that was entered.
    """

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    position = IntegerField(default=0)
    off = TextField()
    sub_assembly = TextField(default="")
    after = TextField(default="")
    fasteners = TextField(default="[]")
    mark = TextField(default="")
    routing = TextField(default="")
    cautions = TextField(default="[]")
    setting = TextField(default="")
    noted_by = TextField(default="")
    noted_at = UtcField()
    done_at = UtcField(null=True)
    done_by = TextField(default="")
    back = TextField(default="[]")
    finding_id: int | None
    finding = ForeignKeyField(Finding, null=True, on_delete="SET NULL")
    explained = TextField(default="")


class Photo(Row):
    """A photo kept beside the records; ``file`` is its name in the photo folder."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    finding_id: int | None
    finding = ForeignKeyField(Finding, null=True, on_delete="SET NULL")
    step_id: int | None
    step = ForeignKeyField(TeardownStep, null=True, on_delete="SET NULL")
    file = TextField(unique=True)
    caption = TextField(default="")
    width = IntegerField()
    height = IntegerField()
    sha256 = TextField()
    added_at = UtcField()


class OwnLimit(Row):
    """A limit of the shop's own for one check: of a unit, or else of the model of ``model_key``."""

    unit_id: int | None
    unit = ForeignKeyField(Unit, null=True, on_delete="CASCADE")
    model_key = TextField(default="", index=True)
    check_key = TextField()
    typed = TextField()
    named_by = TextField(default="")
    measured_here = BooleanField(default=False)
    written_by = TextField(default="")
    written_at = UtcField()


class ModelNote(Row):
    """One entry on the shop's own card for a model."""

    model_key = TextField(index=True)
    kind = TextField()
    title = TextField(default="")
    words = TextField()
    part_number = TextField(default="")
    ticket_id: int | None
    ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
    written_by = TextField(default="")
    written_at = UtcField()


class OverruledCause(Row):
    """A cause that the mechanic says it is not, and why."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
    cause = TextField()
    why = TextField()
    said_by = TextField(default="")
    said_at = UtcField()


class ImportRun(Row):
    """A list of owners and machines that was brought in, in one go.

    Which rows it made or changed the journal tells, from ``first_entry`` to ``last_entry``.
    """

    files = TextField()
    owners = IntegerField(default=0)
    machines = IntegerField(default=0)
    added_to = IntegerField(default=0)
    first_entry = IntegerField()
    last_entry = IntegerField()
    done_by = TextField(default="")
    done_at = UtcField()
    taken_back_at = UtcField(null=True)


class Merge(Row):
    """Two owners, or two machines, that were one: the one that stays, and what the other was.

    ``gone_id`` was the other's id, ``content`` is JSON: what moved, and how it stood before.
    """

    customer_id: int | None
    customer = ForeignKeyField(Customer, null=True, on_delete="RESTRICT")
    unit_id: int | None
    unit = ForeignKeyField(Unit, null=True, on_delete="RESTRICT")
    gone_id = IntegerField()
    called = TextField()
    content = TextField()
    merged_by = TextField(default="")
    merged_at = UtcField()


class Draft(Model):
    """What stands typed on a page and is not saved yet: no fact, so it is not journalled.

    ``about`` is the id of what the page is about, 0 for none; ``content`` is JSON.
    """

    id = AutoField()
    page = TextField()
    about = IntegerField()
    called = TextField()
    content = TextField()
    typed_at = UtcField()

    class Meta:
        database = database
        table_name = "draft"
        indexes = ((("page", "about"), True),)


class JournalEntry(Model):
    """One change of one row: who, when, what it was and what it is. Never changed itself."""

    id = AutoField()
    at = UtcField(index=True)
    who = TextField()
    action = TextField()
    table = TextField()
    row_id = IntegerField()
    ticket_id = IntegerField(null=True, index=True)
    before = TextField()
    after = TextField()
    why = TextField(default="")

    class Meta:
        database = database
        table_name = "journal_entry"
        indexes = ((("table", "row_id"), False),)


TABLES: tuple[type[Model], ...] = (
    Setting,
    Counter,
    Customer,
    Phone,
    Unit,
    Ownership,
    Ticket,
    Finding,
    Supplier,
    Part,
    KitPart,
    PartFit,
    Offer,
    PartOrder,
    OrderLine,
    Line,
    StockMove,
    WorkSpell,
    FlatTime,
    OwnOption,
    Estimate,
    Approval,
    Invoice,
    InvoicePrint,
    StoredFile,
    Payment,
    WriteOff,
    TillCount,
    Message,
    Reminder,
    UpkeepDone,
    OwnInterval,
    MeterReading,
    TeardownStep,
    Photo,
    OwnLimit,
    ModelNote,
    OverruledCause,
    ImportRun,
    Merge,
    Draft,
    JournalEntry,
)

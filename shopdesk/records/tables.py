"""The tables: customers, units, tickets and all that hangs on them.

Shapes only. What may be done with a row, and when, is the job's business; every change of a fact
goes through ``records.journal`` so that it is kept who changed what.
"""

from peewee import (
    AutoField,
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
    """A machine. Who owns it stands in ``Ownership``; ``model_key`` is for finding its model."""

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

    ``diagnosis_fee`` is the one said at intake; older tickets have none.
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


class Line(Row):
    """A charge on the ticket: part, labour, fee, sublet or discount, with its reason."""

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
    amount = MoneyField()
    who = TextField()
    how = TextField()
    phone = TextField(default="")
    note = TextField(default="")
    noted_by = TextField(default="")
    said_at = UtcField()


class Invoice(Row):
    """An issued invoice or credit note: what was printed, kept as it was."""

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


class Payment(Row):
    """Money taken (positive) or given back (negative)."""

    ticket_id: int
    ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
    amount = MoneyField()
    method = TextField()
    note = TextField(default="")
    taken_by = TextField(default="")
    taken_at = UtcField()


class Reminder(Row):
    """Upkeep that falls due for a unit, and what became of it."""

    unit_id: int
    unit = ForeignKeyField(Unit, on_delete="CASCADE")
    customer_id: int
    customer = ForeignKeyField(Customer, on_delete="CASCADE")
    ticket_id: int | None
    ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
    due_on = DateField(index=True)
    tasks = TextField()
    state = TextField(default="open")
    made_at = UtcField()


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
    Line,
    Estimate,
    Approval,
    Invoice,
    Payment,
    Reminder,
    TeardownStep,
    Photo,
    OwnLimit,
    ModelNote,
    OverruledCause,
    Draft,
    JournalEntry,
)

"""The first tables: customers, units, tickets and all that hangs on them, with the journal."""

from peewee import (
    BigIntegerField,
    BooleanField,
    Database,
    DateField,
    DateTimeField,
    ForeignKeyField,
    IntegerField,
    Model,
    TextField,
)
from playhouse.migrate import SchemaMigrator


def up(migrator: SchemaMigrator, db: Database) -> None:
    """Create the tables."""

    class Unit(Model):
        version = IntegerField(default=1)
        kind = TextField(index=True)
        engine = TextField()
        make = TextField(default="")
        model = TextField(default="")
        serial = TextField(default="")
        folded_serial = TextField(index=True, default="")
        notes = TextField(default="")
        bought_on = DateField(null=True)
        hours_per_week = BigIntegerField(null=True)
        first_month = IntegerField(null=True)
        last_month = IntegerField(null=True)
        severe_use = BooleanField(default=False)
        meter_hours = BigIntegerField(null=True)
        created_at = DateTimeField()

        class Meta:
            database = db
            table_name = "unit"

    db.create_tables([Unit])

    class Customer(Model):
        version = IntegerField(default=1)
        name = TextField(index=True)
        folded_name = TextField(index=True)
        email = TextField(default="")
        address = TextField(default="")
        notes = TextField(default="")
        tax_exempt_number = TextField(default="")
        may_remind = BooleanField(default=True)
        created_at = DateTimeField()

        class Meta:
            database = db
            table_name = "customer"

    db.create_tables([Customer])

    class Ticket(Model):
        version = IntegerField(default=1)
        number = IntegerField(unique=True)
        unit = ForeignKeyField(Unit, on_delete="RESTRICT")
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
        limit_amount = BigIntegerField(null=True)
        old_parts_back = BooleanField(default=False)
        confirmed = TextField(default="")
        confirmed_note = TextField(default="")
        proof_reason = TextField(default="")
        told_ready_at = DateTimeField(null=True)
        balance_reason = TextField(default="")
        comeback_of = ForeignKeyField("self", null=True, on_delete="SET NULL")
        taken_in_at = DateTimeField(index=True)
        closed_at = DateTimeField(null=True)

        class Meta:
            database = db
            table_name = "ticket"

    db.create_tables([Ticket])

    class Estimate(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        number = TextField(unique=True)
        total = BigIntegerField()
        content = TextField()
        made_at = DateTimeField()

        class Meta:
            database = db
            table_name = "estimate"

    db.create_tables([Estimate])

    class Approval(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        estimate = ForeignKeyField(Estimate, null=True, on_delete="SET NULL")
        yes = BooleanField()
        amount = BigIntegerField()
        who = TextField()
        how = TextField()
        phone = TextField(default="")
        note = TextField(default="")
        noted_by = TextField(default="")
        said_at = DateTimeField()

        class Meta:
            database = db
            table_name = "approval"

    db.create_tables([Approval])

    class Counter(Model):
        version = IntegerField(default=1)
        name = TextField(unique=True)
        last = IntegerField(default=0)

        class Meta:
            database = db
            table_name = "counter"

    db.create_tables([Counter])

    class Finding(Model):
        version = IntegerField(default=1)
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
        found_at = DateTimeField()

        class Meta:
            database = db
            table_name = "finding"

    db.create_tables([Finding])

    class Invoice(Model):
        version = IntegerField(default=1)
        number = TextField(unique=True)
        ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
        credits = ForeignKeyField("self", null=True, on_delete="RESTRICT")
        net = BigIntegerField()
        tax = BigIntegerField()
        total = BigIntegerField()
        content = TextField()
        issued_at = DateTimeField()
        issued_by = TextField(default="")

        class Meta:
            database = db
            table_name = "invoice"

    db.create_tables([Invoice])

    class JournalEntry(Model):
        at = DateTimeField(index=True)
        who = TextField()
        action = TextField()
        table = TextField()
        row_id = IntegerField()
        ticket_id = IntegerField(index=True, null=True)
        before = TextField()
        after = TextField()
        why = TextField(default="")

        class Meta:
            database = db
            table_name = "journal_entry"
            indexes = ((("table", "row_id"), False),)

    db.create_tables([JournalEntry])

    class Line(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        position = IntegerField(default=0)
        kind = TextField()
        description = TextField()
        part_number = TextField(default="")
        condition = TextField(default="")
        quantity = BigIntegerField()
        unit_price = BigIntegerField()
        cost = BigIntegerField(null=True)
        reason = TextField()
        reason_note = TextField(default="")
        finding = ForeignKeyField(Finding, null=True, on_delete="SET NULL")
        renews = TextField(default="")
        supply = TextField(default="")
        expected_on = DateField(null=True)
        decision = TextField(default="")
        done_at = DateTimeField(null=True)
        done_by = TextField(default="")

        class Meta:
            database = db
            table_name = "line"

    db.create_tables([Line])

    class Ownership(Model):
        version = IntegerField(default=1)
        unit = ForeignKeyField(Unit, on_delete="CASCADE")
        customer = ForeignKeyField(Customer, on_delete="RESTRICT")
        since = DateField()
        until = DateField(null=True)

        class Meta:
            database = db
            table_name = "ownership"

    db.create_tables([Ownership])

    class Payment(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
        amount = BigIntegerField()
        method = TextField()
        note = TextField(default="")
        taken_by = TextField(default="")
        taken_at = DateTimeField()

        class Meta:
            database = db
            table_name = "payment"

    db.create_tables([Payment])

    class Phone(Model):
        version = IntegerField(default=1)
        customer = ForeignKeyField(Customer, on_delete="CASCADE")
        label = TextField(default="")
        number = TextField()
        digits = TextField(index=True)
        position = IntegerField(default=0)

        class Meta:
            database = db
            table_name = "phone"

    db.create_tables([Phone])

    class Photo(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        finding = ForeignKeyField(Finding, null=True, on_delete="SET NULL")
        file = TextField(unique=True)
        caption = TextField(default="")
        width = IntegerField()
        height = IntegerField()
        sha256 = TextField()
        added_at = DateTimeField()

        class Meta:
            database = db
            table_name = "photo"

    db.create_tables([Photo])

    class Reminder(Model):
        version = IntegerField(default=1)
        unit = ForeignKeyField(Unit, on_delete="CASCADE")
        customer = ForeignKeyField(Customer, on_delete="CASCADE")
        ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
        due_on = DateField(index=True)
        tasks = TextField()
        state = TextField(default="open")
        made_at = DateTimeField()

        class Meta:
            database = db
            table_name = "reminder"

    db.create_tables([Reminder])

    class Setting(Model):
        version = IntegerField(default=1)
        name = TextField(unique=True)
        content = TextField()

        class Meta:
            database = db
            table_name = "setting"

    db.create_tables([Setting])


def down(migrator: SchemaMigrator, db: Database) -> None:
    """Drop the tables again."""
    migrator.migrate(migrator.drop_table("setting"))
    migrator.migrate(migrator.drop_table("reminder"))
    migrator.migrate(migrator.drop_table("photo"))
    migrator.migrate(migrator.drop_table("phone"))
    migrator.migrate(migrator.drop_table("payment"))
    migrator.migrate(migrator.drop_table("ownership"))
    migrator.migrate(migrator.drop_table("line"))
    migrator.migrate(migrator.drop_table("journal_entry"))
    migrator.migrate(migrator.drop_table("invoice"))
    migrator.migrate(migrator.drop_table("finding"))
    migrator.migrate(migrator.drop_table("counter"))
    migrator.migrate(migrator.drop_table("approval"))
    migrator.migrate(migrator.drop_table("estimate"))
    migrator.migrate(migrator.drop_table("ticket"))
    migrator.migrate(migrator.drop_table("customer"))
    migrator.migrate(migrator.drop_table("unit"))

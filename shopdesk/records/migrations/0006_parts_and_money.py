"""Parts and stock, time at the bench, options, and invoices chained and kept as printed."""

import hashlib
import json

from peewee import *


def up(migrator, db):
    class Ticket(Model):
        class Meta:
            database = db
            table_name = "ticket"

    class Line(Model):
        class Meta:
            database = db
            table_name = "line"

    class Invoice(Model):
        class Meta:
            database = db
            table_name = "invoice"

    class Supplier(Model):
        version = IntegerField(default=1)
        name = TextField(unique=True)
        phone = TextField(default="")
        email = TextField(default="")
        account = TextField(default="")
        notes = TextField(default="")
        postage = BigIntegerField(default=0)
        free_postage_from = BigIntegerField(null=True)
        least_order = BigIntegerField(null=True)
        lead_days = IntegerField(default=0)
        active = BooleanField(default=True)

        class Meta:
            database = db
            table_name = "supplier"

    class Part(Model):
        version = IntegerField(default=1)
        number = TextField()
        folded_number = TextField(index=True)
        name = TextField()
        folded_name = TextField(index=True)
        condition = TextField(default="new")
        price = BigIntegerField(null=True)
        bin = TextField(default="")
        quantity = BigIntegerField(default=0)
        reorder_at = BigIntegerField(null=True)
        reorder_to = BigIntegerField(null=True)
        warranty_days = IntegerField(null=True)
        notes = TextField(default="")
        active = BooleanField(default=True)

        class Meta:
            database = db
            table_name = "part"

    class KitPart(Model):
        version = IntegerField(default=1)
        kit = ForeignKeyField(Part, on_delete="CASCADE")
        part = ForeignKeyField(Part, on_delete="RESTRICT")
        quantity = BigIntegerField(default=1000)

        class Meta:
            database = db
            table_name = "kit_part"

    class PartFit(Model):
        version = IntegerField(default=1)
        part = ForeignKeyField(Part, on_delete="CASCADE")
        kind = TextField(default="")
        model = TextField(default="")
        model_key = TextField(default="", index=True)
        cause = TextField(default="")
        task = TextField(default="")
        quantity = BigIntegerField(default=1000)

        class Meta:
            database = db
            table_name = "part_fit"

    class Offer(Model):
        version = IntegerField(default=1)
        supplier = ForeignKeyField(Supplier, on_delete="CASCADE")
        part = ForeignKeyField(Part, on_delete="CASCADE")
        supplier_number = TextField(default="")
        folded_number = TextField(default="", index=True)
        pack = BigIntegerField(default=1000)
        cost = BigIntegerField()
        lead_days = IntegerField(null=True)
        asked_at = DateTimeField()

        class Meta:
            database = db
            table_name = "offer"

    class PartOrder(Model):
        version = IntegerField(default=1)
        number = TextField(unique=True)
        supplier = ForeignKeyField(Supplier, on_delete="RESTRICT")
        postage = BigIntegerField(default=0)
        note = TextField(default="")
        ordered_by = TextField(default="")
        ordered_at = DateTimeField(null=True)
        cancelled_at = DateTimeField(null=True)

        class Meta:
            database = db
            table_name = "part_order"

    class OrderLine(Model):
        version = IntegerField(default=1)
        order = ForeignKeyField(PartOrder, on_delete="CASCADE")
        part = ForeignKeyField(Part, on_delete="RESTRICT")
        supplier_number = TextField(default="")
        pack = BigIntegerField(default=1000)
        packs = BigIntegerField()
        received = BigIntegerField(default=0)
        cancelled = BigIntegerField(default=0)
        cost = BigIntegerField()
        expected_on = DateField(null=True)
        back_ordered = BooleanField(default=False)

        class Meta:
            database = db
            table_name = "order_line"

    class StockMove(Model):
        version = IntegerField(default=1)
        part = ForeignKeyField(Part, on_delete="RESTRICT")
        quantity = BigIntegerField()
        why = TextField()
        cost = BigIntegerField(null=True)
        line = ForeignKeyField(Line, null=True, on_delete="SET NULL")
        order_line = ForeignKeyField(OrderLine, null=True, on_delete="SET NULL")
        note = TextField(default="")
        moved_by = TextField(default="")
        moved_at = DateTimeField(index=True)

        class Meta:
            database = db
            table_name = "stock_move"

    class WorkSpell(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        line = ForeignKeyField(Line, null=True, on_delete="SET NULL")
        person = TextField(default="")
        work = TextField()
        rate = TextField(default="")
        note = TextField(default="")
        started_at = DateTimeField(index=True)
        stopped_at = DateTimeField(null=True)
        minutes = BigIntegerField(null=True)

        class Meta:
            database = db
            table_name = "work_spell"

    class FlatTime(Model):
        version = IntegerField(default=1)
        name = TextField()
        kind = TextField(default="")
        cause = TextField(default="")
        hours = BigIntegerField()
        rate = TextField(default="")

        class Meta:
            database = db
            table_name = "flat_time"

    class OwnOption(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        title = TextField()
        words = TextField(default="")
        price = BigIntegerField()
        hours = BigIntegerField(default=0)
        cures = TextField(default="[]")
        lead_days = IntegerField(default=0)
        life_hours = BigIntegerField(null=True)

        class Meta:
            database = db
            table_name = "own_option"

    class InvoicePrint(Model):
        version = IntegerField(default=1)
        invoice = ForeignKeyField(Invoice, on_delete="RESTRICT", unique=True)
        sha256 = TextField()
        pages = IntegerField(default=1)
        missing = TextField(default="")
        made_at = DateTimeField()

        class Meta:
            database = db
            table_name = "invoice_print"

    class WriteOff(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="RESTRICT")
        amount = BigIntegerField()
        why = TextField()
        written_by = TextField(default="")
        written_at = DateTimeField()

        class Meta:
            database = db
            table_name = "write_off"

    class TillCount(Model):
        version = IntegerField(default=1)
        day = DateField(unique=True)
        opening = BigIntegerField()
        counted = BigIntegerField()
        taken_out = BigIntegerField(default=0)
        note = TextField(default="")
        counted_by = TextField(default="")
        counted_at = DateTimeField()

        class Meta:
            database = db
            table_name = "till_count"

    class StoredFile(Model):
        sha256 = TextField(unique=True)
        content = BlobField()

        class Meta:
            database = db
            table_name = "stored_file"

    db.create_tables(
        [
            Supplier,
            Part,
            KitPart,
            PartFit,
            Offer,
            PartOrder,
            OrderLine,
            StockMove,
            WorkSpell,
            FlatTime,
            OwnOption,
            InvoicePrint,
            WriteOff,
            TillCount,
            StoredFile,
        ]
    )
    for table, column in TEXTS:
        db.execute_sql(f"""ALTER TABLE "{table}" ADD COLUMN "{column}" TEXT NOT NULL DEFAULT ''""")
    part = ForeignKeyField(Part, Part.id, null=True, on_delete="SET NULL")
    order_line = ForeignKeyField(OrderLine, OrderLine.id, null=True, on_delete="SET NULL")
    migrator.migrate(
        migrator.add_column("line", "off", BigIntegerField(null=True)),
        migrator.add_column("line", "value", BigIntegerField(null=True)),
        migrator.add_column("line", "percent", BigIntegerField(null=True)),
        migrator.add_column("line", "part_id", part),
        migrator.add_column("line", "order_line_id", order_line),
    )
    chain_invoices(db)


def chain_invoices(db):
    """Seal the invoices issued before there was a chain, in the order in which they were issued."""
    query = f'SELECT id, {", ".join(SAID)} FROM "invoice" ORDER BY id'
    previous = ""
    for row_id, *said in db.execute_sql(query).fetchall():
        text = json.dumps([*said, previous], separators=(",", ":"), default=repr)
        seal = hashlib.sha256(text.encode()).hexdigest()
        db.execute_sql(
            'UPDATE "invoice" SET previous_hash = ?, hash = ? WHERE id = ?',
            (previous, seal, row_id),
        )
        previous = seal


SAID = (
    "number",
    "ticket_id",
    "credits_id",
    "net",
    "tax",
    "total",
    "content",
    "issued_at",
    "issued_by",
)

TEXTS = (
    ("line", "rate"),
    ("line", "reckoned"),
    ("approval", "option"),
    ("invoice", "previous_hash"),
    ("invoice", "hash"),
)


def down(migrator, db):
    migrator.migrate(
        migrator.drop_index("line", "line_order_line_id"),
        migrator.drop_index("line", "line_part_id"),
        migrator.drop_column("line", "order_line_id"),
        migrator.drop_column("line", "part_id"),
        migrator.drop_column("line", "percent"),
        migrator.drop_column("line", "value"),
        migrator.drop_column("line", "off"),
        *(migrator.drop_column(table, column) for table, column in reversed(TEXTS)),
        *(migrator.drop_table(table) for table in NEW_TABLES),
    )


NEW_TABLES = (
    "stored_file",
    "till_count",
    "write_off",
    "invoice_print",
    "own_option",
    "flat_time",
    "work_spell",
    "stock_move",
    "order_line",
    "part_order",
    "offer",
    "part_fit",
    "kit_part",
    "part",
    "supplier",
)

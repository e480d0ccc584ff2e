"""What is kept after pickup: messages, upkeep done, own intervals, meter readings, machines gone."""

from peewee import *


def up(migrator, db):
    class Customer(Model):
        class Meta:
            database = db
            table_name = "customer"

    class Unit(Model):
        class Meta:
            database = db
            table_name = "unit"

    class Ticket(Model):
        class Meta:
            database = db
            table_name = "ticket"

    class Message(Model):
        version = IntegerField(default=1)
        customer = ForeignKeyField(Customer, on_delete="CASCADE")
        ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
        about = TextField()
        step = IntegerField(default=0)
        way = TextField()
        state = TextField(index=True)
        content = TextField(default="")
        note = TextField(default="")
        booked_on = DateField(null=True)
        made_by = TextField(default="")
        made_at = DateTimeField()
        sent_at = DateTimeField(null=True)
        answered_at = DateTimeField(null=True)

        class Meta:
            database = db
            table_name = "message"

    class UpkeepDone(Model):
        version = IntegerField(default=1)
        unit = ForeignKeyField(Unit, on_delete="CASCADE")
        task = TextField()
        done_on = DateField()
        meter_hours = BigIntegerField(null=True)
        done_by = TextField(default="")
        note = TextField(default="")

        class Meta:
            database = db
            table_name = "upkeep_done"

    class OwnInterval(Model):
        version = IntegerField(default=1)
        unit = ForeignKeyField(Unit, null=True, on_delete="CASCADE")
        model_key = TextField(default="", index=True)
        task = TextField()
        hours = BigIntegerField(null=True)
        months = IntegerField(null=True)
        named_by = TextField(default="")

        class Meta:
            database = db
            table_name = "own_interval"

    class MeterReading(Model):
        version = IntegerField(default=1)
        unit = ForeignKeyField(Unit, on_delete="CASCADE")
        read_on = DateField()
        hours = BigIntegerField()

        class Meta:
            database = db
            table_name = "meter_reading"

    db.create_tables([Message, UpkeepDone, OwnInterval, MeterReading])
    for table, column in TEXTS:
        db.execute_sql(f"""ALTER TABLE "{table}" ADD COLUMN "{column}" TEXT NOT NULL DEFAULT ''""")
    db.execute_sql('ALTER TABLE "customer" ADD COLUMN "moved_away" INTEGER NOT NULL DEFAULT 0')
    message = ForeignKeyField(Message, Message.id, null=True, on_delete="SET NULL")
    migrator.migrate(
        migrator.add_column("unit", "price_new", BigIntegerField(null=True)),
        migrator.add_column("unit", "gone_on", DateField(null=True)),
        migrator.add_column("reminder", "message_id", message),
    )


TEXTS = (("customer", "preferred_way"), ("unit", "gone_how"), ("ticket", "became"))


def down(migrator, db):
    migrator.migrate(
        migrator.drop_index("reminder", "reminder_message_id"),
        migrator.drop_column("reminder", "message_id"),
        migrator.drop_column("unit", "gone_on"),
        migrator.drop_column("unit", "price_new"),
        migrator.drop_column("customer", "moved_away"),
        *(migrator.drop_column(table, column) for table, column in reversed(TEXTS)),
        migrator.drop_table("meter_reading"),
        migrator.drop_table("own_interval"),
        migrator.drop_table("upkeep_done"),
        migrator.drop_table("message"),
    )

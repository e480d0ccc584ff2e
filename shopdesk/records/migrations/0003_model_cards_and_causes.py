"""The shop's own card and limits for a model or a unit, and what the cause of a ticket was."""

from peewee import *

from shopdesk.text import letters_and_digits


def up(migrator, db):
    class Unit(Model):
        class Meta:
            database = db
            table_name = "unit"

    class Ticket(Model):
        class Meta:
            database = db
            table_name = "ticket"

    class OwnLimit(Model):
        version = IntegerField(default=1)
        unit = ForeignKeyField(Unit, null=True, on_delete="CASCADE")
        model_key = TextField(default="", index=True)
        check_key = TextField()
        typed = TextField()
        named_by = TextField(default="")
        measured_here = BooleanField(default=False)
        written_by = TextField(default="")
        written_at = DateTimeField()

        class Meta:
            database = db
            table_name = "own_limit"

    class ModelNote(Model):
        version = IntegerField(default=1)
        model_key = TextField(index=True)
        kind = TextField()
        title = TextField(default="")
        words = TextField()
        part_number = TextField(default="")
        ticket = ForeignKeyField(Ticket, null=True, on_delete="SET NULL")
        written_by = TextField(default="")
        written_at = DateTimeField()

        class Meta:
            database = db
            table_name = "model_note"

    class OverruledCause(Model):
        version = IntegerField(default=1)
        ticket = ForeignKeyField(Ticket, on_delete="CASCADE")
        cause = TextField()
        why = TextField()
        said_by = TextField(default="")
        said_at = DateTimeField()

        class Meta:
            database = db
            table_name = "overruled_cause"

    db.create_tables([OwnLimit, ModelNote, OverruledCause])
    for table, column in (("ticket", "cause"), ("ticket", "cause_words"), ("unit", "model_key")):
        db.execute_sql(f"""ALTER TABLE "{table}" ADD COLUMN "{column}" TEXT NOT NULL DEFAULT ''""")
    fill_model_keys(db)
    migrator.migrate(migrator.add_index("unit", ("model_key",)))


def fill_model_keys(db):
    class Unit(Model):
        make = TextField()
        model = TextField()
        model_key = TextField()

        class Meta:
            database = db
            table_name = "unit"

    for unit_id, make, model in list(Unit.select(Unit.id, Unit.make, Unit.model).tuples()):
        folded = letters_and_digits(model)
        key = f"{letters_and_digits(make)} {folded}" if folded else ""
        Unit.update(model_key=key).where(Unit.id == unit_id).execute()


def down(migrator, db):
    migrator.migrate(
        migrator.drop_index("unit", "unit_model_key"),
        migrator.drop_column("unit", "model_key"),
        migrator.drop_column("ticket", "cause_words"),
        migrator.drop_column("ticket", "cause"),
        migrator.drop_table("overruled_cause"),
        migrator.drop_table("model_note"),
        migrator.drop_table("own_limit"),
    )

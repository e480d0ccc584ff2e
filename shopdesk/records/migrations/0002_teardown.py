"""The teardown log: its steps, and which photo shows which step."""

from peewee import *


def up(migrator, db):
    class Ticket(Model):
        class Meta:
            database = db
            table_name = "ticket"

    class Finding(Model):
        class Meta:
            database = db
            table_name = "finding"

    class TeardownStep(Model):
        version = IntegerField(default=1)
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
        noted_at = DateTimeField()
        done_at = DateTimeField(null=True)
        done_by = TextField(default="")
        back = TextField(default="[]")
        finding = ForeignKeyField(Finding, null=True, on_delete="SET NULL")
        explained = TextField(default="")

        class Meta:
            database = db
            table_name = "teardown_step"

    db.create_tables([TeardownStep])
    step = ForeignKeyField(TeardownStep, TeardownStep.id, null=True, on_delete="SET NULL")
    migrator.migrate(migrator.add_column("photo", "step_id", step))


def down(migrator, db):
    migrator.migrate(migrator.drop_index("photo", "photo_step_id"))
    migrator.migrate(migrator.drop_column("photo", "step_id"))
    migrator.migrate(migrator.drop_table("teardown_step"))

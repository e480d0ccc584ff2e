"""Two owners, or two machines, that turned out to be one."""

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

    class Merge(Model):
        version = IntegerField(default=1)
        customer = ForeignKeyField(Customer, null=True, on_delete="RESTRICT")
        unit = ForeignKeyField(Unit, null=True, on_delete="RESTRICT")
        gone_id = IntegerField()
        called = TextField()
        content = TextField()
        merged_by = TextField(default="")
        merged_at = DateTimeField()

        class Meta:
            database = db
            table_name = "merge"

    db.create_tables([Merge])


def down(migrator, db):
    migrator.migrate(migrator.drop_table("merge"))

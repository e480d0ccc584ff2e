"""The diagnosis fee of a ticket, as it was said at intake."""

from peewee import *


def up(migrator, db):
    migrator.migrate(migrator.add_column("ticket", "diagnosis_fee", BigIntegerField(null=True)))


def down(migrator, db):
    migrator.migrate(migrator.drop_column("ticket", "diagnosis_fee"))

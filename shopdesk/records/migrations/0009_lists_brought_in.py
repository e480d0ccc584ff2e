"""Lists of owners and machines that were brought in, so that one can be taken back."""

from peewee import *


def up(migrator, db):
    class ImportRun(Model):
        version = IntegerField(default=1)
        files = TextField()
        owners = IntegerField(default=0)
        machines = IntegerField(default=0)
        added_to = IntegerField(default=0)
        first_entry = IntegerField()
        last_entry = IntegerField()
        done_by = TextField(default="")
        done_at = DateTimeField()
        taken_back_at = DateTimeField(null=True)

        class Meta:
            database = db
            table_name = "import_run"

    db.create_tables([ImportRun])


def down(migrator, db):
    migrator.migrate(migrator.drop_table("import_run"))

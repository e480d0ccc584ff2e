"""What is typed on a page and not saved yet."""

from peewee import *


def up(migrator, db):
    class Draft(Model):
        page = TextField()
        about = IntegerField()
        called = TextField()
        content = TextField()
        typed_at = DateTimeField()

        class Meta:
            database = db
            table_name = "draft"
            indexes = ((("page", "about"), True),)

    db.create_tables([Draft])


def down(migrator, db):
    migrator.migrate(migrator.drop_table("draft"))

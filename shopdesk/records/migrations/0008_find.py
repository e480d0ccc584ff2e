"""From here on what is found by its words has an index beside the rows, made at each opening.

No table changes: the number keeps older versions, which would not keep the index in step, away.
"""


def up(migrator, db):
    pass


def down(migrator, db):
    pass

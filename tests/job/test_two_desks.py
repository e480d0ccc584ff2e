"""Two desks at once on one records file: nothing lost, no number given out twice or left out."""

import os
import subprocess
import sys
from pathlib import Path

from shopdesk.job.intake import change_intake
from shopdesk.job.shift import Shift
from shopdesk.records.tables import Invoice, JournalEntry, Phone, Ticket
from tests.job.workshop import INTAKE, another, taken_in
from tests.records.replay import kept_rows, replayed_rows

DESK = """
import sys
from pathlib import Path
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
from tests.job.workshop import Clock, another, at_stage
from shopdesk.job.lines import add_line
from tests.job.workshop import KIT

clock = Clock()
shift = Shift(open_records(Path(sys.argv[1]), clock(), wait=30), sys.argv[2], clock)
print("ready", flush=True)
sys.stdin.readline()
for number in range(int(sys.argv[3]), int(sys.argv[3]) + 10):
    ticket = another(shift, number)
    add_line(shift, ticket.id, KIT)
shift.records.close()
"""


def test_two_desks_take_in_at_once(shift: Shift) -> None:
    project = Path(__file__).parents[2]
    desks = [
        subprocess.Popen(
            [sys.executable, "-c", DESK, str(shift.records.file), who, first],
            cwd=project,
            env={**os.environ, "PYTHONPATH": str(project)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for who, first in (("Sam", "10"), ("Kit", "30"))
    ]
    for desk in desks:
        assert desk.stdout
        assert desk.stdout.readline() == "ready\n"
    for desk in desks:
        assert desk.stdin
        desk.stdin.write("go\n")
        desk.stdin.flush()
    for desk in desks:
        _, complaint = desk.communicate(timeout=60)
        assert (desk.returncode, complaint) == (0, "")
    with shift.records.reading():
        assert sorted(ticket.number for ticket in Ticket.select()) == list(range(1001, 1021))
        assert Phone.select().count() == 20
        by = [entry.who for entry in JournalEntry.select() if entry.table == "ticket"]
        assert (by.count("Sam"), by.count("Kit")) == (10, 10)
        assert Invoice.select().count() == 0
    assert replayed_rows(shift.records) == kept_rows(shift.records)


def test_the_other_desks_work_is_seen_at_once(shift: Shift) -> None:
    other = Shift(shift.records, "Kit", shift.now)
    ticket = taken_in(shift)
    change_intake(other, ticket.id, INTAKE, ticket.version)
    assert another(other, 2).number == ticket.number + 1

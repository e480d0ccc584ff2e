"""Invented messages about upkeep for the tests: one machine, and a household with three."""

from dataclasses import replace
from datetime import date

from shopdesk.job.due_content import MachineDue, UpkeepMessage
from shopdesk.job.paper_content import MachineOnPaper
from tests.papers.samples import MACHINE, OWNER, REMINDER, SHOP

ROWS = REMINDER.tasks
TRIMMER_DUE = MachineDue(MACHINE, ROWS, REMINDER.cautions, ("Look at the line head",), 1)
SAW_DUE = MachineDue(
    MachineOnPaper("Chain saw, Osmarrow OS 40", "OS/40/77", "two-stroke"),
    (ROWS[0], replace(ROWS[-1], title="Sharpen the chain and set the depth gauges")),
    ("Wear gloves when you handle the chain.",),
    (),
    2,
)
MOWER_DUE = MachineDue(
    MachineOnPaper("Push mower, Tarnbeck TM-46", "TM46-77", "four-stroke"), ROWS[:2], (), (), 3
)
ONE = UpkeepMessage(
    shop=SHOP,
    owner=OWNER,
    on=date(2028, 2, 21),
    machines=(TRIMMER_DUE,),
    rounds=("1 air-filter never",),
)
THREE = replace(
    ONE, machines=(TRIMMER_DUE, SAW_DUE, MOWER_DUE), invited_for=date(2028, 3, 6), again=False
)
AGAIN = replace(ONE, again=True)

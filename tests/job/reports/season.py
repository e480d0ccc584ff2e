"""A made-up season of a small shop, for looking at its reports."""

from dataclasses import replace
from datetime import UTC, datetime
from random import Random

from shopdesk.job.lines import LineEntry
from shopdesk.job.payments import give_back, take_payment
from shopdesk.job.pickup import agree_balance, credit_invoice, hand_over
from shopdesk.job.reports.till import CountEntry, count_till
from shopdesk.job.shift import Shift
from tests.job.reports.books import FEE, HOUR, PART, ready, sold
from tests.job.workshop import Clock

OWNERS = (
    "Mara Quill",
    "Łukasz Brightwater",
    "Odd Øye",
    "Ansel Tarn",
    "Wrenmoor School",
    "Ida Ferry",
)
PLUG = LineEntry(
    *("part", "Spark plug", "2"), unit_price="4.50", reason="worn", part_number="SP-7", cost="1.80"
)
BELT = LineEntry(
    *("part", "Drive belt"), unit_price="38.00", reason="worn", part_number="DB-19", cost="21.50"
)
USED = LineEntry(*("part", "Pulley"), unit_price="15.00", reason="failed", condition="used")
SUBLET = LineEntry("sublet", "Crankshaft straightened", unit_price="90.00", cost="70.00")
DISCOUNT = LineEntry("discount", "For the long wait", unit_price="10.00")


def season(shift: Shift, clock: Clock, jobs: int = 40, year: int = 2031) -> None:
    """Sell and take money from the first days of January on; the clock ends on 7 April, 17:00."""
    chance = Random(7)
    for at in range(jobs):
        clock.moment = datetime(year, 1, 3, 16, 0, tzinfo=UTC)
        clock.forward(at * 94 // jobs)
        _job(shift, clock, chance, at)
    clock.moment = datetime(year, 4, 7, 15, 0, tzinfo=UTC)
    last = sold(shift, PART, PLUG, HOUR, owner="Ida Ferry")
    take_payment(shift, last.id, str(last.balance), "cash")
    give_back(shift, last.id, "5.00", "cash", "plug was not needed")
    count_till(shift, shift.today, CountEntry("190.62", "100.00", "90.00"))
    clock.moment = datetime(year, 4, 7, 23, 0, tzinfo=UTC)


def _job(shift: Shift, clock: Clock, chance: Random, at: int) -> None:
    owner = OWNERS[at % len(OWNERS)]
    exempt = "EX-2207" if owner.endswith("School") else ""
    lines = [replace(HOUR, quantity=f"{chance.randint(5, 30) / 10}")]
    lines += [line for line in (PART, PLUG, BELT, USED) if chance.random() < 0.5]
    lines += [
        line
        for line, share in ((SUBLET, 0.1), (DISCOUNT, 0.15), (FEE, 0.4))
        if chance.random() < share
    ]
    if at % 13 == 5:
        waiting = ready(shift, *lines, owner=owner, exempt=exempt)
        take_payment(shift, waiting.id, "20.00", "cash")
        return
    ticket = sold(shift, *lines, owner=owner, exempt=exempt)
    if at % 11 == 4:
        agree_balance(shift, ticket.id, "pays at the end of the month")
    elif at % 17 == 9:
        clock.forward(9)
        credit_invoice(shift, ticket.id, "charged twice")
    else:
        way = chance.choice(("cash", "card", "card", "cheque", "bank transfer"))
        take_payment(shift, ticket.id, str(ticket.balance), way)
        hand_over(shift, ticket.id)

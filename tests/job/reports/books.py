"""Small shops whose books can be added up by hand."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopdesk.job.approval import SayEntry, approve, quote
from shopdesk.job.csv_out import Cell
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import record_observation
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.pickup import issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Report, Table
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import TRIMMER, taken_in

APRIL = Period(date(2031, 4, 1), date(2031, 4, 30))
MAY = Period(date(2031, 5, 1), date(2031, 5, 31))
SPRING = Period(date(2031, 4, 1), date(2031, 6, 30))
PART = LineEntry("part", "Carburettor kit", unit_price="20.00", cost="12.00", reason="failed")
HOUR = LineEntry("labour", "Clean the carburettor", "1", reason="failed")
FEE = LineEntry("fee", "Diagnosis", unit_price="35.00")


def ready(
    shift: Shift, *lines: LineEntry, owner: str = "Mara Quill", exempt: str = ""
) -> TicketView:
    """Return a ticket in Pickup with these lines, all done and agreed."""
    who = CustomerEntry(owner, ("555-0142",), tax_exempt_number=exempt, shared_phone=True)
    ticket = taken_in(shift, who, replace(TRIMMER, serial=""))
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    record_observation(shift, ticket.id, "Looked over", "gummed up", "noted")
    for line in lines:
        add_line(shift, ticket.id, line)
    go_on(shift, ticket.id, Stage.APPROVAL)
    quote(shift, ticket.id)
    approve(shift, ticket.id, SayEntry(owner, "in person"))
    ticket = go_on(shift, ticket.id, Stage.REPAIR)
    for kept in ticket.lines:
        if kept.is_work:
            do_line(shift, kept.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    return go_on(shift, ticket.id, Stage.PICKUP)


def sold(
    shift: Shift, *lines: LineEntry, owner: str = "Mara Quill", exempt: str = ""
) -> TicketView:
    """Return a ticket whose invoice was issued now."""
    return issue_invoice(shift, ready(shift, *lines, owner=owner, exempt=exempt).id)


def money(amount: str) -> Decimal:
    """Return an amount."""
    return Decimal(amount)


def table(report: Report, title: str) -> Table:
    """Return the table of that title."""
    return next(one for one in report.tables if one.title == title)


def cells(report: Report, title: str) -> list[tuple[Cell, ...]]:
    """Return the cells of the rows of one of its tables."""
    return [row.cells for row in table(report, title).rows]

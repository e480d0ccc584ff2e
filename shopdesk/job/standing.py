"""Where a ticket stands, worked out from its rows in one place for all that ask."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeVar

from shopdesk.bench.checks import Verdict
from shopdesk.errors import JobError
from shopdesk.job.customers import find_customer
from shopdesk.job.reasons import Reason
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage, Standing
from shopdesk.job.teardown_log import left_over_words
from shopdesk.job.units import find_unit
from shopdesk.job.views import WORK
from shopdesk.pricing.allowance import most_allowed
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import (
    ZERO,
    LineKind,
    PricedLine,
    TaxRate,
    TaxRule,
    Totals,
    line_net,
    total,
)
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import (
    Approval,
    Estimate,
    Finding,
    Invoice,
    Line,
    Payment,
    TeardownStep,
    Ticket,
    WriteOff,
)

DIAGNOSIS, SETTING, PROOF = PHASES = ("diagnosis", "setting", "proof")
"""When a finding was made: looking for the cause, setting left after the repair, proof run."""
TO_ORDER, ON_ORDER, ON_HAND = SUPPLIES = ("to order", "on order", "on hand")
STORAGE = "storage"
"""What a line for storage is reckoned from: the terms on the claim tag."""
DECLINED, LEFT_OUT = "declined", "left out"
"""Why a line is not charged: the owner doesn't want it, or a charge of the shop's is left out."""
AnyRow = TypeVar(
    "AnyRow", Finding, Line, Estimate, Approval, Invoice, Payment, WriteOff, TeardownStep
)


@dataclass(frozen=True, slots=True)
class TicketRows:
    """A ticket with the rows that decide where it stands."""

    ticket: Ticket
    findings: Sequence[Finding]
    lines: Sequence[Line]
    estimates: Sequence[Estimate]
    approvals: Sequence[Approval]
    invoices: Sequence[Invoice]
    payments: Sequence[Payment]
    steps: Sequence[TeardownStep]
    write_offs: Sequence[WriteOff] = ()

    @property
    def live_lines(self) -> list[Line]:
        """The lines that are to be charged: not declined, and not left out."""
        return live(self.lines)

    @property
    def standing_invoice(self) -> Invoice | None:
        """The invoice that holds: issued and not credited."""
        return standing_invoice(self.invoices)

    @property
    def paid(self) -> Decimal:
        """What was paid, less what was given back."""
        return sum((payment.amount for payment in self.payments), ZERO)

    @property
    def written_off(self) -> Decimal:
        """What was given up of the debt, less what of that is owed again."""
        return sum((one.amount for one in self.write_offs), ZERO)

    @property
    def balance(self) -> Decimal:
        """Invoiced, less credited, less paid, less written off."""
        return sum((bill.total for bill in self.invoices), ZERO) - self.paid - self.written_off

    @property
    def declined(self) -> bool:
        """Whether the last word was no, and nothing was offered since."""
        return self.refused and not self.unanswered

    @property
    def refused(self) -> bool:
        """Whether the last word was no, whatever was offered since."""
        return bool(self.approvals) and not self.approvals[-1].yes

    @property
    def approved(self) -> Decimal:
        """The amount of the last word, if it was yes."""
        return self.approvals[-1].amount if self.approvals and not self.refused else ZERO

    @property
    def looked_at(self) -> bool:
        """Whether anything was found, or the complaint was tried."""
        return bool(self.ticket.confirmed) or any(
            finding.phase == DIAGNOSIS for finding in self.findings
        )

    @property
    def unanswered(self) -> bool:
        """Whether an estimate was given that the owner has not answered yet."""
        if not self.estimates:
            return False
        return not self.approvals or self.estimates[-1].made_at > self.approvals[-1].said_at


def live(lines: Sequence[Line]) -> list[Line]:
    """Return the lines that are to be charged: not declined, and not left out."""
    return [line for line in lines if not line.decision]


def standing_invoice(invoices: Sequence[Invoice]) -> Invoice | None:
    """Return the one of a ticket's invoices that holds: issued and not credited whole."""
    bills = (bill for bill in invoices if bill.credits_id is None)
    return next((bill for bill in bills if not credited_whole(bill, invoices)), None)


def credited_whole(bill: Invoice, bills: Sequence[Invoice]) -> bool:
    """Whether the credit notes among a ticket's ``bills`` take the whole of ``bill`` back."""
    notes = [note for note in bills if note.credits_id == bill.id]
    return bool(notes) and bill.total + sum(note.total for note in notes) == 0


def find_ticket(ticket_id: int) -> Ticket:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    ticket = row_of(Ticket, ticket_id)
    if ticket is None:
        raise JobError("That ticket is not in the records any more: find it again.", "ticket")
    ticket.customer = find_customer(ticket.customer_id)
    ticket.unit = find_unit(ticket.unit_id)
    return ticket


def refuse_if_closed(ticket: Ticket) -> None:
    """Raise ``JobError`` for a closed ticket: money on it would be nobody's move."""
    if ticket.stage == Stage.CLOSED:
        raise JobError("This ticket is closed: reopen it first.", "stage")


def rows_of(ticket: Ticket) -> TicketRows:
    """Read the rows of one ticket, inside a transaction."""
    return rows_of_many([ticket])[0]


def rows_of_many(tickets: Sequence[Ticket]) -> list[TicketRows]:
    """Read the rows of several tickets with one query for each table, inside a transaction."""
    ids = [ticket.id for ticket in tickets]
    findings, lines = _by_ticket(Finding, ids), _by_ticket(Line, ids)
    estimates, approvals = _by_ticket(Estimate, ids), _by_ticket(Approval, ids)
    invoices, payments = _by_ticket(Invoice, ids), _by_ticket(Payment, ids)
    write_offs, steps = _by_ticket(WriteOff, ids), _by_ticket(TeardownStep, ids)
    return [
        TicketRows(
            ticket,
            findings.get(ticket.id, []),
            sorted(lines.get(ticket.id, []), key=lambda line: (line.position, line.id)),
            estimates.get(ticket.id, []),
            approvals.get(ticket.id, []),
            invoices.get(ticket.id, []),
            payments.get(ticket.id, []),
            sorted(steps.get(ticket.id, []), key=lambda step: (step.position, step.id)),
            write_offs.get(ticket.id, []),
        )
        for ticket in tickets
    ]


def _by_ticket(table: type[AnyRow], ids: list[int]) -> dict[int, list[AnyRow]]:
    if len(ids) == 1:
        return {ids[0]: rows_by(table, "ticket_id", ids[0])}
    rows: dict[int, list[AnyRow]] = {}
    for row in table.select().where(table.ticket.in_(ids)).order_by(table.id):
        rows.setdefault(row.ticket_id, []).append(row)
    return rows


def rates_for(kind: LineKind, shop: Shop, ticket: Ticket) -> tuple[TaxRate, ...]:
    """Return the tax rates on a line of that kind for this ticket's owner.

    A discount has none of its own: it lowers what it is taken off.
    """
    if kind is LineKind.DISCOUNT or ticket.customer.tax_exempt_number:
        return ()
    return tuple(
        rate for rate in shop.tax_rates if kind in shop.tax_kinds.get(rate.name, shop.taxed)
    )


def is_taxed(kind: LineKind, shop: Shop, ticket: Ticket) -> bool:
    """Whether tax is taken on a line of that kind; of a discount, whether it lowers the tax."""
    if kind is LineKind.DISCOUNT:
        others = (other for other in LineKind if other is not kind)
        return kind in shop.taxed and any(rates_for(other, shop, ticket) for other in others)
    return bool(rates_for(kind, shop, ticket))


def gross_of(line: Line) -> Decimal:
    """Return what a line comes to before anything comes off it."""
    return line_net(line.quantity, line.unit_price)


def net_of(line: Line) -> Decimal:
    """Return what a line comes to, what comes off it taken off."""
    return gross_of(line) - (line.off or ZERO)


def priced(line: Line, shop: Shop, ticket: Ticket) -> PricedLine:
    """Return the line as the sums need it."""
    kind = LineKind(line.kind)
    shared = kind is LineKind.DISCOUNT and kind in shop.taxed
    return PricedLine(kind, net_of(line), rates_for(kind, shop, ticket), shared)


def tax_rule(shop: Shop) -> TaxRule:
    """Return how the shop taxes."""
    return TaxRule(shop.tax_basis, shop.tax_included)


def totals_of(rows: TicketRows, shop: Shop) -> Totals:
    """Add up the lines that were not declined; what was paid so far comes off."""
    lines = [priced(line, shop, rows.ticket) for line in rows.live_lines]
    return total(lines, tax_rule(shop), rows.paid)


def agreed_fee(ticket: Ticket, shop: Shop) -> Decimal:
    """Return the diagnosis fee before tax as it was said at intake.

    Tickets older than that was kept have the shop's fee of today.
    """
    return shop.diagnosis_fee if ticket.diagnosis_fee is None else ticket.diagnosis_fee


def diagnosis_fee_with_tax(shop: Shop, ticket: Ticket) -> Decimal:
    """Return the fee agreed at intake with its tax."""
    rates = rates_for(LineKind.FEE, shop, ticket)
    fee = PricedLine(LineKind.FEE, agreed_fee(ticket, shop), rates)
    return total([fee], tax_rule(shop)).total


def fee_is_owed(rows: TicketRows) -> bool:
    """Whether a no costs the diagnosis fee: not while the machine was not looked at."""
    return rows.looked_at or rows.ticket.stage not in (Stage.INTAKE, Stage.DIAGNOSIS)


def is_diagnosis_fee(line: Line) -> bool:
    """Whether the line is the fee for finding the cause, which the owner agreed to at intake."""
    return line.kind == LineKind.FEE and line.reason == Reason.DIAGNOSIS


def may_charge(rows: TicketRows, shop: Shop) -> Decimal:
    """Return the most that may be charged by what was agreed.

    Until the owner was asked that is the say-so limit; the diagnosis fee covers itself, never parts
    or labour. From then on the last word binds: a yes to its amount with the shop's excess rule, a
    no to the fee. What the terms on the claim tag say, storage, comes on top.
    """
    return _agreed(rows, shop) + _by_terms(rows, shop)


def _agreed(rows: TicketRows, shop: Shop) -> Decimal:
    fee = diagnosis_fee_with_tax(shop, rows.ticket)
    if not rows.approvals:
        charged = [line for line in rows.live_lines if line.reckoned != STORAGE]
        only_fee = all(map(is_diagnosis_fee, charged))
        return max(rows.ticket.limit_amount or ZERO, fee if only_fee else ZERO)
    return fee if rows.refused else most_allowed(rows.approved, shop.excess)


def _by_terms(rows: TicketRows, shop: Shop) -> Decimal:
    """Return what storage adds to the bill, with its tax."""
    others = [line for line in rows.lines if line.reckoned != STORAGE]
    if len(others) == len(rows.lines):
        return ZERO
    return totals_of(rows, shop).total - totals_of(replace(rows, lines=others), shop).total


def refuse_over_agreed(rows: TicketRows, shop: Shop, what: str) -> None:
    """Raise ``JobError`` if the lines come to more than was agreed; ``what`` is the subject."""
    due, allowed = totals_of(rows, shop).total, may_charge(rows, shop)
    if due > allowed:
        shown, agreed = (show_money(amount, shop.currency) for amount in (due, allowed))
        raise JobError(
            f"{what} comes to {shown} but only {agreed} was agreed: record a new yes first.",
            "approval",
        )


def refuse_below_zero(total: Decimal) -> None:
    """Raise ``JobError`` for a bill below zero: its discounts are more than the rest."""
    if total < 0:
        raise JobError(
            f"The discounts come to {-total:,.2f} more than the rest: make them smaller.", "lines"
        )


def standing_of(rows: TicketRows, shop: Shop) -> Standing:
    """Return what the stage rule needs to know."""
    ticket, live = rows.ticket, rows.live_lines
    supplies = [line.supply for line in live if line.kind == LineKind.PART]
    proof = [finding for finding in rows.findings if finding.phase == PROOF]
    return Standing(
        stage=Stage(ticket.stage),
        has_complaint=bool(ticket.complaint),
        confirmed=bool(ticket.confirmed),
        findings=sum(finding.phase == DIAGNOSIS for finding in rows.findings),
        lines=len(live),
        total=totals_of(rows, shop).total,
        may_charge=may_charge(rows, shop),
        declined=rows.declined,
        unanswered=rows.unanswered,
        parts_to_order=supplies.count(TO_ORDER),
        parts_on_order=supplies.count(ON_ORDER),
        work_left=sum(line.done_at is None and is_work(line) for line in live),
        proof_points=len(proof),
        proof_failed=_last_failed(proof),
        proof_reason=ticket.proof_reason,
        invoiced=rows.standing_invoice is not None,
        balance=rows.balance,
        balance_reason=ticket.balance_reason,
        told_ready=ticket.told_ready_at is not None,
        left_over=left_over_words(rows.steps, rows.findings),
        currency=shop.currency,
    )


def is_work(line: Line) -> bool:
    """Whether the bench has to do something for it: fees and discounts are no work."""
    return line.kind in WORK


def _last_failed(proof: Sequence[Finding]) -> tuple[str, ...]:
    """Return the titles of the points whose last try failed."""
    last = {finding.check_key or finding.title: finding for finding in proof}
    return tuple(finding.title for finding in last.values() if finding.verdict == Verdict.FAIL)

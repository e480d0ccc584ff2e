"""At the bench: is the complaint real, what do readings and look-sees say, is the repair proved."""

from shopdesk.bench.checks import Check, Verdict
from shopdesk.bench.judging import Judged
from shopdesk.bench.units import Quantity
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.judging import judge_dependents, judge_for, keep_judged, take_back
from shopdesk.job.opened import ticket_view
from shopdesk.job.reference import catalogue
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS, PHASES, PROOF, find_ticket, rows_of
from shopdesk.job.teardown_log import left_over_words
from shopdesk.job.units import machine_of
from shopdesk.job.views import TicketView, UnitView
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Finding, TeardownStep, Ticket

CONFIRMED = ("seen", "not seen", "not safe to try")
_SET_BY_HAND = (Quantity.LENGTH, Quantity.SPEED, Quantity.TORQUE)
VERDICTS = tuple(verdict.value for verdict in Verdict)


def checks_for(unit: UnitView) -> tuple[Check, ...]:
    """Return the checks that fit the machine, in trade order."""
    return catalogue().checks_for(machine_of(unit))


def setting_checks_for(unit: UnitView) -> tuple[Check, ...]:
    """Return the checks that a repair leaves a setting of: gaps, lengths, speeds and torques."""
    return tuple(check for check in checks_for(unit) if check.quantity in _SET_BY_HAND)


def proof_checks_for(ticket: TicketView) -> tuple[Check, ...]:
    """Return the proof run: tried with the engine running, of safety, or out of limits before."""
    failed = {row.check_key for row in ticket.findings if Verdict(row.verdict).is_off}
    return tuple(
        check
        for check in checks_for(ticket.unit)
        if check.safety or check.needs_running or check.key in failed
    )


def try_reading(shift: Shift, ticket_id: int, check_key: str, reading: str) -> Judged:
    """Judge a reading without recording it; raises ``JobError`` at ``reading``."""
    with shift.records.reading():
        return _judged(_check(check_key), reading, find_ticket(ticket_id), load_shop(), None)


def confirm_complaint(shift: Shift, ticket_id: int, seen: str, note: str = "") -> TicketView:
    """Note whether the shop saw the same trouble: ``seen``, ``not seen`` or ``not safe to try``."""
    with shift.changing() as change:
        ticket = _at_bench(ticket_id)
        ticket.confirmed = typed.choice(
            seen, "confirmed", CONFIRMED, "Whether the complaint was seen", needed=True
        )
        ticket.confirmed_note = typed.text(note, "confirmed_note", "The note")
        change.save(ticket)
        return ticket_view(ticket, change.shop, change.today)


def record_finding(
    shift: Shift,
    ticket_id: int,
    check_key: str,
    reading: str,
    *,
    phase: str = DIAGNOSIS,
    note: str = "",
) -> TicketView:
    """Record a reading or look-see of a check of the catalogue, judged; it is the last finding.

    What was read before and waited for this reading is judged by it.

    ``reading`` is as typed; ``phase`` says whether it looks for the cause, is a setting left or
    proves the repair.
    Raises ``JobError`` at ``reading`` when it is none.
    """
    with shift.changing() as change:
        ticket = _at_bench(ticket_id)
        finding = Finding(
            ticket=ticket, phase=_phase(phase, ticket), note=typed.text(note, "note", "The note")
        )
        _judge_into(finding, check_key, reading, change)
        change.add(finding)
        judge_dependents(change, ticket, check_key)
        return ticket_view(ticket, change.shop, change.today)


def record_observation(
    shift: Shift,
    ticket_id: int,
    title: str,
    words: str,
    verdict: str,
    *,
    phase: str = DIAGNOSIS,
    system: str = "",
    note: str = "",
) -> TicketView:
    """Record something seen or set that no check covers, with the mechanic's own verdict."""
    with shift.changing() as change:
        ticket = _at_bench(ticket_id)
        finding = Finding(
            ticket=ticket,
            phase=_phase(phase, ticket),
            system=typed.line(system, "system", "The system"),
            source="the mechanic's own judgement",
            note=typed.text(note, "note", "The note"),
            found_by=change.who,
            found_at=change.at,
        )
        _observe_into(finding, title, words, verdict)
        change.add(finding)
        return ticket_view(ticket, change.shop, change.today)


def correct_finding(
    shift: Shift,
    finding_id: int,
    reading: str,
    *,
    note: str | None = None,
    title: str | None = None,
    verdict: str | None = None,
) -> TicketView:
    """Put a reading right; it is judged anew, and so is what hangs on it.

    The journal keeps what it was.

    ``title`` and ``verdict`` are the mechanic's own on an observation, and left alone on a
    catalogue's check; ``None`` keeps what stands.
    """
    with shift.changing() as change:
        finding = _find_finding(finding_id)
        ticket = _at_bench(finding.ticket_id)
        _refuse_set_at_step(finding)
        if finding.check_key:
            _judge_into(finding, finding.check_key, reading, change)
        else:
            _observe_into(finding, title or finding.title, reading, verdict or finding.verdict)
        if note is not None:
            finding.note = typed.text(note, "note", "The note")
        change.save(finding, "corrected")
        judge_dependents(change, ticket, finding.check_key)
        return ticket_view(ticket, change.shop, change.today)


def drop_finding(shift: Shift, finding_id: int, why: str = "") -> TicketView:
    """Take a finding back; the journal keeps it, and what hangs on it is judged anew.

    Lines that pointed to it stay and say that none supports them.
    """
    with shift.changing() as change:
        finding = _find_finding(finding_id)
        ticket = _at_bench(finding.ticket_id)
        _refuse_set_at_step(finding)
        take_back(change, ticket, finding, typed.line(why, "why", "The reason"))
        return ticket_view(ticket, change.shop, change.today)


def say_no_proof(shift: Shift, ticket_id: int, why: str) -> TicketView:
    """Note why the machine goes without a proof run that passed; empty takes the reason back."""
    with shift.changing() as change:
        ticket = _at_bench(ticket_id)
        ticket.proof_reason = typed.line(why, "proof_reason", "The reason")
        change.save(ticket)
        return ticket_view(ticket, change.shop, change.today)


def _at_bench(ticket_id: int) -> Ticket:
    ticket = find_ticket(ticket_id)
    if ticket.stage == Stage.CLOSED:
        raise JobError("This ticket is closed: reopen it to record anything.", "stage")
    return ticket


def _find_finding(finding_id: int) -> Finding:
    finding = row_of(Finding, finding_id)
    if finding is None:
        raise JobError(
            "That finding is not in the records any more: open the ticket again.", "finding"
        )
    return finding


def _phase(phase: str, ticket: Ticket) -> str:
    """Return the phase; a proof run waits until all that came off is back, or explained."""
    chosen = typed.choice(phase, "phase", PHASES, "The phase", needed=True)
    if chosen != PROOF:
        return chosen
    rows = rows_of(ticket)
    over = left_over_words(rows.steps, rows.findings)
    if over:
        raise JobError(
            f"No proof run yet, not all is back together: {over[0]}. "
            "Put it right, or say at that step why it may stay so.",
            "phase",
        )
    return chosen


def _refuse_set_at_step(finding: Finding) -> None:
    step = TeardownStep.get_or_none(TeardownStep.finding == finding.id)
    if step is not None:
        raise JobError(
            f"This was set as “{step.off}” went back: tick that step of the teardown anew.",
            "finding",
        )


def _judged(check: Check, reading: str, ticket: Ticket, shop: Shop, row_id: int | None) -> Judged:
    words = typed.line(reading, "reading", "The reading", needed=True)
    with typed.at_field("reading"):
        return judge_for(ticket, shop, check, words, finding_id=row_id)


def _check(check_key: str) -> Check:
    with typed.at_field("reading"):
        return catalogue().check(check_key)


def _judge_into(finding: Finding, check_key: str, reading: str, change: Change) -> None:
    check = _check(check_key)
    judged = _judged(check, reading, finding.ticket, change.shop, finding.id)
    keep_judged(finding, check, judged)
    finding.found_by = change.who
    finding.found_at = change.at


def _observe_into(finding: Finding, title: str, words: str, verdict: str) -> None:
    finding.title = typed.line(title, "title", "What was looked at", needed=True)
    finding.typed = finding.shown = typed.line(words, "reading", "What was found", needed=True)
    finding.verdict = typed.choice(verdict, "verdict", VERDICTS, "The verdict", needed=True)
    finding.says = f"{finding.typed}, {finding.verdict}."

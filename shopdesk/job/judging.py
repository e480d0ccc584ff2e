"""Judges what was read at the bench, and judges it anew when a reading that it hangs on changed."""

from collections.abc import Mapping

from shopdesk.bench.checks import Check
from shopdesk.bench.judging import NO_LIMITS, Judged, judge
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Place
from shopdesk.bench.readings import Reading, parse_reading, show_reading
from shopdesk.job import typed
from shopdesk.job.limits import own_limits
from shopdesk.job.reference import catalogue
from shopdesk.job.shift import Change
from shopdesk.job.shop import Shop
from shopdesk.job.teardown_log import setting_of
from shopdesk.job.units import machine_of
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Finding, Line, Photo, TeardownStep, Ticket


def judge_for(
    ticket: Ticket,
    shop: Shop,
    check: Check,
    reading: str,
    *,
    limits: Mapping[str, Limit] = NO_LIMITS,
    finding_id: int | None = None,
) -> Judged:
    """Judge a reading of the ticket's machine, inside a transaction.

    ``limits`` by check go before the machine's own. ``finding_id`` is that of the finding, if it is
    kept already. Raises ``ReadingError``.
    """
    machine, place = machine_of(ticket.unit), Place(shop.altitude_m)
    own = {**own_limits(ticket.unit), **limits}
    return judge(check, reading, machine, place, own, _readings_beside(ticket, finding_id))


def _readings_beside(ticket: Ticket, finding_id: int | None) -> dict[str, Reading]:
    """Return by check the reading that a finding is held against, if its limit hangs on one.

    That is the last reading before the finding; where there is none, the first after it.
    """
    rows = rows_by(Finding, "ticket_id", ticket.id)
    after = [row for row in rows if finding_id is not None and row.id > finding_id]
    before = [row for row in rows if finding_id is None or row.id < finding_id]
    readings: dict[str, Reading] = {}
    for row in (*reversed(after), *before):
        check = catalogue().by_key.get(row.check_key)
        if row.number and check is not None and check.quantity is not None:
            readings[check.key] = parse_reading(row.typed, check.quantity, check.usual_unit)
    return readings


def judge_dependents(change: Change, ticket: Ticket, check_key: str) -> None:
    """Judge the readings anew whose limit is a multiple of that check's reading, which changed.

    Inside a transaction. Who read them, and when, stays.
    """
    hanging = {
        check.key: check
        for check in catalogue().by_key.values()
        if any(rule.limit.times_of == check_key for rule in check.limits)
    }
    if not hanging:
        return
    steps = {step.finding_id: step for step in rows_by(TeardownStep, "ticket_id", ticket.id)}
    for row in rows_by(Finding, "ticket_id", ticket.id):
        if row.check_key in hanging:
            limits = limits_at(steps.get(row.id))
            check = hanging[row.check_key]
            with typed.at_field("reading"):
                judged = judge_for(
                    ticket, change.shop, check, row.typed, limits=limits, finding_id=row.id
                )
            keep_judged(row, check, judged)
            change.save(row, "judged anew: its limit hangs on another reading, which changed")


def take_back(change: Change, ticket: Ticket, finding: Finding, why: str) -> None:
    """Remove a finding inside a transaction, and let go of it what pointed to it.

    Its lines say then that none supports them, and what hung on it is judged anew.
    """
    for table in (Line, Photo):
        for row in table.select().where(table.finding == finding.id):
            row.finding = None
            change.save(row)
    change.remove(finding, why)
    judge_dependents(change, ticket, finding.check_key)


def limits_at(step: TeardownStep | None) -> dict[str, Limit]:
    """Return the limit that was typed at a step of the teardown, by its check."""
    setting = setting_of(step) if step else None
    return {setting.check_key: setting.limit} if setting and setting.limit else {}


def keep_judged(finding: Finding, check: Check, judged: Judged) -> None:
    """Write what was judged into a finding."""
    finding.check_key = judged.check_key
    finding.title = judged.title
    finding.system = check.system
    finding.typed = judged.typed
    finding.shown = _shown(check, judged)
    finding.verdict = judged.verdict
    finding.outcome = judged.outcome
    finding.limit_words = judged.limit
    finding.correction = judged.correction
    finding.source = judged.source
    finding.rules_out = judged.rules_out
    finding.points_to = judged.points_to
    finding.says = judged.says
    _keep_reading(finding, judged.reading)


def _keep_reading(finding: Finding, reading: Reading | None) -> None:
    finding.number = str(reading.number) if reading else ""
    finding.typed_unit = reading.unit if reading else ""
    finding.si_value = str(reading.si) if reading else ""
    finding.si_unit = reading.si_unit if reading else ""


def _shown(check: Check, judged: Judged) -> str:
    if judged.reading is not None:
        return show_reading(judged.reading)
    return next(choice.words for choice in check.seen if choice.key == judged.seen)

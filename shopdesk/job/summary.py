"""Gathers the "work performed and why": complaint, what was found, done and why, what next."""

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

from shopdesk.bench.checks import System, Verdict
from shopdesk.job import paper_content as paper
from shopdesk.job.invoices.credited import credited_by_line, credits_on_standing
from shopdesk.job.opened import evidence_for, tag_of
from shopdesk.job.paperwork import addressee, letterhead, machine, why_words
from shopdesk.job.reasons import Reason
from shopdesk.job.reference import catalogue, cause_title
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.standing import (
    DECLINED,
    DIAGNOSIS,
    PROOF,
    SETTING,
    TicketRows,
    find_ticket,
    is_work,
    rows_of,
    totals_of,
)
from shopdesk.job.upkeep_plan import upkeep_ahead
from shopdesk.pricing.totals import ZERO
from shopdesk.records.tables import Finding, Line, Photo, Ticket

_CLEARED_AT_A_LOOK = (System.SPARK, System.COMPRESSION)
"""Systems that their first look clears; a full primer bulb or a clean filter proves less."""
_CONFIRMED = {
    "seen": "We saw the same trouble here.",
    "not seen": "We could not see the trouble here.",
    "not safe to try": "It was not safe to try it as it came in.",
}


def summary_content(shift: Shift, ticket_id: int) -> paper.SummaryContent:
    """Return the summary of a ticket as it stands today."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        rows, today = rows_of(ticket), shift.today_in(shop)
        ahead = None if rows.declined else upkeep_ahead(ticket.unit, today)
        credited, done = credited_by_line(rows), filter(_counts_as_done, rows.live_lines)
        return paper.SummaryContent(
            shop=letterhead(shop),
            ticket=tag_of(ticket.number),
            on=today,
            owner=addressee(ticket.customer),
            machine=machine(ticket.unit),
            complaint=ticket.complaint,
            onset=ticket.onset,
            confirmed=_confirmed(ticket),
            returned_as_is=rows.declined,
            found=_found_rows(rows.findings, DIAGNOSIS),
            done=tuple(_done_row(line, rows, credited.get(line.id, "")) for line in done),
            not_done=tuple(
                _done_row(line, rows) for line in rows.lines if line.decision == DECLINED
            ),
            settings=_found_rows(rows.findings, SETTING),
            proof=_found_rows(rows.findings, PROOF),
            total=_total(rows, shop),
            owed=rows.balance if rows.standing_invoice else None,
            next_steps=ahead.rows if ahead else (),
            cautions=ahead.cautions if ahead else (),
            photos=_photos(shift, ticket),
            cause=_cause(ticket),
            credits=credits_on_standing(rows),
        )


def _total(rows: TicketRows, shop: Shop) -> Decimal:
    """Return what it comes to: as invoiced and credited, or before that as the lines stand."""
    if rows.standing_invoice is None:
        return totals_of(rows, shop).total
    return sum((bill.total for bill in rows.invoices), ZERO)


def _confirmed(ticket: Ticket) -> str:
    return " ".join(filter(None, (_CONFIRMED.get(ticket.confirmed, ""), ticket.confirmed_note)))


def _cause(ticket: Ticket) -> str:
    title = cause_title(ticket.cause, ticket.cause_words)
    return title if ticket.cause_words in ("", title) else f"{title}: {ticket.cause_words}"


def _found_rows(findings: Sequence[Finding], phase: str) -> tuple[paper.FoundRow, ...]:
    """Return a row for each thing looked at in that phase, a later reading beside the first."""
    first: dict[str, Finding] = {}
    for row in (finding for finding in findings if finding.phase == phase):
        first.setdefault(_what(row), row)
    return tuple(
        _found_row(row, _last_again(row, findings), _cleared(row, first.values()))
        for row in first.values()
    )


def _last_again(first: Finding, findings: Iterable[Finding]) -> Finding | None:
    again = [row for row in findings if row.id > first.id and _what(row) == _what(first)]
    return again[-1] if again else None


def _what(row: Finding) -> str:
    return row.check_key or row.title.casefold()


def _cleared(row: Finding, looked_at: Iterable[Finding]) -> str:
    """Return the system that a first look finds in order, if nothing else of it was off."""
    check = catalogue().by_key.get(row.check_key)
    if check is None or not check.first_look or check.system not in _CLEARED_AT_A_LOOK:
        return ""
    of_system = [other for other in looked_at if other.system == check.system]
    return check.system if all(other.verdict == Verdict.PASS for other in of_system) else ""


def _first_clause(sentence: str) -> str:
    """Return what a sentence of the bench establishes, without the advice after its colon."""
    clause = re.split("[:;]", sentence)[0]
    return clause if clause == sentence else f"{clause}."


def _found_row(row: Finding, again: Finding | None, clears: str) -> paper.FoundRow:
    return paper.FoundRow(
        title=row.title,
        before=row.shown,
        after=again.shown if again else "",
        limit=row.limit_words,
        source="; ".join(filter(None, (row.correction, row.source))),
        verdict=row.verdict,
        verdict_after=again.verdict if again else "",
        clears=clears,
        rules_out=_first_clause(row.rules_out),
        note=row.note,
    )


def _counts_as_done(line: Line) -> bool:
    return is_work(line) and line.done_at is not None


def _done_row(line: Line, rows: TicketRows, credited: str = "") -> paper.DoneRow:
    findings = {finding.id: finding for finding in rows.findings}
    return paper.DoneRow(
        what=line.description,
        why=why_words(line),
        evidence=evidence_for(line, findings),
        had_failed=line.reason in (Reason.FAILED, Reason.WORN),
        credited=credited,
    )


def _photos(shift: Shift, ticket: Ticket) -> tuple[paper.PhotoOnPaper, ...]:
    rows = Photo.select().where(Photo.ticket == ticket.id).order_by(Photo.id)
    folder = shift.records.photo_folder
    return tuple(paper.PhotoOnPaper(folder / row.file, row.caption) for row in rows)

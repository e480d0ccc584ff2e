"""Gathers the bench sheet of a ticket: checks to do, what came off, the way back together."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from shopdesk.bench.cautions import Caution
from shopdesk.bench.checks import Check, Verdict
from shopdesk.bench.judging import limit_in_force
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Place
from shopdesk.job import paper_content as paper
from shopdesk.job.diagnosis import checks_for, proof_checks_for
from shopdesk.job.limits import own_limits
from shopdesk.job.opened import tag_of, ticket_view
from shopdesk.job.paperwork import letterhead, machine
from shopdesk.job.reference import cautions
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import PROOF, find_ticket
from shopdesk.job.teardown_views import NOTHING
from shopdesk.job.units import machine_of
from shopdesk.job.views import ReassemblyStepView, TeardownStepView, TicketView

_LOOKING = (Stage.INTAKE, Stage.DIAGNOSIS, Stage.APPROVAL, Stage.PARTS)


def bench_sheet_content(shift: Shift, ticket_id: int) -> paper.BenchSheetContent:
    """Return the bench sheet of a ticket as it stands."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        today = shift.today_in(shop)
        view = ticket_view(ticket, shop, today)
        folder = shift.records.photo_folder
        return paper.BenchSheetContent(
            shop=letterhead(shop),
            ticket=tag_of(ticket.number),
            on=today,
            owner=view.owner.name,
            machine=machine(ticket.unit),
            complaint=view.complaint,
            standing=_caution_row(cautions().standing),
            checks=tuple(_check_rows(view, own_limits(ticket.unit), shop)),
            proving=view.stage not in _LOOKING,
            teardown=tuple(_teardown_row(step, folder) for step in view.teardown),
            reassembly=tuple(_reassembly_row(step) for step in view.reassembly),
        )


def checks_to_do(ticket: TicketView) -> tuple[Check, ...]:
    """Return the checks that wait: the four first looks, and from the repair on the proof run."""
    if ticket.stage in _LOOKING:
        done = {row.check_key for row in ticket.findings}
        first = (check for check in checks_for(ticket.unit) if check.first_look)
        waiting = sorted(first, key=lambda check: check.first_look)
    else:
        done = {row.check_key for row in ticket.findings if row.phase == PROOF}
        waiting = list(proof_checks_for(ticket))
    return tuple(check for check in waiting if check.key not in done)


def _check_rows(
    ticket: TicketView, own: Mapping[str, Limit], shop: Shop
) -> Iterator[paper.BenchCheckRow]:
    kind = machine_of(ticket.unit)
    for check in checks_to_do(ticket):
        good, correction = _good(check, own.get(check.key) or check.limit_for(kind), shop)
        needed = cautions().named(check.cautions, kind)
        yield paper.BenchCheckRow(
            title=check.title,
            how=check.how,
            tools=check.tools,
            minutes=check.minutes,
            limit=good,
            correction=correction,
            cautions=tuple(map(_caution_row, needed)),
        )


def _backed(said: Sequence[str]) -> tuple[paper.CautionRow, ...]:
    """Return a step's cautions, said in words, with what backs each."""
    known = {caution.words: caution for caution in cautions().by_key.values()}
    return tuple(_caution_row(known[words]) for words in said)


def _caution_row(caution: Caution) -> paper.CautionRow:
    return paper.CautionRow(caution.words, caution.backing)


def _good(check: Check, limit: Limit | None, shop: Shop) -> tuple[str, str]:
    """Return what is good, and why the limit is not the one in the book.

    That is what should be seen, or the limit that holds at the shop's altitude.
    """
    if limit is None:
        seen = (choice.words for choice in check.seen if choice.verdict is Verdict.PASS)
        return " or ".join(seen), ""
    if limit.times_of:
        return "", ""
    held, correction = limit_in_force(limit, Place(shop.altitude_m))
    return held.words(), correction


def _teardown_row(step: TeardownStepView, folder: Path) -> paper.TeardownRow:
    return paper.TeardownRow(
        number=step.number,
        off=step.off,
        sub_assembly=step.sub_assembly,
        after="" if step.after == NOTHING else step.after,
        fasteners=step.fasteners,
        mark=step.mark,
        routing=step.routing,
        cautions=_backed(step.cautions),
        photos=tuple(
            paper.PhotoOnPaper(folder / photo.file, photo.caption) for photo in step.photos
        ),
    )


def _reassembly_row(step: ReassemblyStepView) -> paper.ReassemblyRow:
    return paper.ReassemblyRow(
        number=step.number,
        words=step.words,
        care=step.care,
        cautions=_backed(step.cautions),
        fasteners=step.fasteners,
        setting=step.setting,
        limit=step.limit,
        ticked=step.done,
        entered=", ".join(filter(None, (step.entered, step.verdict))),
        explained=step.explained,
    )

"""Tells how a machine comes in and what the bench finds."""

from collections.abc import Iterable, Iterator
from datetime import timedelta
from decimal import Decimal

from shopdesk.dates import show_date
from shopdesk.demo.clock import Wait
from shopdesk.demo.clocking import clock_off, clock_on
from shopdesk.demo.learning import say_card, say_odds
from shopdesk.demo.owners import Owner
from shopdesk.demo.reminding import said_come
from shopdesk.demo.stories import Look
from shopdesk.demo.told import Told
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import confirm_complaint, record_finding, record_observation
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.meter import read_meter
from shopdesk.job.moving import go_on
from shopdesk.job.photos import add_photo
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS, PROOF, SETTING
from shopdesk.job.units import UnitEntry
from shopdesk.job.upkeep_done import DoneEntry, say_done
from shopdesk.job.views import FindingView, TicketView
from shopdesk.pricing.money import show_money


def bring_in(told: Told) -> Iterator[Wait]:
    """The machine is set on the counter."""
    cast, key = told.cast, told.unit.key
    if told.visit.owner:
        cast.owner_of[key] = cast.owners[told.visit.owner]
    said_come(cast, key)
    owner = told.owner
    customer = cast.customer_ids.get(owner.name) or customer_entry(owner)
    unit = cast.unit_ids.get(key) or _unit_entry(told)
    told.ticket = ticket = take_in(
        cast.counter, customer, unit, _ticket_entry(told), changed_hands=bool(told.visit.owner)
    )
    cast.customer_ids[owner.name], cast.unit_ids[key] = ticket.owner.id, ticket.unit.id
    _say_intake(told, ticket)
    yield Wait(minutes=2)
    _ask_of_upkeep(told)


def meter_then(told: Told) -> str:
    """Return what the hour meter of the machine reads on this day, empty where it has none."""
    if not told.unit.meter_hours:
        return ""
    ago = Decimal((told.cast.today - told.cast.counter.today).days) / 7
    hours = Decimal(told.unit.meter_hours) - ago * Decimal(told.unit.hours_per_week)
    return str(max(Decimal(1), hours.quantize(Decimal(1))))


def _ask_of_upkeep(told: Told) -> None:
    """The hour meter is read, and the owner says what they did themselves."""
    counter, unit_id = told.cast.counter, told.now.unit.id
    hours = meter_then(told)
    if hours:
        read_meter(counter, unit_id, hours)
    for task in told.visit.said_done:
        on = counter.today - timedelta(days=told.luck.randint(10, 60))
        say_done(counter, unit_id, DoneEntry(task, on.isoformat(), note="did it at home"))


def _say_intake(told: Told, ticket: TicketView) -> None:
    limit = "they are called before any work"
    if ticket.limit:
        limit = f"we may go up to {show_money(ticket.limit)} without a call"
    told.say(f"{ticket.owner.name} sets on the counter: {ticket.unit.title}. Tag {ticket.tag}.")
    told.say(f"“{ticket.complaint}” It came on {ticket.onset}.")
    told.say(f"left with it: {ticket.accessories or 'nothing'}; {limit}")
    if ticket.promised_on:
        told.say(f"promised for {show_date(ticket.promised_on)}")


def customer_entry(owner: Owner) -> CustomerEntry:
    """Return the owner as typed at the counter."""
    return CustomerEntry(
        owner.name,
        owner.phones,
        email=owner.email,
        address=owner.address,
        notes=owner.notes,
        tax_exempt_number=owner.tax_exempt_number,
        may_remind=owner.may_remind,
        shared_phone=owner.shared_phone,
        preferred_way=owner.preferred_way,
    )


def _unit_entry(told: Told) -> UnitEntry:
    unit = told.unit
    bought = told.cast.today - timedelta(days=365 * unit.years)
    return UnitEntry(
        unit.kind,
        unit.engine,
        unit.make,
        unit.model,
        unit.serial,
        bought_on=bought.isoformat(),
        hours_per_week=unit.hours_per_week,
        first_month=unit.first_month,
        last_month=unit.last_month,
        severe_use=unit.severe_use,
        meter_hours=meter_then(told),
    )


def _ticket_entry(told: Told) -> TicketEntry:
    story, visit = told.story, told.visit
    return TicketEntry(
        visit.complaint or told.luck.choice(story.complaint),
        complaint_kind=story.complaint_kind,
        onset=story.onset,
        fuel=story.fuel,
        accessories=story.accessories,
        condition=story.condition,
        notes=visit.notes,
        promised_on=f"in {visit.promised_in} days" if visit.promised_in else "",
        limit=story.limit,
        old_parts_back=visit.old_parts_back,
        comeback=visit.comeback,
    )


def look(told: Told) -> Iterator[Wait]:
    """The bench takes it up, and tries whether the complaint can be seen."""
    bench, story = told.cast.bench, told.story
    yield Wait(days=told.days_in_the_queue())
    told.ticket = go_on(bench, told.id, Stage.DIAGNOSIS)
    say_card(told)
    if story.confirmed:
        yield Wait(minutes=told.luck.randint(3, 12))
        told.ticket = confirm_complaint(bench, told.id, story.confirmed, story.confirmed_note)
        told.say(f"complaint {story.confirmed}: {story.confirmed_note}")
    say_odds(told, "before a look")


def find(told: Told) -> Iterator[Wait]:
    """The bench looks for the cause."""
    clock_on(told)
    yield from record(told, told.story.findings, DIAGNOSIS)
    clock_off(told)
    say_odds(told, "after it")


def record(told: Told, looks: Iterable[Look], phase: str) -> Iterator[Wait]:
    """Record each of ``looks``, with its picture when one was taken."""
    bench = told.cast.bench
    for one in looks:
        yield Wait(minutes=told.luck.randint(1, 6))
        if one.check:
            drawn = told.luck.choice(one.readings)
            typed = told.visit.readings.get(one.check, drawn) if phase == DIAGNOSIS else drawn
            told.ticket = record_finding(
                bench, told.id, one.check, typed, phase=phase, note=one.note
            )
        else:
            told.ticket = record_observation(
                bench, told.id, one.title, one.words, one.verdict, phase=phase, note=one.note
            )
        finding = told.now.findings[-1]
        told.finding_ids[one.id or one.check] = finding.id
        _say_finding(told, finding, phase)
        if one.photo:
            picture = told.cast.pictures(one.photo)
            caption = one.note or f"{finding.title}: {finding.shown}"
            told.ticket = add_photo(bench, told.id, picture, caption, finding.id)


def _say_finding(told: Told, finding: FindingView, phase: str) -> None:
    lead = {SETTING: "left set: ", PROOF: "proof run: "}.get(phase, "")
    meaning = finding.rules_out or finding.points_to
    told.say(f"{lead}{finding.title}: {finding.says} {meaning}".rstrip())

"""What it is likely to be, and what to look at next, from all that a ticket says so far."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.causes import Case, Finding, Share, ShopCounts, Weighed, weigh
from shopdesk.bench.complaints import NOT_KNOWN
from shopdesk.bench.evidence import Evidence, evidence_for
from shopdesk.bench.judging import Judged
from shopdesk.bench.machines import Machine
from shopdesk.bench.next_step import NextSteps, Rates, Step, StepKind, next_steps
from shopdesk.job.fuel_told import CHECK, fuel_told
from shopdesk.job.limits import own_limits
from shopdesk.job.reference import catalogue, cause_book, cautions
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.shop_history import closed_counts, renewed_lately
from shopdesk.job.standing import DIAGNOSIS, find_ticket
from shopdesk.job.units import machine_of
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Finding as FindingRow
from shopdesk.records.tables import OverruledCause, Ticket

STEPS_SHOWN = 3
_SURE, _TELLING_NAMED = 0.9, 2
"""A cause likelier than that needs no more looking; so many checks are named before its fix."""


@dataclass(frozen=True, slots=True)
class CauseView:
    """One cause: its probability from 0 to 1, in words, and what puts it right."""

    key: str
    title: str
    probability: float
    words: str
    """``34 in 100``."""
    fix: str
    minutes: Decimal
    overruled: str
    """Why the mechanic says that it is not this, or empty."""


@dataclass(frozen=True, slots=True)
class StepView:
    """Something to do next: ``cost`` is of the step, ``expected`` the mean until it is cured."""

    is_check: bool
    """A check of that ``key``; else the fix of the cause of that key."""
    key: str
    title: str
    minutes: Decimal
    cost: Decimal
    expected: Decimal
    why: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SafetyView:
    """A check for safety that is still to be made, whatever the odds say."""

    key: str
    title: str


@dataclass(frozen=True, slots=True)
class RankingView:
    """The odds and what to do next; a suggestion, that never overrides the mechanic."""

    causes: tuple[CauseView, ...]
    """Likeliest first, "something else" among them; overruled ones last."""
    steps: tuple[StepView, ...]
    """The best three."""
    others: tuple[StepView, ...]
    """All further ones, best first: another may be taken."""
    safety: tuple[SafetyView, ...]
    contradiction: str
    """What to think of findings that don't go together, or that the likely causes leave
    unexplained; or empty."""
    told: str
    """A sentence on what counts that only the owner said, or empty."""
    history: str
    """A sentence on what the shop's own tickets put in."""

    def in_short(self, most: int = 6) -> tuple[CauseView, ...]:
        """Return the likeliest causes, "something else" among them, and the rest as one.

        The rest has no key; causes that were overruled are left out.
        """
        counting = [cause for cause in self.causes if not cause.overruled]
        if len(counting) <= most + 1:
            return tuple(counting)
        other = [cause for cause in counting if cause.key == SOMETHING_ELSE]
        named = [cause for cause in counting if cause.key != SOMETHING_ELSE]
        shown = sorted(named[: most - 1] + other, key=lambda cause: cause.probability, reverse=True)
        return (*shown, _together(named[most - 1 :]))

    @property
    def overruled(self) -> tuple[CauseView, ...]:
        """The causes that the mechanic said it is not."""
        return tuple(cause for cause in self.causes if cause.overruled)


def ranking(shift: Shift, ticket_id: int) -> RankingView:
    """Weigh the causes of a ticket's trouble and rank what to do next."""
    with shift.records.reading():
        return ranking_of(find_ticket(ticket_id), load_shop())


def ranking_of(ticket: Ticket, shop: Shop) -> RankingView:
    """Do what ``ranking`` does, inside a transaction."""
    machine = machine_of(ticket.unit)
    overruled = {row.cause: row.why for row in overruled_on(ticket)}
    matter = matter_of(ticket)
    case, evidence, told, weighed = matter.case, matter.evidence, matter.told, matter.weighed
    at_bench = case if matter.looked_at else replace(case, findings=())
    following = next_steps(at_bench, evidence, Rates(shop.bench_rate))
    untried = _untried(weighed.shares, following.steps)
    steps = tuple(_step_view(step, machine, untried.get(step.key, "")) for step in following.steps)
    return RankingView(
        causes=_cause_views(weighed.shares, overruled),
        steps=steps[:STEPS_SHOWN],
        others=steps[STEPS_SHOWN:],
        safety=_safety(following),
        contradiction=_contradiction(weighed),
        told=f"The fuel counts as was said at the counter: {told.says}" if told else "",
        history=history_words(case.counts),
    )


@dataclass(frozen=True, slots=True)
class Matter:
    """What is known of a ticket's trouble, and how the causes weigh by it."""

    case: Case
    evidence: Evidence
    weighed: Weighed
    told: Judged | None
    """What counts that only the owner said."""
    looked_at: bool
    """Whether anything was found at the bench."""


def matter_of(ticket: Ticket) -> Matter:
    """Weigh the causes of a ticket's trouble, inside a transaction."""
    machine, own = machine_of(ticket.unit), own_limits(ticket.unit)
    found = _last_findings(ticket)
    told = None if CHECK in found else fuel_told(ticket.fuel, machine, own)
    overruled = frozenset(row.cause for row in overruled_on(ticket))
    case = _case(ticket, [*found.values(), *filter(None, [told])], overruled)
    evidence = evidence_for(machine, cause_book(), catalogue(), own)
    return Matter(case, evidence, weigh(case, evidence), told, bool(found))


def _case(ticket: Ticket, found: Iterable[FindingRow | Judged], overruled: frozenset[str]) -> Case:
    unit = ticket.unit
    return Case(
        complaint=ticket.complaint_kind,
        onset=ticket.onset or NOT_KNOWN,
        findings=tuple(Finding(each.check_key, each.outcome) for each in found),
        ruled_out=overruled,
        renewed_lately=renewed_lately(ticket),
        counts=closed_counts(unit.kind, unit.engine, unit.model_key, ticket.id),
    )


def overruled_on(ticket: Ticket) -> list[OverruledCause]:
    """Return the causes that were overruled on a ticket, inside a transaction."""
    return rows_by(OverruledCause, "ticket_id", ticket.id)


def _last_findings(ticket: Ticket) -> dict[str, FindingRow]:
    """Return the last finding of each check that was made to find the cause."""
    rows = rows_by(FindingRow, "ticket_id", ticket.id)
    return {row.check_key: row for row in rows if row.phase == DIAGNOSIS and row.check_key}


def _cause_views(shares: Sequence[Share], overruled: Mapping[str, str]) -> tuple[CauseView, ...]:
    ordered = sorted(shares, key=lambda share: share.cause.key in overruled)
    return tuple(
        CauseView(
            key=share.cause.key,
            title=share.cause.title,
            probability=share.probability,
            words=_in_a_hundred(share.probability),
            fix=share.cause.fix,
            minutes=share.cause.minutes,
            overruled=overruled.get(share.cause.key, ""),
        )
        for share in ordered
    )


def _together(rest: Sequence[CauseView]) -> CauseView:
    share = sum(cause.probability for cause in rest)
    title = f"{len(rest)} others together"
    return CauseView("", title, share, _in_a_hundred(share), "", Decimal(0), "")


def _in_a_hundred(probability: float) -> str:
    if probability < 0.01:
        return "less than 1 in 100"
    return f"{probability * 100:.0f} in 100" if probability < 0.99 else "more than 99 in 100"


def _untried(shares: Sequence[Share], steps: Sequence[Step]) -> dict[str, str]:
    """Say by cause, where it is not sure, which checks not made yet would tell."""
    checks = {step.key: step for step in steps if step.kind is StepKind.CHECK}
    found = {}
    for share in shares:
        telling = [checks[key] for key in share.cause.shows if key in checks][:_TELLING_NAMED]
        if telling and share.probability < _SURE:
            titles = [f"“{one.title}” ({show_quantity(one.minutes)} min)" for one in telling]
            named = ", ".join(titles)
            found[share.cause.key] = f" Not looked at yet, and would tell: {named}."
    return found


def _step_view(step: Step, machine: Machine, untried: str) -> StepView:
    is_check = step.kind is StepKind.CHECK
    keys = catalogue().check(step.key).cautions if is_check else ()
    return StepView(
        is_check=is_check,
        key=step.key,
        title=step.title,
        minutes=step.minutes,
        cost=step.cost,
        expected=step.expected,
        why=step.why if is_check else step.why + untried,
        cautions=tuple(caution.words for caution in cautions().named(keys, machine)),
    )


def _safety(following: NextSteps) -> tuple[SafetyView, ...]:
    return tuple(SafetyView(check.key, check.title) for check in following.safety)


def _contradiction(weighed: Weighed) -> str:
    return " ".join(filter(None, (_odd_words(weighed), _unexplained_words(weighed))))


def _odd_words(weighed: Weighed) -> str:
    if not weighed.odd_finding:
        return ""
    title = catalogue().check(weighed.odd_finding).title
    return (
        f"“{title}” does not go with the other findings: "
        "make that check again before building on it."
    )


def _unexplained_words(weighed: Weighed) -> str:
    """Say which faults found do not come from the likely causes."""
    titles = [f"“{catalogue().check(key).title}”" for key in weighed.unexplained]
    if not titles:
        return ""
    *first, last = titles
    named, them = (f"{', '.join(first)} and {last}", "them") if first else (last, "it")
    return (
        f"What was found at {named} does not come from the likelier causes: "
        f"there may be more than one fault, so see to {them} as well."
    )


def history_words(counts: ShopCounts) -> str:
    """Say which closed tickets the odds count."""
    model, rest = sum(counts.model.values()), sum(counts.rest_of_kind.values())
    if not model and not rest:
        return "No closed ticket of this kind of machine names a cause yet: these are trade odds."
    return (
        f"The odds count {_tickets(model)} of this model and {rest} of others of its kind "
        "that name their cause."
    )


def _tickets(count: int) -> str:
    return "1 closed ticket" if count == 1 else f"{count} closed tickets"

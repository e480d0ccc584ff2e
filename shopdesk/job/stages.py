"""The one stage rule: what may follow what, what is missing before it may, and whose move it is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shopdesk.pricing.money import show_money


class Stage(StrEnum):
    """Where a ticket stands."""

    INTAKE = "Intake"
    DIAGNOSIS = "Diagnosis"
    APPROVAL = "Approval"
    PARTS = "Parts"
    REPAIR = "Repair"
    PICKUP = "Pickup"
    CLOSED = "Closed"


class Move(StrEnum):
    """Who has to act next. Derived, never typed."""

    BENCH = "bench"
    OWNER = "owner"
    SUPPLIER = "supplier"
    COUNTER = "counter"
    NOBODY = "nobody"


MENDED, AS_IS, NOT_FETCHED = OUTCOMES = ("mended", "returned as is", "not fetched")
"""How a closed ticket ended."""


@dataclass(frozen=True, slots=True)
class Standing:
    """What the stage rule needs to know of a ticket. Money is in the shop's currency."""

    stage: Stage
    has_complaint: bool
    confirmed: bool
    """The complaint was tried: seen, not seen, or not safe to try."""
    findings: int
    lines: int
    total: Decimal
    """What the ticket would be invoiced at now."""
    may_charge: Decimal
    """The most that the yeses so far allow, the shop's excess rule included."""
    declined: bool
    """The last word on the estimate was no."""
    unanswered: bool
    """An estimate was given that the owner has not answered."""
    parts_to_order: int
    parts_on_order: int
    work_left: int
    """Approved lines that are neither done nor dropped."""
    proof_points: int
    proof_failed: tuple[str, ...]
    proof_reason: str
    invoiced: bool
    """An invoice stands that was not credited."""
    balance: Decimal
    balance_reason: str
    told_ready: bool
    left_over: tuple[str, ...] = ()
    """What came off and is not back as it was, and why it may stay so was not said."""
    currency: str = "$"
    """The sign of the shop's money."""


@dataclass(frozen=True, slots=True)
class Way:
    """A stage the ticket may go to next, and what is missing before it may (empty: it may)."""

    to: Stage
    missing: tuple[str, ...]


_MOST_NAMED = 3
Rule = Callable[[Standing], str]
"""Returns what is missing, in words, or nothing."""


def _complaint(now: Standing) -> str:
    return "" if now.has_complaint else "no complaint written down: write what the owner said"


def _looked_at(now: Standing) -> str:
    if now.findings or now.confirmed:
        return ""
    return "nothing found yet: record a finding, or say whether the complaint could be seen"


def _priced(now: Standing) -> str:
    return "" if now.lines else "no part, labour or fee on the ticket: add what the repair needs"


def _approved(now: Standing) -> str:
    if now.declined:
        return (
            "the owner said no to the estimate: change it and ask again, "
            "or return the machine as it is"
        )
    if now.total <= now.may_charge:
        return ""
    total = show_money(now.total, now.currency)
    return f"no approval recorded for {total}: record who said yes and how"


def _parts_named(now: Standing) -> str:
    if now.parts_to_order or now.parts_on_order:
        return ""
    return "no part to wait for: go straight to the repair"


def _parts_here(now: Standing) -> str:
    waiting = now.parts_to_order + now.parts_on_order
    return (
        ""
        if not waiting
        else f"{_count(waiting, 'part')} not here yet: receive or drop what is missing"
    )


def _work_done(now: Standing) -> str:
    return (
        ""
        if not now.work_left
        else f"{_count(now.work_left, 'line')} not ticked as done: tick or drop them"
    )


def _proved(now: Standing) -> str:
    if now.declined or now.proof_reason:
        return ""
    if not now.proof_points:
        return "no proof run recorded: run the machine and record it, or say why not"
    if now.proof_failed:
        return (
            f"the proof run failed ({', '.join(now.proof_failed)}): mend it, or say why it may go"
        )
    return ""


def _put_back(now: Standing) -> str:
    if not now.left_over:
        return ""
    more = len(now.left_over) - _MOST_NAMED
    named = "; ".join(now.left_over[:_MOST_NAMED])
    others = f" (and {more} more)" if more > 0 else ""
    return f"not all is back together: {named}{others}: put it right, or say why it may stay so"


def _declined(now: Standing) -> str:
    return "" if now.declined else "no decline recorded: record who said no and how"


def _invoiced(now: Standing) -> str:
    return "" if now.invoiced or not now.lines else "no invoice issued: issue it first"


def _settled(now: Standing) -> str:
    if now.balance == 0 or now.balance_reason:
        return ""
    if now.balance < 0:
        back = show_money(-now.balance, now.currency)
        return f"{back} is owed to the owner: give it back, or note what was agreed"
    owed = show_money(now.balance, now.currency)
    return f"{owed} is still owed: take the payment, or note what was agreed"


def _no_invoice(now: Standing) -> str:
    return "an invoice stands: write a credit note for it first" if now.invoiced else ""


def _told(now: Standing) -> str:
    return (
        "" if now.told_ready else "the owner was never told that it is ready: tell them and note it"
    )


_MENDED: tuple[Rule, ...] = (_parts_here, _work_done, _put_back, _proved)
_AS_IT_CAME: tuple[Rule, ...] = (_declined, _put_back)

_FORWARD: Mapping[tuple[Stage, Stage], tuple[Rule, ...]] = {
    (Stage.INTAKE, Stage.DIAGNOSIS): (_complaint,),
    (Stage.INTAKE, Stage.PICKUP): _AS_IT_CAME,
    (Stage.DIAGNOSIS, Stage.APPROVAL): (_looked_at, _priced),
    (Stage.DIAGNOSIS, Stage.REPAIR): (_looked_at, _priced, _approved, _parts_here),
    (Stage.DIAGNOSIS, Stage.PICKUP): _AS_IT_CAME,
    (Stage.APPROVAL, Stage.PARTS): (_priced, _approved, _parts_named),
    (Stage.APPROVAL, Stage.REPAIR): (_priced, _approved, _parts_here),
    (Stage.APPROVAL, Stage.PICKUP): _AS_IT_CAME,
    (Stage.PARTS, Stage.REPAIR): (_approved, _parts_here),
    (Stage.REPAIR, Stage.PICKUP): (_approved, *_MENDED),
    (Stage.PICKUP, Stage.CLOSED): (*_MENDED, _invoiced, _settled),
}

_BACK: Mapping[tuple[Stage, Stage], tuple[Rule, ...]] = {
    (Stage.DIAGNOSIS, Stage.INTAKE): (),
    (Stage.APPROVAL, Stage.DIAGNOSIS): (),
    (Stage.PARTS, Stage.APPROVAL): (),
    (Stage.PARTS, Stage.DIAGNOSIS): (),
    (Stage.REPAIR, Stage.PARTS): (),
    (Stage.REPAIR, Stage.APPROVAL): (),
    (Stage.REPAIR, Stage.DIAGNOSIS): (),
    (Stage.PICKUP, Stage.REPAIR): (_no_invoice,),
    (Stage.PICKUP, Stage.APPROVAL): (_no_invoice,),
    (Stage.PICKUP, Stage.DIAGNOSIS): (_no_invoice,),
    (Stage.CLOSED, Stage.PICKUP): (),
}

_UNFETCHED: tuple[Rule, ...] = (_told,)


def ways_on(now: Standing) -> tuple[Way, ...]:
    """Return the stages that may follow, each with what is missing before it may."""
    return _ways(_FORWARD, now)


def ways_back(now: Standing) -> tuple[Way, ...]:
    """Return the earlier stages a ticket may be sent back to, given a reason."""
    return _ways(_BACK, now)


def missing_to_invoice(now: Standing) -> tuple[str, ...]:
    """Return what of the work is missing before a machine in Pickup may be invoiced."""
    return _missing(_MENDED, now)


def missing_to_close_unfetched(now: Standing) -> tuple[str, ...]:
    """Return what is missing before a machine in Pickup may be closed as never fetched."""
    return _missing(_UNFETCHED, now)


def _ways(table: Mapping[tuple[Stage, Stage], tuple[Rule, ...]], now: Standing) -> tuple[Way, ...]:
    return tuple(
        Way(to, _missing(rules, now)) for (start, to), rules in table.items() if start is now.stage
    )


def _missing(rules: tuple[Rule, ...], now: Standing) -> tuple[str, ...]:
    return tuple(filter(None, (rule(now) for rule in rules)))


def whose_move(now: Standing) -> Move:
    """Return who has to act next on the ticket."""
    match now.stage:
        case Stage.INTAKE:
            return Move.COUNTER
        case Stage.DIAGNOSIS | Stage.REPAIR:
            return Move.BENCH
        case Stage.APPROVAL:
            return _approval_move(now)
        case Stage.PARTS:
            return Move.SUPPLIER if now.parts_on_order and not now.parts_to_order else Move.COUNTER
        case Stage.PICKUP:
            return Move.OWNER if now.told_ready else Move.COUNTER
        case Stage.CLOSED:
            return Move.NOBODY


def _approval_move(now: Standing) -> Move:
    needless = now.lines > 0 and now.total <= now.may_charge
    return Move.OWNER if now.unanswered and not needless else Move.COUNTER


def _count(number: int, thing: str) -> str:
    return f"{number} {thing} is" if number == 1 else f"{number} {thing}s are"

"""The stage rule: every pair of stages, what is missing, and whose move it is."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.stages import (
    Move,
    Stage,
    Standing,
    missing_to_close_unfetched,
    missing_to_invoice,
    ways_back,
    ways_on,
    whose_move,
)

BEFORE = {
    (Stage.INTAKE, Stage.DIAGNOSIS),
    (Stage.INTAKE, Stage.PICKUP),
    (Stage.DIAGNOSIS, Stage.APPROVAL),
    (Stage.DIAGNOSIS, Stage.REPAIR),
    (Stage.DIAGNOSIS, Stage.PICKUP),
    (Stage.APPROVAL, Stage.PARTS),
    (Stage.APPROVAL, Stage.REPAIR),
    (Stage.APPROVAL, Stage.PICKUP),
    (Stage.PARTS, Stage.REPAIR),
    (Stage.REPAIR, Stage.PICKUP),
    (Stage.PICKUP, Stage.CLOSED),
}
AFTER = {
    (Stage.DIAGNOSIS, Stage.INTAKE),
    (Stage.APPROVAL, Stage.DIAGNOSIS),
    (Stage.PARTS, Stage.APPROVAL),
    (Stage.PARTS, Stage.DIAGNOSIS),
    (Stage.REPAIR, Stage.PARTS),
    (Stage.REPAIR, Stage.APPROVAL),
    (Stage.REPAIR, Stage.DIAGNOSIS),
    (Stage.PICKUP, Stage.REPAIR),
    (Stage.PICKUP, Stage.APPROVAL),
    (Stage.PICKUP, Stage.DIAGNOSIS),
    (Stage.CLOSED, Stage.PICKUP),
}
HOME = Stage.PICKUP
AS_IT_CAME = {(start, HOME) for start in (Stage.INTAKE, Stage.DIAGNOSIS, Stage.APPROVAL)}
READY = Standing(
    stage=Stage.INTAKE,
    has_complaint=True,
    confirmed=True,
    findings=1,
    lines=2,
    total=Decimal("184.20"),
    may_charge=Decimal("184.20"),
    declined=False,
    unanswered=False,
    parts_to_order=0,
    parts_on_order=0,
    work_left=0,
    proof_points=1,
    proof_failed=(),
    proof_reason="",
    invoiced=True,
    balance=Decimal("0.00"),
    balance_reason="",
    told_ready=True,
)


@pytest.mark.parametrize("to", Stage)
@pytest.mark.parametrize("start", Stage)
def test_each_stage_leads_only_where_the_rule_says(start: Stage, to: Stage) -> None:
    now = replace(READY, stage=start)
    assert ((start, to) in BEFORE) == (to in [way.to for way in ways_on(now)])
    assert ((start, to) in AFTER) == (to in [way.to for way in ways_back(now)])


def test_no_way_leads_on_and_back_at_once() -> None:
    assert not BEFORE & AFTER


def test_every_way_on_is_open_when_nothing_is_missing() -> None:
    for start, to in BEFORE - AS_IT_CAME - {(Stage.APPROVAL, Stage.PARTS)}:
        assert missing(replace(READY, stage=start), to) == ()


@pytest.mark.parametrize(("start", "to"), sorted(AS_IT_CAME))
def test_after_a_no_it_goes_home_once_it_is_back_together(start: Stage, to: Stage) -> None:
    now = replace(READY, stage=start, declined=True, lines=0, findings=0, proof_points=0)
    assert missing(now, to) == ()
    (said,) = missing(replace(now, left_over=("step 1: Muffler is off",)), to)
    assert said.startswith("not all is back together: step 1: Muffler is off")


def test_a_machine_that_goes_home_unmended_needs_no_proof_run() -> None:
    now = replace(READY, stage=Stage.PICKUP, declined=True, proof_points=0)
    assert missing(now, Stage.CLOSED) == ()
    assert missing_to_invoice(now) == ()
    assert missing_to_invoice(replace(now, left_over=("the muffler is off",)))


@pytest.mark.parametrize(
    "change",
    [
        {"parts_on_order": 1},
        {"work_left": 1},
        {"proof_points": 0},
        {"proof_failed": ("Idle",)},
        {"left_over": ("the muffler is off",)},
    ],
)
def test_what_the_repair_asked_for_is_asked_for_again_at_the_end(change: dict[str, object]) -> None:
    now = replace(READY, stage=Stage.PICKUP, **change)  # type: ignore[arg-type]
    again = missing_to_invoice(now)
    assert again == missing(now, Stage.CLOSED) == missing(replace(now, stage=Stage.REPAIR), HOME)
    assert len(again) == 1


def test_every_way_back_is_open_while_no_invoice_stands() -> None:
    for start, to in AFTER:
        ways = ways_back(replace(READY, stage=start, invoiced=False))
        assert [way.missing for way in ways if way.to is to] == [()]


def missing(now: Standing, to: Stage) -> tuple[str, ...]:
    return next(way.missing for way in ways_on(now) if way.to is to)


@pytest.mark.parametrize(
    ("start", "to", "change", "words"),
    [
        (Stage.INTAKE, Stage.DIAGNOSIS, {"has_complaint": False}, "write what the owner said"),
        (Stage.DIAGNOSIS, Stage.APPROVAL, {"findings": 0, "confirmed": False}, "record a finding"),
        (Stage.DIAGNOSIS, Stage.APPROVAL, {"lines": 0}, "add what the repair needs"),
        (Stage.DIAGNOSIS, Stage.REPAIR, {"findings": 0, "confirmed": False}, "record a finding"),
        (Stage.DIAGNOSIS, Stage.REPAIR, {"lines": 0}, "add what the repair needs"),
        (Stage.DIAGNOSIS, Stage.REPAIR, {"may_charge": Decimal("184.19")}, "184.20: record who"),
        (Stage.DIAGNOSIS, Stage.REPAIR, {"parts_on_order": 1}, "1 part is not here yet"),
        (Stage.APPROVAL, Stage.PARTS, {"parts_on_order": 1, "declined": True}, "said no"),
        (Stage.INTAKE, Stage.PICKUP, {}, "no decline recorded: record who said no"),
        (Stage.DIAGNOSIS, Stage.PICKUP, {}, "no decline recorded: record who said no"),
        (Stage.APPROVAL, Stage.PARTS, {"parts_on_order": 1, "lines": 0}, "add what the repair"),
        (Stage.APPROVAL, Stage.REPAIR, {"lines": 0}, "add what the repair needs"),
        (Stage.APPROVAL, Stage.PARTS, {}, "no part to wait for"),
        (Stage.APPROVAL, Stage.REPAIR, {"may_charge": Decimal(0)}, "record who said yes and how"),
        (Stage.APPROVAL, Stage.REPAIR, {"declined": True}, "change it and ask again"),
        (Stage.APPROVAL, Stage.REPAIR, {"parts_to_order": 2}, "2 parts are not here yet"),
        (Stage.APPROVAL, Stage.PICKUP, {}, "no decline recorded: record who said no"),
        (Stage.PARTS, Stage.REPAIR, {"parts_to_order": 1, "parts_on_order": 1}, "2 parts are"),
        (Stage.PARTS, Stage.REPAIR, {"may_charge": Decimal(0)}, "no approval recorded"),
        (Stage.REPAIR, Stage.PICKUP, {"may_charge": Decimal(0)}, "no approval recorded"),
        (Stage.REPAIR, Stage.PICKUP, {"work_left": 1}, "1 line is not ticked as done"),
        (Stage.REPAIR, Stage.PICKUP, {"work_left": 3}, "3 lines are not ticked as done"),
        (Stage.REPAIR, Stage.PICKUP, {"proof_points": 0}, "no proof run recorded"),
        (Stage.REPAIR, Stage.PICKUP, {"proof_failed": ("Idle", "Stop")}, "failed (Idle, Stop)"),
        (Stage.PICKUP, Stage.CLOSED, {"invoiced": False}, "no invoice issued: issue it first"),
        (Stage.PICKUP, Stage.CLOSED, {"balance": Decimal("1234.5")}, "1,234.50 is still owed"),
        (Stage.PICKUP, Stage.CLOSED, {"balance": Decimal("-7.20")}, "7.20 is owed to the owner"),
    ],
)
def test_one_missing_thing_is_said(
    start: Stage, to: Stage, change: dict[str, object], words: str
) -> None:
    said = missing(replace(READY, stage=start, **change), to)  # type: ignore[arg-type]
    assert len(said) == 1
    assert words in said[0]


def test_everything_missing_is_said_at_once() -> None:
    now = replace(READY, stage=Stage.DIAGNOSIS, findings=0, confirmed=False, lines=0)
    assert len(missing(now, Stage.APPROVAL)) == 2


@pytest.mark.parametrize(
    ("start", "to", "change"),
    [
        (Stage.DIAGNOSIS, Stage.APPROVAL, {"findings": 0}),
        (Stage.DIAGNOSIS, Stage.APPROVAL, {"confirmed": False}),
        (Stage.APPROVAL, Stage.PICKUP, {"declined": True}),
        (Stage.REPAIR, Stage.PICKUP, {"proof_points": 0, "proof_reason": "no fuel here"}),
        (Stage.REPAIR, Stage.PICKUP, {"proof_failed": ("Idle",), "proof_reason": "as agreed"}),
        (Stage.PICKUP, Stage.CLOSED, {"invoiced": False, "lines": 0}),
        (Stage.PICKUP, Stage.CLOSED, {"balance": Decimal(9), "balance_reason": "pays on Friday"}),
    ],
)
def test_another_way_of_having_it_is_enough(
    start: Stage, to: Stage, change: dict[str, object]
) -> None:
    assert missing(replace(READY, stage=start, **change), to) == ()  # type: ignore[arg-type]


def test_an_invoice_bars_the_way_back_to_the_bench() -> None:
    for way in ways_back(replace(READY, stage=Stage.PICKUP)):
        assert way.missing == ("an invoice stands: write a credit note for it first",)


def test_a_machine_is_never_fetched_only_after_the_owner_was_told() -> None:
    assert missing_to_close_unfetched(READY) == ()
    assert "tell them" in missing_to_close_unfetched(replace(READY, told_ready=False))[0]


@pytest.mark.parametrize(
    ("stage", "change", "move"),
    [
        (Stage.INTAKE, {}, Move.COUNTER),
        (Stage.DIAGNOSIS, {}, Move.BENCH),
        (Stage.APPROVAL, {}, Move.COUNTER),
        (Stage.APPROVAL, {"may_charge": Decimal(0)}, Move.COUNTER),
        (Stage.APPROVAL, {"may_charge": Decimal(0), "unanswered": True}, Move.OWNER),
        (Stage.APPROVAL, {"unanswered": True}, Move.COUNTER),
        (Stage.APPROVAL, {"lines": 0, "total": Decimal(0), "unanswered": True}, Move.OWNER),
        (Stage.APPROVAL, {"declined": True}, Move.COUNTER),
        (Stage.PARTS, {"parts_to_order": 1}, Move.COUNTER),
        (Stage.PARTS, {"parts_to_order": 1, "parts_on_order": 1}, Move.COUNTER),
        (Stage.PARTS, {"parts_on_order": 1}, Move.SUPPLIER),
        (Stage.PARTS, {}, Move.COUNTER),
        (Stage.REPAIR, {}, Move.BENCH),
        (Stage.PICKUP, {"told_ready": False}, Move.COUNTER),
        (Stage.PICKUP, {}, Move.OWNER),
        (Stage.CLOSED, {}, Move.NOBODY),
    ],
)
def test_whose_move_it_is(stage: Stage, change: dict[str, object], move: Move) -> None:
    assert whose_move(replace(READY, stage=stage, **change)) is move  # type: ignore[arg-type]


def test_money_that_is_missing_has_the_shops_sign() -> None:
    owes = replace(READY, stage=Stage.PICKUP, invoiced=True, balance=Decimal("12.21"), currency="€")
    (way,) = (way for way in ways_on(owes) if way.to is Stage.CLOSED)
    assert "€12.21 is still owed: take the payment, or note what was agreed" in way.missing
    back = replace(owes, balance=Decimal("-12.21"))
    (way,) = (way for way in ways_on(back) if way.to is Stage.CLOSED)
    assert any(words.startswith("€12.21 is owed to the owner") for words in way.missing)

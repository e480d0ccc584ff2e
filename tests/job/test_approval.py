"""The owner's say: estimates given, yeses and noes recorded, and what may be charged by them."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.approval import (
    WAYS,
    SayEntry,
    approve,
    decline,
    drop_approval,
    estimate_as_given,
    quote,
)
from shopdesk.job.diagnosis import confirm_complaint
from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import LineEntry, add_line, drop_line, offer_again, turn_down
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.paperwork import tag_content
from shopdesk.job.pickup import hand_over, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Move, Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.allowance import ExcessRule
from shopdesk.records.tables import Ticket
from tests.job.workshop import (
    HOUR,
    INTAKE,
    KIT,
    SAYS,
    SHOP,
    at_stage,
    each,
    kept,
    refused,
    taken_in,
)


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    """A ticket in Approval: a part and an hour, 84.67 with tax, not yet asked about."""
    return at_stage(shift, Stage.APPROVAL)


def test_an_estimate_is_kept_as_it_was_given(shift: Shift, ticket: TicketView) -> None:
    given = kept(shift, quote(shift, ticket.id, "in 2 days"))
    estimate = given.estimates[-1]
    assert (estimate.number, estimate.total) == ("1001-1", Decimal("84.67"))
    assert given.move is Move.OWNER
    add_line(shift, ticket.id, replace(HOUR, description="Clutch"))
    content = estimate_as_given(shift, estimate.id)
    assert [row.description for row in content.rows] == [KIT.description, HOUR.description]
    assert content.totals.total == Decimal("84.67")
    assert content.most_allowed == Decimal("93.13")
    assert content.if_declined == Decimal("37.80")
    assert (content.on, content.valid_until) == (date(2031, 4, 7), date(2031, 5, 7))
    assert content.ready_by == date(2031, 4, 9)
    assert content.complaint == INTAKE.complaint


def test_an_estimate_without_a_day_names_the_promise(shift: Shift, ticket: TicketView) -> None:
    estimate = quote(shift, ticket.id).estimates[-1]
    assert estimate_as_given(shift, estimate.id).ready_by == ticket.promised_on


def test_several_estimates_stand_beside_each_other(shift: Shift, ticket: TicketView) -> None:
    quote(shift, ticket.id)
    add_line(shift, ticket.id, replace(HOUR, quantity="0.5"))
    after = kept(shift, quote(shift, ticket.id))
    assert [(one.number, one.total) for one in after.estimates] == [
        ("1001-1", Decimal("84.67")),
        ("1001-2", Decimal("117.07")),
    ]
    said = approve(shift, ticket.id, SAYS)
    assert said.approvals[-1].estimate_number == "1001-2"


def test_nothing_is_quoted_where_there_is_nothing_to_ask(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.INTAKE)
    with refused(shift, "stage", "A ticket in Intake has nothing to ask", "look at the machine"):
        quote(shift, ticket.id)
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    with refused(shift, "lines", "nothing to quote: add the parts and labour"):
        quote(shift, ticket.id)
    with refused(shift, "estimate", "open the ticket again"):
        estimate_as_given(shift, 77)
    with refused(shift, "ticket", "find it again"):
        quote(shift, 77)


def test_a_wrong_day_is_said_at_its_field(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "ready_by", "There is no 31 Apr"):
        quote(shift, ticket.id, "31 apr")


@pytest.mark.parametrize("stage", [Stage.PICKUP, Stage.CLOSED])
def test_nothing_is_asked_once_invoiced_or_closed(shift: Shift, stage: Stage) -> None:
    ticket = at_stage(shift, stage)
    if stage is Stage.PICKUP:
        issue_invoice(shift, ticket.id)
    words = "closed: reopen it" if stage is Stage.CLOSED else "Invoice 5001 stands"
    answer = ticket.approvals[0].id
    for action in each(
        lambda: quote(shift, ticket.id),
        lambda: approve(shift, ticket.id, SAYS),
        lambda: decline(shift, ticket.id, SAYS),
        lambda: drop_approval(shift, answer, "wrong"),
    ):
        with refused(shift, "stage", words):
            action()


def test_discounts_over_the_rest_are_refused_before_anyone_is_asked(
    shift: Shift, ticket: TicketView
) -> None:
    add_line(shift, ticket.id, LineEntry("discount", "Slip of the pen", unit_price="400"))
    for action in each(
        lambda: quote(shift, ticket.id),
        lambda: approve(shift, ticket.id, SAYS),
    ):
        with refused(shift, "lines", "The discounts come to 347.33 more than the rest"):
            action()
    assert open_ticket(shift, ticket.id).totals.total == Decimal("-347.33")


def test_a_yes_is_kept_with_who_how_when_and_how_far(shift: Shift, ticket: TicketView) -> None:
    quote(shift, ticket.id)
    say = SayEntry(" Mara  Quill ", "By Phone", "$90", "555-0142", "before noon")
    word = kept(shift, approve(shift, ticket.id, say)).approvals[-1]
    assert (word.yes, word.who, word.how) == (True, "Mara Quill", "by phone")
    assert (word.amount, word.phone, word.note) == (Decimal("90.00"), "555-0142", "before noon")
    assert (word.noted_by, word.estimate_number) == ("Sam", "1001-1")


@pytest.mark.parametrize("how", WAYS)
def test_each_way_of_saying_it_is_kept(shift: Shift, ticket: TicketView, how: str) -> None:
    assert approve(shift, ticket.id, replace(SAYS, how=how)).approvals[-1].how == how


def test_an_empty_amount_means_the_total(shift: Shift, ticket: TicketView) -> None:
    after = approve(shift, ticket.id, SAYS)
    assert (after.approved, after.may_charge) == (Decimal("84.67"), Decimal("93.13"))


@pytest.mark.parametrize(
    ("field", "change", "words"),
    [
        ("who", {"who": " "}, "Who said it is empty"),
        ("who", {"who": "x" * 201}, "201 characters"),
        ("how", {"how": ""}, "How they said it is empty"),
        ("how", {"how": "by pigeon"}, "choose one of in person, by phone"),
        ("amount", {"amount": "all"}, "is not an amount"),
        ("amount", {"amount": "-1"}, "below zero"),
        ("amount", {"amount": "0"}, "A yes to 0.00 is no yes to $84.67: type how far they said"),
        ("phone", {"phone": "home"}, "type its digits, such as 555-0142, or leave it empty"),
        ("phone", {"phone": "5" * 150}, "has 150 digits, and no phone has more than 20"),
        ("note", {"note": "x" * 201}, "201 characters"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, ticket: TicketView, field: str, change: dict[str, str], words: str
) -> None:
    with refused(shift, field, words):
        approve(shift, ticket.id, replace(SAYS, **change))  # type: ignore[arg-type]
    if field != "amount":
        with refused(shift, field, words):
            decline(shift, ticket.id, replace(SAYS, **change))  # type: ignore[arg-type]


def test_a_part_of_it_may_be_declined(shift: Shift, ticket: TicketView) -> None:
    labour = ticket.lines[1].id
    after = kept(shift, approve(shift, ticket.id, replace(SAYS, declined_line_ids=(labour,))))
    assert [line.declined for line in after.lines] == [False, True]
    assert (after.approved, after.totals.total) == (Decimal("19.87"), Decimal("19.87"))


def test_what_is_done_already_can_no_longer_be_declined(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    line = ticket.lines[1].id
    do_line(shift, line)
    with refused(shift, "line", "is done already: take its tick off first"):
        approve(shift, ticket.id, replace(SAYS, declined_line_ids=(line,)))
    with refused(shift, "lines", "is done already", "or record a yes for what was done"):
        decline(shift, ticket.id, SAYS)


def test_a_no_declines_all_and_charges_the_diagnosis(shift: Shift, ticket: TicketView) -> None:
    quote(shift, ticket.id)
    add_line(shift, ticket.id, LineEntry("fee", "Disposal", unit_price="5", reason="asked"))
    after = kept(shift, decline(shift, ticket.id, SAYS))
    assert after.declined
    assert [(line.description, line.declined) for line in after.lines] == [
        (KIT.description, True),
        (HOUR.description, True),
        ("Disposal", True),
        ("Diagnosis, agreed at intake", False),
    ]
    assert after.totals.total == after.may_charge == Decimal("37.80")
    assert (after.approvals[-1].yes, after.approvals[-1].amount) == (False, Decimal("90.07"))


def test_a_diagnosis_on_the_ticket_is_not_charged_twice(shift: Shift, ticket: TicketView) -> None:
    add_line(shift, ticket.id, LineEntry("fee", "Finding the cause", unit_price="35"))
    after = decline(shift, ticket.id, SAYS)
    assert [line.description for line in after.lines if not line.declined] == ["Finding the cause"]


def test_where_the_diagnosis_is_free_a_no_costs_nothing(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, diagnosis_fee=Decimal("0.00")))
    assert decline(shift, at_stage(shift, Stage.APPROVAL).id, SAYS).totals.total == 0


def test_the_fee_is_the_one_that_was_said_at_intake(shift: Shift, ticket: TicketView) -> None:
    save_shop(shift, replace(SHOP, diagnosis_fee=Decimal("95.00")))
    quoted = quote(shift, ticket.id)
    assert quoted.if_declined == Decimal("37.80")
    assert estimate_as_given(shift, quoted.estimates[-1].id).if_declined == Decimal("37.80")
    assert tag_content(shift, ticket.id).diagnosis_fee == Decimal("37.80")
    after = kept(shift, decline(shift, ticket.id, SAYS))
    assert after.totals.total == after.may_charge == Decimal("37.80")


def test_a_ticket_older_than_its_kept_fee_owes_the_shops(shift: Shift, ticket: TicketView) -> None:
    with shift.records.writing():
        Ticket.update(diagnosis_fee=None).execute()
    save_shop(shift, replace(SHOP, diagnosis_fee=Decimal("40.00")))
    assert decline(shift, ticket.id, SAYS).totals.total == Decimal("43.20")


def test_taken_home_before_anyone_looked_it_costs_nothing(shift: Shift) -> None:
    ticket = taken_in(shift)
    assert ticket.if_declined == 0
    assert ticket.next_way == ticket.ways_on[0]
    with refused(shift, "stage", "no decline recorded: record who said no and how"):
        go_on(shift, ticket.id, Stage.PICKUP)
    said = kept(shift, decline(shift, ticket.id, SAYS))
    assert (said.declined, said.lines) == (True, ())
    assert said.next_way is not None
    assert said.next_way.to is Stage.PICKUP
    go_on(shift, ticket.id, Stage.PICKUP)
    home = kept(shift, hand_over(shift, ticket.id))
    assert (home.outcome, home.balance) == ("returned as is", Decimal(0))
    assert home.invoices == ()


def test_a_no_at_intake_is_taken_back(shift: Shift) -> None:
    said = decline(shift, taken_in(shift).id, SAYS)
    back = kept(shift, drop_approval(shift, said.approvals[0].id, "she stayed after all"))
    assert (back.declined, back.stage) == (False, Stage.INTAKE)
    assert go_on(shift, back.id, Stage.DIAGNOSIS).stage is Stage.DIAGNOSIS


@pytest.mark.parametrize("looked", [True, False])
def test_taken_home_from_the_bench_it_costs_the_fee_once_it_was_looked_at(
    shift: Shift, looked: bool
) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    if looked:
        ticket = confirm_complaint(shift, ticket.id, "seen")
    owed = Decimal("37.80") if looked else Decimal(0)
    assert ticket.if_declined == owed
    said = decline(shift, ticket.id, SAYS)
    assert said.totals.total == owed
    assert said.next_way is not None
    assert said.next_way.to is Stage.PICKUP
    home = kept(shift, go_on(shift, ticket.id, Stage.PICKUP))
    assert home.declined


def test_at_the_bench_the_nearest_way_is_no_way_home(shift: Shift) -> None:
    way = at_stage(shift, Stage.DIAGNOSIS).next_way
    assert way is not None
    assert way.to is Stage.APPROVAL


def test_a_yes_to_nothing_is_none(shift: Shift, ticket: TicketView) -> None:
    every = tuple(line.id for line in ticket.lines)
    with refused(shift, "lines", "nothing to say yes to", "or record a no"):
        approve(shift, ticket.id, replace(SAYS, declined_line_ids=every))
    for line in every:
        drop_line(shift, line)
    with refused(shift, "lines", "nothing to say yes to"):
        approve(shift, ticket.id, SAYS)


@pytest.mark.parametrize("to", [Stage.PARTS, Stage.REPAIR])
def test_without_a_line_there_is_nothing_to_repair(
    shift: Shift, ticket: TicketView, to: Stage
) -> None:
    for line in ticket.lines:
        drop_line(shift, line.id)
    with refused(shift, "stage", "no part, labour or fee on the ticket"):
        go_on(shift, ticket.id, to)


def test_after_a_no_no_more_than_the_fee_may_be_charged(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL, replace(INTAKE, limit="200"))
    assert ticket.may_charge == Decimal("200.00")
    after = decline(shift, ticket.id, SAYS)
    assert (after.approved, after.may_charge) == (Decimal("0.00"), Decimal("37.80"))


def test_a_new_estimate_after_a_no_asks_again(shift: Shift, ticket: TicketView) -> None:
    quote(shift, ticket.id)
    decline(shift, ticket.id, SAYS)
    for line in ticket.lines:
        offer_again(shift, line.id)
    asked = kept(shift, quote(shift, ticket.id))
    assert (asked.declined, asked.move) == (False, Move.OWNER)
    assert asked.may_charge == Decimal("37.80")
    assert asked.missing_before(Stage.PICKUP) == (
        "no decline recorded: record who said no and how",
    )


def test_a_yes_after_a_no_holds(shift: Shift, ticket: TicketView) -> None:
    decline(shift, ticket.id, SAYS)
    for line in ticket.lines:
        offer_again(shift, line.id)
    after = kept(shift, approve(shift, ticket.id, SAYS))
    assert not after.declined
    assert after.approved == after.totals.total == Decimal("84.67")


def test_a_no_written_down_wrongly_leaves_nothing_behind(shift: Shift, ticket: TicketView) -> None:
    said = decline(shift, ticket.id, SAYS)
    assert [line.kind for line in said.lines if not line.declined] == ["fee"]
    after = kept(shift, drop_approval(shift, said.approvals[-1].id, "that was her neighbour"))
    assert (after.declined, after.approvals) == (False, ())
    assert [(line.id, line.declined) for line in after.lines] == [
        (line.id, False) for line in ticket.lines
    ]


def test_an_answer_written_down_wrongly_is_taken_back(shift: Shift, ticket: TicketView) -> None:
    quote(shift, ticket.id)
    answer = approve(shift, ticket.id, SAYS).approvals[0]
    with refused(shift, "why", "The reason is empty"):
        drop_approval(shift, answer.id, " ")
    after = kept(shift, drop_approval(shift, answer.id, "said by a neighbour"))
    assert (after.approvals, after.approved, after.move) == ((), Decimal("0.00"), Move.OWNER)
    last = ticket_journal(shift, ticket.id)[-1]
    assert (last.action, last.why) == ("removed", "said by a neighbour")
    with refused(shift, "approval", "open the ticket again"):
        drop_approval(shift, answer.id, "again")


@pytest.mark.parametrize(
    ("rule", "limit", "allowed"),
    [
        (ExcessRule(), "", "84.67"),
        (ExcessRule(percent=Decimal(10)), "", "93.13"),
        (ExcessRule(fixed=Decimal(5)), "", "89.67"),
        (ExcessRule(), "80", "84.67"),
        (ExcessRule(), "120", "84.67"),
    ],
)
def test_what_may_be_charged_after_a_yes_follows_its_amount_and_the_shops_rule(
    shift: Shift, rule: ExcessRule, limit: str, allowed: str
) -> None:
    save_shop(shift, replace(SHOP, excess=rule))
    ticket = at_stage(shift, Stage.APPROVAL, replace(INTAKE, limit=limit))
    assert approve(shift, ticket.id, SAYS).may_charge == Decimal(allowed)


def test_a_smaller_yes_binds_whatever_was_said_at_intake(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL, replace(INTAKE, limit="500"))
    assert ticket.may_charge == Decimal("500.00")
    after = kept(shift, approve(shift, ticket.id, replace(SAYS, amount="10.00")))
    assert after.may_charge == Decimal("11.00")
    with refused(shift, "stage", "no approval recorded for $84.67"):
        go_on(shift, ticket.id, Stage.REPAIR)
    larger = approve(shift, ticket.id, SAYS)
    assert larger.may_charge == Decimal("93.13")


def test_until_the_owner_is_asked_the_fee_covers_itself_only(
    shift: Shift, ticket: TicketView
) -> None:
    assert ticket.may_charge == Decimal("0.00")
    for line in ticket.lines:
        drop_line(shift, line.id)
    fee = LineEntry("fee", "Finding the cause", unit_price="35", reason="diagnosis")
    assert add_line(shift, ticket.id, fee).may_charge == Decimal("37.80")


def test_within_the_say_so_nobody_is_asked(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL, replace(INTAKE, limit="84.67"))
    quoted = quote(shift, ticket.id)
    assert quoted.move is Move.COUNTER
    assert go_on(shift, ticket.id, Stage.PARTS).approvals == ()


def test_more_found_later_has_to_be_asked_about(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    after = add_line(shift, ticket.id, replace(HOUR, description="Clutch"))
    assert after.missing_before(Stage.PICKUP)[0] == (
        "no approval recorded for $149.47: record who said yes and how"
    )
    turned = turn_down(shift, after.lines[-1].id)
    assert "no approval" not in " ".join(turned.missing_before(Stage.PICKUP))

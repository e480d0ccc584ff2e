"""Parts, labour, fees and discounts on a ticket; parts waited for; work ticked off."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.approval import approve, decline
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import (
    LineEntry,
    add_line,
    change_line,
    drop_line,
    faults,
    offer_again,
    turn_down,
)
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.reasons import NO_FINDING
from shopdesk.job.repair import do_line, undo_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Move, Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import (
    HOUR,
    KIT,
    OWNER,
    SAYS,
    another,
    at_stage,
    each,
    kept,
    refused,
    taken_in,
)


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def test_a_part_is_kept_as_typed(shift: Shift, ticket: TicketView) -> None:
    finding = record_finding(shift, ticket.id, "compression", "80").findings[0]
    entry = LineEntry(
        *("Part", "Cylinder <b>kit</b> & rings", "2", "$1,018.40", "Worn", "as seen"),
        part_number="CY-1",
        condition="Rebuilt",
        cost="700",
        finding_id=finding.id,
        supply="on order",
        expected_on="in 2 days",
    )
    line = kept(shift, add_line(shift, ticket.id, entry)).lines[-1]
    assert (line.kind, line.description) == ("part", "Cylinder <b>kit</b> & rings")
    assert (line.quantity, line.unit_price) == (Decimal(2), Decimal("1018.40"))
    assert (line.net, line.cost, line.taxed) == (Decimal("2036.80"), Decimal("700.00"), True)
    assert (line.reason, line.reason_words, line.reason_note) == ("worn", "worn", "as seen")
    assert (line.condition, line.part_number) == ("rebuilt", "CY-1")
    assert (line.supply, line.expected_on) == ("on order", date(2031, 4, 9))
    assert line.evidence.startswith("Compression: 80 psi")


def test_a_part_said_to_have_failed_does_not_hide_that_its_finding_was_good(
    shift: Shift, ticket: TicketView
) -> None:
    good = record_finding(shift, ticket.id, "compression", "142 psi").findings[-1]
    entry = LineEntry("part", "Rings", "1", "9", "failed", finding_id=good.id)
    line = kept(shift, add_line(shift, ticket.id, entry)).lines[-1]
    assert line.evidence == "Compression: 142 psi, which was good"


def test_a_part_is_new_and_on_hand_when_nothing_is_said(shift: Shift, ticket: TicketView) -> None:
    line = add_line(shift, ticket.id, KIT).lines[-1]
    assert (line.condition, line.supply, line.evidence) == ("new", "on hand", NO_FINDING)


@pytest.mark.parametrize(
    ("typed", "hours"),
    [
        ("0.5", "0.5"),
        ("1 1/2", "1.5"),
        ("27 min", "0.5"),
        ("1:15", "1.3"),
        ("1 h 15", "1.3"),
        ("2h", "2.0"),
        ("90m", "1.5"),
        ("0.04", None),
        ("2 min", None),
        ("1000", None),
    ],
)
def test_labour_is_in_tenths_of_an_hour_at_the_bench_rate(
    shift: Shift, ticket: TicketView, typed: str, hours: str | None
) -> None:
    entry = replace(HOUR, quantity=typed)
    if hours is None:
        with refused(shift, "quantity", "type hours such as 0.5, or minutes such as 27 min"):
            add_line(shift, ticket.id, entry)
    else:
        line = add_line(shift, ticket.id, entry).lines[-1]
        assert (line.quantity, line.unit_price) == (Decimal(hours), Decimal("60.00"))


def test_labour_may_have_its_own_rate(shift: Shift, ticket: TicketView) -> None:
    assert add_line(shift, ticket.id, replace(HOUR, unit_price="45")).lines[-1].unit_price == 45


def test_a_fee_and_a_discount_need_no_reason(shift: Shift, ticket: TicketView) -> None:
    add_line(shift, ticket.id, LineEntry("fee", "Disposal", unit_price="5"))
    lines = add_line(shift, ticket.id, LineEntry("discount", "Club", unit_price="3")).lines
    assert [(line.reason, line.net) for line in lines] == [
        ("diagnosis", Decimal("5.00")),
        ("asked", Decimal("-3.00")),
    ]


def test_a_comeback_is_not_charged(shift: Shift, ticket: TicketView) -> None:
    line = add_line(shift, ticket.id, replace(KIT, reason="comeback")).lines[-1]
    assert (line.net, line.reason_words) == (Decimal("0.00"), "our comeback, no charge")


def test_an_exempt_owner_pays_no_tax(shift: Shift) -> None:
    ticket = taken_in(shift, owner=replace(OWNER, tax_exempt_number="EX-1"))
    after = add_line(shift, ticket.id, KIT)
    assert (after.totals.tax, after.lines[0].taxed) == (Decimal("0.00"), False)


@pytest.mark.parametrize(
    ("field", "change", "words"),
    [
        ("kind", {"kind": ""}, "The kind of line is empty"),
        ("kind", {"kind": "gift"}, "choose one of part, labour"),
        ("description", {"description": " "}, "The description is empty"),
        ("description", {"description": "x" * 201}, "201 characters"),
        ("part_number", {"part_number": "x" * 201}, "201 characters"),
        ("reason", {"reason": ""}, "The reason is empty"),
        ("reason", {"reason": "because"}, "choose one of failed, worn"),
        ("reason_note", {"reason_note": "x" * 201}, "201 characters"),
        ("condition", {"condition": "shiny"}, "choose one of new, used, rebuilt"),
        ("supply", {"supply": "somewhere"}, "choose one of to order"),
        ("quantity", {"quantity": ""}, "Nothing is typed"),
        ("quantity", {"quantity": "-1"}, "is not above zero"),
        ("quantity", {"quantity": "0"}, "is not above zero"),
        ("quantity", {"quantity": "10000"}, "is over 9999"),
        ("quantity", {"quantity": "1e9"}, "is not a quantity"),
        ("quantity", {"quantity": "1.0001"}, "more than 3 decimals"),
        ("quantity", {"quantity": "1\x00"}, "can't be printed"),
        ("unit_price", {"unit_price": ""}, "The price is empty"),
        ("unit_price", {"unit_price": "-1"}, "below zero"),
        ("unit_price", {"unit_price": "NaN"}, "is not an amount"),
        ("unit_price", {"unit_price": "1.005"}, "could be"),
        ("cost", {"cost": "cheap"}, "is not an amount"),
        ("quantity", {"quantity": "9999", "unit_price": "9999999.99"}, "check quantity and price"),
        ("expected_on", {"expected_on": "31 april"}, "There is no 31 Apr"),
        ("finding_id", {"finding_id": 77}, "choose one of its findings"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, ticket: TicketView, field: str, change: dict[str, object], words: str
) -> None:
    with refused(shift, field, words):
        add_line(shift, ticket.id, replace(KIT, **change))  # type: ignore[arg-type]


def test_a_finding_of_another_ticket_supports_nothing_here(
    shift: Shift, ticket: TicketView
) -> None:
    finding = record_finding(shift, another(shift, 2).id, "compression", "80").findings[0]
    with refused(shift, "finding_id", "not on this ticket"):
        add_line(shift, ticket.id, replace(KIT, finding_id=finding.id))


def test_a_line_is_changed_in_place(shift: Shift, ticket: TicketView) -> None:
    first = add_line(shift, ticket.id, KIT).lines[0]
    add_line(shift, ticket.id, HOUR)
    after = kept(shift, change_line(shift, first.id, replace(KIT, unit_price="20")))
    assert [line.net for line in after.lines] == [Decimal("20.00"), Decimal("60.00")]
    with refused(shift, "unit_price", "is not an amount"):
        change_line(shift, first.id, replace(KIT, unit_price="x"))


def test_a_part_made_into_labour_loses_what_only_a_part_has(
    shift: Shift, ticket: TicketView
) -> None:
    part = add_line(shift, ticket.id, replace(KIT, supply="to order")).lines[0]
    line = change_line(shift, part.id, HOUR).lines[0]
    assert (line.kind, line.condition, line.supply) == ("labour", "", "")


def test_a_new_line_is_the_last_one_whatever_was_dropped(shift: Shift, ticket: TicketView) -> None:
    for name in ("a", "b", "c"):
        after = add_line(shift, ticket.id, replace(KIT, description=name))
    for line in after.lines[:2]:
        drop_line(shift, line.id)
    after = add_line(shift, ticket.id, replace(KIT, description="d"))
    assert [line.description for line in after.lines] == ["c", "d"]


def test_a_dropped_line_is_kept_in_the_journal(shift: Shift, ticket: TicketView) -> None:
    line = add_line(shift, ticket.id, KIT).lines[0]
    assert kept(shift, drop_line(shift, line.id, "not needed")).lines == ()
    last = ticket_journal(shift, ticket.id)[-1]
    assert (last.action, last.table, last.why) == ("removed", "line", "not needed")
    assert "Carburettor kit" in last.before


def test_a_line_not_wanted_stays_in_sight_uncharged(shift: Shift, ticket: TicketView) -> None:
    add_line(shift, ticket.id, KIT)
    line = add_line(shift, ticket.id, HOUR).lines[1]
    after = kept(shift, turn_down(shift, line.id))
    assert (after.lines[1].declined, after.totals.net) == (True, Decimal("18.40"))
    again = kept(shift, offer_again(shift, line.id))
    assert (again.lines[1].declined, again.totals.net) == (False, Decimal("78.40"))


def test_a_line_that_is_gone_is_said(shift: Shift) -> None:
    for action in (drop_line, turn_down, offer_again, do_line, undo_line):
        with refused(shift, "line", "not on the ticket any more: open the ticket again"):
            action(shift, 77)
    with refused(shift, "line", "open the ticket again"):
        change_line(shift, 77, KIT)
    with refused(shift, "line", "open the ticket again"):
        set_supply(shift, 77, "on hand")
    with refused(shift, "ticket", "find it again"):
        add_line(shift, 77, KIT)


@pytest.mark.parametrize("closed", [False, True], ids=["invoiced", "closed"])
def test_lines_stand_still_once_invoiced_or_closed(shift: Shift, closed: bool) -> None:
    ticket = at_stage(shift, Stage.CLOSED if closed else Stage.PICKUP)
    words = "closed: reopen it" if closed else "Invoice 5001 stands: write a credit note"
    if not closed:
        issue_invoice(shift, ticket.id)
    line = ticket.lines[0].id
    for action in each(
        lambda: add_line(shift, ticket.id, KIT),
        lambda: change_line(shift, line, KIT),
        lambda: drop_line(shift, line),
        lambda: turn_down(shift, line),
        lambda: offer_again(shift, line),
        lambda: set_supply(shift, line, "on hand"),
        lambda: do_line(shift, line),
        lambda: undo_line(shift, line),
    ):
        with refused(shift, "stage", words):
            action()


def test_lines_move_again_after_the_credit_note(shift: Shift) -> None:
    ticket = issue_invoice(shift, at_stage(shift, Stage.PICKUP).id)
    credit_invoice(shift, ticket.id, "wrong price")
    assert change_line(shift, ticket.lines[0].id, replace(KIT, unit_price="10")).totals.net == 70


def test_parts_are_waited_for_and_received(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PARTS)
    part = ticket.lines[0]
    assert ticket.move is Move.COUNTER
    ordered = kept(shift, set_supply(shift, part.id, "on order", "fri"))
    assert (ordered.lines[0].expected_on, ordered.move) == (date(2031, 4, 11), Move.SUPPLIER)
    assert ordered.missing_before(Stage.REPAIR) == (
        "1 part is not here yet: receive or drop what is missing",
    )
    here = kept(shift, set_supply(shift, part.id, "on hand", "fri"))
    assert (here.lines[0].expected_on, here.missing_before(Stage.REPAIR)) == (None, ())


def test_only_a_part_is_ordered(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PARTS)
    with refused(shift, "line", "Only a part can be ordered"):
        set_supply(shift, ticket.lines[1].id, "on order")
    with refused(shift, "supply", "choose one of to order, on order, on hand"):
        set_supply(shift, ticket.lines[0].id, "lost")
    with refused(shift, "supply", "is empty"):
        set_supply(shift, ticket.lines[0].id, "")
    with refused(shift, "expected_on", "There is no 31 Apr"):
        set_supply(shift, ticket.lines[0].id, "on order", "31 apr")


def test_work_is_ticked_off_and_the_tick_taken_off(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    line = ticket.lines[1]
    assert kept(shift, do_line(shift, line.id)).lines[1].done
    with refused(shift, "line", "is done already: take its tick off first"):
        turn_down(shift, line.id)
    assert not kept(shift, undo_line(shift, line.id)).lines[1].done


def test_work_that_nobody_agreed_to_is_not_ticked_off(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    dear = add_line(shift, ticket.id, replace(KIT, description="Engine", unit_price="900"))
    for line in (dear.lines[-1], ticket.lines[0]):
        with refused(
            *(shift, "approval", "The work comes to $1,056.67 but only $93.13 was agreed"),
            "record a new yes first",
        ):
            do_line(shift, line.id)
    approve(shift, ticket.id, SAYS)
    assert kept(shift, do_line(shift, dear.lines[-1].id)).lines[-1].done


def test_after_a_no_nothing_is_ticked_off(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    decline(shift, ticket.id, SAYS)
    small = add_line(shift, ticket.id, replace(KIT, unit_price="0.50", reason="comeback"))
    with refused(shift, "approval", "The owner said no: ask again, and record a yes first"):
        do_line(shift, small.lines[-1].id)


def test_a_line_that_was_forgotten_is_ticked_off_in_pickup(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    clip = add_line(shift, ticket.id, replace(KIT, description="Clip", unit_price="1"))
    assert clip.missing_before(Stage.CLOSED)[0].startswith("1 line is not ticked as done")
    assert kept(shift, do_line(shift, clip.lines[-1].id)).lines[-1].done


def test_work_is_ticked_off_only_where_it_can_be_done(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PARTS)
    part, labour = ticket.lines
    with refused(shift, "stage", "in Parts: move it to Repair before ticking work off"):
        do_line(shift, labour.id)
    set_supply(shift, part.id, "on hand")
    send_back(shift, ticket.id, Stage.DIAGNOSIS, "to show")
    go_on(shift, ticket.id, Stage.REPAIR)
    set_supply(shift, part.id, "on order")
    with refused(shift, "line", "“Carburettor kit” is on order: receive it before fitting it"):
        do_line(shift, part.id)
    turn_down(shift, labour.id)
    with refused(shift, "line", "declined", "put it back on offer and ask again first"):
        do_line(shift, labour.id)
    assert not any(line.done for line in open_ticket(shift, ticket.id).lines)


def test_all_that_is_wrong_with_a_line_is_found_at_once() -> None:
    assert [one.field for one in faults(LineEntry("part", ""))] == [
        "description",
        "unit_price",
        "reason",
    ]
    assert [one.field for one in faults(LineEntry("labour", "Fit", "x", reason="luck"))] == [
        "quantity",
        "reason",
    ]
    assert [one.field for one in faults(LineEntry("gift", ""))] == ["kind"]
    assert faults(LineEntry("part", "Plug", reason="comeback")) == ()
    assert faults(LineEntry("part", "Plug", unit_price="6.50", reason="failed")) == ()

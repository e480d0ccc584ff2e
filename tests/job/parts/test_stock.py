"""The bin: what tickets have reserved, what fitting takes out, what counting finds."""

import os
import subprocess
import sys
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.job.lines import (
    LineEntry,
    add_line,
    change_line,
    drop_line,
    offer_again,
    turn_down,
)
from shopdesk.job.parts.catalogue import find_part, open_part
from shopdesk.job.parts.counting import count_part, send_back, take_out
from shopdesk.job.parts.stock import reserve, supply_for
from shopdesk.job.parts.stock_audit import stock_faults, stock_proved
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.repair import do_line, undo_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.records.tables import Line, StockMove
from shopdesk.records.tables import Part as PartTable
from tests.job.parts.storeroom import (
    FILTER,
    level,
    offered,
    ordered,
    part,
    part_line,
    sound,
    waiting,
)
from tests.job.workshop import refused, taken_in


def line_for(part_id: int, quantity: str = "1", supply: str = "") -> LineEntry:
    return LineEntry("part", "", quantity, part_id=part_id, reason="failed", supply=supply)


def test_a_line_reserves_what_is_free_and_is_to_order_beyond_that(shift: Shift) -> None:
    view = part(shift, lying="2")
    ticket = taken_in(shift)
    ticket = add_line(shift, ticket.id, line_for(view.id))
    assert part_line(ticket).supply == "on hand"
    assert level(shift, view.id) == ("2", "1", "1", "0")
    ticket = add_line(shift, ticket.id, line_for(view.id, "2"))
    assert part_line(ticket, 1).supply == "to order"
    assert level(shift, view.id) == ("2", "1", "1", "0")
    with refused(shift, "supply", "The bin holds 2 of “Fuel filter”, 1 kept for other work"):
        add_line(shift, ticket.id, line_for(view.id, "2", supply="on hand"))
    with refused(shift, "supply", "this needs 2"):
        set_supply(shift, part_line(ticket, 1).id, "on hand")
    waits = open_part(shift, view.id).waits
    assert [(wait.tag, wait.quantity, wait.supply) for wait in waits] == [
        ("T1001", Decimal(1), "on hand"),
        ("T1001", Decimal(2), "to order"),
    ]
    assert sound(shift)


def test_a_line_given_up_sets_its_part_free_and_takes_it_again_if_it_is_there(shift: Shift) -> None:
    view = part(shift, lying="1")
    ticket = add_line(shift, taken_in(shift).id, line_for(view.id))
    line = part_line(ticket).id
    turn_down(shift, line)
    assert level(shift, view.id) == ("1", "0", "1", "0")
    assert part_line(offer_again(shift, line)).supply == "on hand"
    turn_down(shift, line)
    add_line(shift, ticket.id, line_for(view.id))
    assert part_line(offer_again(shift, line)).supply == "to order"
    assert level(shift, view.id) == ("1", "1", "0", "0")
    assert sound(shift)


def test_more_of_a_part_needs_more_in_the_bin(shift: Shift) -> None:
    view = part(shift, lying="2")
    ticket = add_line(shift, taken_in(shift).id, line_for(view.id))
    line = part_line(ticket)
    assert part_line(change_line(shift, line.id, line_for(view.id, "2"))).supply == "on hand"
    with refused(shift, "supply", "this needs 3"):
        change_line(shift, line.id, line_for(view.id, "3", supply="on hand"))
    assert part_line(change_line(shift, line.id, line_for(view.id, "3"))).supply == "to order"
    other = part(shift, replace(FILTER, number="XX"))
    assert part_line(change_line(shift, line.id, line_for(other.id, "1"))).supply == "to order"
    assert level(shift, view.id) == ("2", "0", "2", "0")


def test_fitting_takes_the_part_out_and_taking_the_tick_off_brings_it_back(shift: Shift) -> None:
    view = part(shift, lying="2")
    ticket = waiting(shift, 1, [(view.id, "1")], stage=Stage.REPAIR)
    line = part_line(ticket).id
    do_line(shift, line)
    do_line(shift, line)
    assert level(shift, view.id) == ("1", "0", "1", "0")
    assert open_part(shift, view.id).moves[0].tag == ticket.tag
    with refused(shift, "quantity", "fitted already, 1 of it"):
        change_line(shift, line, line_for(view.id, "2"))
    undone = undo_line(shift, line)
    assert not part_line(undone).done
    assert level(shift, view.id) == ("2", "1", "1", "0")
    assert [move.why for move in open_part(shift, view.id).moves] == [
        *("taken off again", "fitted", "counted"),
    ]
    undo_line(shift, line)
    assert level(shift, view.id) == ("2", "1", "1", "0")
    assert sound(shift)


def test_a_done_line_that_is_dropped_gives_its_part_back_and_the_journal_holds(
    shift: Shift,
) -> None:
    view = part(shift, lying="1")
    ticket = waiting(shift, 1, [(view.id, "1")], stage=Stage.REPAIR)
    do_line(shift, part_line(ticket).id)
    drop_line(shift, part_line(ticket).id, "wrong machine")
    assert level(shift, view.id) == ("1", "0", "1", "0")
    moves = open_part(shift, view.id).moves
    assert [(move.why, move.tag, move.note) for move in moves][:2] == [
        ("taken off again", "", "for T1001"),
        ("fitted", "", "for T1001"),
    ]
    assert sound(shift)


def test_a_part_that_is_not_in_the_bin_can_not_be_fitted(shift: Shift) -> None:
    view = part(shift, lying="1")
    ticket = waiting(shift, 1, [(view.id, "1")], stage=Stage.REPAIR)
    with shift.changing() as change:
        row = PartTable.get_by_id(view.id)
        row.quantity = 0
        change.save(row)
    with refused(shift, "line", "The bin holds 0", "count it, or order it"):
        do_line(shift, part_line(ticket).id)


def test_counting_less_than_is_reserved_sets_the_last_promised_back(shift: Shift) -> None:
    view = part(shift, lying="3")
    late = waiting(shift, 1, [(view.id, "2")], promised="30 apr", stage=Stage.REPAIR)
    early = waiting(shift, 2, [(view.id, "1")], promised="20 apr", stage=Stage.REPAIR)
    counted = count_part(shift, view.id, "2", "behind the shelf")
    assert counted.lost == ("T1001 waits for 2 of “Fuel filter” after all: order it.",)
    assert level(shift, view.id) == ("2", "1", "1", "0")
    assert counted.part.moves[0].note == "behind the shelf"
    assert count_part(shift, view.id, "0").lost == (
        "T1002 waits for 1 of “Fuel filter” after all: order it.",
    )
    assert count_part(shift, view.id, "0").lost == ()
    for ticket in (late, early):
        with refused(shift, "line", "to order"):
            do_line(shift, part_line(ticket).id)
    assert sound(shift)


@pytest.mark.parametrize("typed", ["", "-1", "two", "99999"])
def test_what_is_no_count_is_refused(shift: Shift, typed: str) -> None:
    view = part(shift, lying="2")
    with refused(shift, "counted"):
        count_part(shift, view.id, typed)


def test_only_what_is_free_leaves_without_a_ticket(shift: Shift) -> None:
    view = part(shift, lying="3")
    add_line(shift, taken_in(shift).id, line_for(view.id))
    assert take_out(shift, view.id, "1", "sold over the counter").quantity == 2
    with refused(shift, "quantity", "1 kept for tickets: at most 1 can go"):
        take_out(shift, view.id, "2", "scrapped")
    back = send_back(shift, view.id, "1", "core charge")
    assert [(move.why, move.quantity) for move in back.moves[:2]] == [
        ("sent back", Decimal(-1)),
        ("sold over the counter", Decimal(-1)),
    ]
    with refused(shift, "why", "sold over the counter, scrapped, sent back"):
        take_out(shift, view.id, "1", "gone")
    assert sound(shift)


def test_a_part_marked_on_order_by_hand_may_be_set_to_what_is_there(shift: Shift) -> None:
    view = part(shift)
    line = part_line(add_line(shift, taken_in(shift).id, line_for(view.id))).id
    assert part_line(set_supply(shift, line, "on order", "fri")).supply == "on order"
    count_part(shift, view.id, "1")
    assert part_line(set_supply(shift, line, "on hand")).supply == "on hand"
    assert part_line(set_supply(shift, line, "to order")).supply == "to order"
    assert level(shift, view.id) == ("1", "0", "1", "0")


def test_reserving_takes_only_what_is_free(shift: Shift) -> None:
    view = part(shift, lying="1")
    ticket = add_line(shift, taken_in(shift).id, line_for(view.id, supply="to order"))
    with shift.changing() as change:
        line = Line.get_by_id(part_line(ticket).id)
        assert supply_for(find_part(view.id), line.quantity) == "on hand"
        assert reserve(change, line)
        assert reserve(change, line)
        assert supply_for(find_part(view.id), line.quantity) == "to order"
    ticket = add_line(shift, ticket.id, line_for(view.id))
    with shift.changing() as change:
        assert not reserve(change, Line.get_by_id(part_line(ticket, 1).id))


def test_a_line_loses_its_order_when_it_takes_another_part(shift: Shift) -> None:
    view, other = part(shift), part(shift, replace(FILTER, number="XX"), "1")
    supplier = offered(shift, view.id)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, supplier, view.id)
    line = part_line(ticket).id
    kept = change_line(shift, line, line_for(view.id))
    assert (part_line(kept).supply, part_line(kept).expected_on) == (
        "on order",
        order.expected_on,
    )
    changed = change_line(shift, line, line_for(other.id))
    assert part_line(changed).supply == "on hand"
    assert order.lines[0].tags == ("T1001",)
    with shift.records.reading():
        assert Line.get_by_id(line).order_line is None


def test_the_proof_finds_what_was_changed_past_it(shift: Shift) -> None:
    view = part(shift, lying="2")
    ticket = waiting(shift, 1, [(view.id, "1")], stage=Stage.REPAIR)
    order = ordered(shift, offered(shift, view.id), view.id)
    with shift.records.reading():
        assert stock_proved().startswith("the bins of 1 part are what 1 move came to")

    def faults(query: str) -> list[str]:
        """What the proof says with the rows changed behind its back; then all is as it was."""
        with shift.records.writing():
            engine = shift.records.engine
            with engine.atomic() as undone:
                engine.execute_sql(query)
                found = list(stock_faults())
                undone.rollback()
        return found

    (lying,) = faults("UPDATE part SET quantity = 3000")
    assert lying == (
        "part FF-10 “Fuel filter” is kept as 3 in the bin, but what came in and went out leaves 2"
    )
    two = faults("UPDATE part SET quantity = 0")
    assert two[1] == ("of part FF-10 “Fuel filter” 1 are kept for tickets, but the bin holds 0")
    (none,) = faults("UPDATE line SET done_at = '2031-04-07' WHERE kind = 'part'")
    assert none.startswith("“Fuel filter” of T1001 took 0 out of the bin")
    (never,) = faults("UPDATE order_line SET received = 1000")
    assert never == (
        f"order {order.number} says that 1 of “Fuel filter” came, "
        "but 0 went into the bin, or more came than was ordered"
    )
    do_line(shift, part_line(ticket).id)
    (more,) = faults("UPDATE line SET quantity = 2000 WHERE kind = 'part'")
    assert more == (
        "“Fuel filter” of T1001 took 1 out of the bin, which is not what its line of 2 says"
    )
    assert StockMove.select().count() == 2


FITTER = """
import sys
from pathlib import Path
from shopdesk.errors import JobError
from shopdesk.job.parts.counting import take_out
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
from tests.job.workshop import Clock

clock = Clock()
shift = Shift(open_records(Path(sys.argv[1]), clock(), wait=30), sys.argv[2], clock)
print("ready", flush=True)
sys.stdin.readline()
taken = 0
for _ in range(6):
    try:
        take_out(shift, int(sys.argv[3]), "1", "sold over the counter")
        taken += 1
    except JobError:
        pass
print(taken)
shift.records.close()
"""


def test_two_desks_never_take_the_same_piece(shift: Shift) -> None:
    view = part(shift, lying="7")
    project = Path(__file__).parents[3]
    desks = [
        subprocess.Popen(
            [sys.executable, "-c", FITTER, str(shift.records.file), who, str(view.id)],
            cwd=project,
            env={**os.environ, "PYTHONPATH": str(project)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for who in ("Sam", "Kit")
    ]
    for desk in desks:
        assert desk.stdout
        assert desk.stdout.readline() == "ready\n"
    taken = [int(desk.communicate("go\n", timeout=60)[0]) for desk in desks]
    assert sum(taken) == 7
    assert level(shift, view.id) == ("0", "0", "0", "0")
    assert sound(shift)

"""The frame: board, find box, header, ways on and back, and nothing typed lost."""

import tkinter as tk
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from shopdesk.desk.intake_new import NewTicket
from shopdesk.desk.machine_card import MachineCard
from shopdesk.desk.owner_card import OwnerCard
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import confirm_complaint
from shopdesk.job.intake import TicketEntry, change_intake, take_in
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import hand_over, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import StepEntry, note_step
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.window.conftest import NOW, Driver
from tests.window.so_far import approved, at_bench, repaired


@pytest.fixture
def second(shift: Shift) -> TicketView:
    """A saw on the bench, its complaint seen."""
    taken = take_in(
        shift,
        CustomerEntry(name="Łucja Østergård-Nguyễn", phones=("555-0177",)),
        UnitEntry(kind="chain saw", engine="two-stroke", make="Oakrill", model="OR-40"),
        TicketEntry(complaint="Won't restart hot.", promised_on="today"),
    )
    go_on(shift, taken.id, Stage.DIAGNOSIS)
    return confirm_complaint(shift, taken.id, "seen")


def board_texts(desk: Driver) -> list[str]:
    tree = desk.window.board.tree
    found = []
    for group in tree.get_children():
        found.append(str(tree.item(group, "text")))
        found += [str(tree.item(row, "text")) for row in tree.get_children(group)]
    return found


def test_board_groups_by_whose_move_and_says_what_is_late(
    desk: Driver, ticket: TicketView, second: TicketView
) -> None:
    desk.press("<F5>")
    desk.until(lambda: len(desk.window.board.tickets) == 2, "both on the board")
    assert board_texts(desk) == [
        "Bench  1",
        "T1002  Łucja Østergård-Nguyễn\nChain saw, Oakrill OR-40",
        "Counter  1",
        "T1001  Ansel Brightwater\nString trimmer, Tarnbeck TB-26",
    ]
    desk.press("<F6>")
    desk.shots("board")


def test_a_machine_that_is_ready_is_not_called_late_however_long_it_waits(
    drive: Callable[[Shift], Driver], shift: Shift, ticket: TicketView, second: TicketView
) -> None:
    repaired(shift, ticket)
    desk = drive(replace(shift, now=lambda: NOW + timedelta(days=20)))
    desk.until(lambda: desk.window.board.tickets == [second.id, ticket.id], "both on the board")
    tree = desk.window.board.tree
    ready, late = tree.item(str(ticket.id)), tree.item(str(second.id))
    assert (ready["values"], ready["tags"]) == (["Pickup\nready"], "")
    assert (late["values"], late["tags"]) == (["Diagnosis\n20 days late"], ["late"])


def test_f6_chooses_a_ticket_on_the_board_and_enter_opens_it(
    desk: Driver, ticket: TicketView
) -> None:
    for _again in range(2):
        desk.press("<F6>")
        assert desk.focus is desk.window.board.tree, "nothing at the right takes keys yet"
        assert desk.window.board.tree.selection() == (str(ticket.id),)
    desk.press("<Return>")
    assert desk.window.pane.ticket is not None


def test_a_board_with_the_focus_chooses_a_ticket_as_soon_as_it_is_read(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    desk = drive(shift)
    desk.press("<F6>")
    taken = take_in(
        shift,
        CustomerEntry(name="Oona Verhaal"),
        UnitEntry(kind="tiller", engine="four-stroke"),
        TicketEntry(complaint="Won't start."),
    )
    desk.press("<F5>")
    desk.until(lambda: desk.window.board.tickets == [taken.id], "the ticket on the board")
    assert desk.window.board.tree.selection() == (str(taken.id),)


def test_arrows_on_the_board_go_from_ticket_to_ticket_over_the_headings(
    desk: Driver, ticket: TicketView, second: TicketView
) -> None:
    desk.press("<F5>")
    desk.until(lambda: len(desk.window.board.tickets) == 2, "both on the board")
    tree = desk.window.board.tree
    for key, expected in (
        ("<F6>", second),
        ("<Up>", second),
        ("<Up>", second),
        ("<Left>", second),
        ("<Down>", ticket),
        ("<Down>", ticket),
    ):
        desk.press(key)
        assert tree.selection() == (str(expected.id),)
    assert all(tree.item(group, "open") for group in tree.get_children())


def test_an_empty_board_says_so_and_a_ring_shows_where_the_keys_go(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    desk = drive(shift)
    desk.until(lambda: desk.window.board.is_read, "the board")
    assert "No open tickets.\nCtrl+N takes a machine in." in all_words(desk)
    ring = desk.window.board._ring
    desk.press("<F6>")
    with_focus = str(ring.cget("highlightbackground"))
    desk.press("<Control-n>")
    assert str(ring.cget("highlightbackground")) != with_focus


def test_what_is_wider_than_the_board_ends_in_an_ellipsis(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    taken = take_in(
        shift,
        CustomerEntry(name="Wilhelmina " * 9),
        UnitEntry(kind="tiller", engine="four-stroke", make="Oakrill", model="X" * 90),
        TicketEntry(complaint="Won't start."),
    )
    desk = drive(shift)
    desk.until(lambda: desk.window.board.tickets == [taken.id], "the ticket on the board")
    shown = {}
    for size in ("1280x800", "1920x1080"):
        desk.resize(size)
        shown[size] = str(desk.window.board.tree.item(str(taken.id), "text")).split("\n")
        assert all(line.endswith("…") for line in shown[size])
    assert len(shown["1920x1080"][0]) > len(shown["1280x800"][0])
    desk.resize("1280x800")


def test_board_is_walked_with_the_arrows_and_enter_opens(
    desk: Driver, ticket: TicketView, second: TicketView
) -> None:
    desk.press("<F5>")
    desk.until(lambda: len(desk.window.board.tickets) == 2, "both on the board")
    desk.press("<F6>")
    assert desk.focus is desk.window.board.tree
    desk.press("<Down>", "<Down>", "<Return>")
    assert desk.window.pane.ticket is not None
    assert desk.window.pane.ticket.id == ticket.id
    assert desk.window.pane.page.title == "Intake"
    desk.press("<F6>")
    assert desk.focus is desk.window.board.tree
    desk.press("<F6>")
    assert desk.focus is not desk.window.board.tree


def test_scanned_tag_opens_its_ticket_at_once(desk: Driver, ticket: TicketView) -> None:
    desk.press("<Control-f>")
    desk.type("T1001\n")
    assert desk.window.pane.ticket is not None
    assert desk.window.pane.ticket.number == 1001
    assert desk.window.find.entry.get() == ""


def test_unknown_tag_is_said_and_the_words_stay(desk: Driver) -> None:
    desk.press("<Control-f>")
    desk.type("t9999\n")
    assert "no ticket 9999" in desk.notice
    assert desk.window.find.entry.get() == "t9999"


@pytest.mark.parametrize(
    ("words", "kind"),
    [("0143", OwnerCard), ("brightw", OwnerCard), ("TB26-004", MachineCard)],
)
def test_find_offers_the_open_ticket_and_then_whose_it_is(
    desk: Driver, words: str, kind: type[object]
) -> None:
    desk.press("<F6>")
    desk.type("/")
    assert desk.focus is desk.window.find.entry
    desk.type(words)
    desk.until(lambda: desk.window.find.suggestions.offers, "something found")
    assert desk.window.find.suggestions.offers[0].startswith("T1001  ")
    desk.press("<Down>", "<Down>", "<Return>")
    assert isinstance(desk.window.in_sight, kind)
    assert desk.window.find.suggestions.offers == []


def test_find_says_when_nothing_is_known_and_escape_closes_the_list(desk: Driver) -> None:
    desk.press("<Control-f>")
    desk.type("zzzzqq\n")
    assert "Nothing is known of “zzzzqq”" in desk.notice
    desk.window.find.entry.delete(0, "end")
    desk.type("bright")
    desk.until(lambda: desk.window.find.suggestions.offers, "something found")
    desk.press("<Escape>")
    assert desk.window.find.suggestions.offers == []


def test_slash_is_typed_where_one_types(desk: Driver) -> None:
    desk.press("<Control-n>")
    desk.type("a/b")
    assert isinstance(desk.window.in_sight, NewTicket)
    assert desk.window.in_sight.owner.form.text_of("name") == "a/b"


def test_header_says_who_what_when_and_whose_move(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    words = all_words(desk)
    for part in ("T1001", "Ansel Brightwater", "home 555-0142  ·  555-0143"):
        assert part in words
    for part in (
        "String trimmer, Tarnbeck TB-26",
        "TB26-00417",
        "the counter's move",
        "First visit",
    ):
        assert part in words
    assert "promised Mon 22 Mar, in 7 days" in words


def test_way_on_says_what_is_missing_and_goes_when_it_is_there(
    desk: Driver, shift: Shift, second: TicketView
) -> None:
    desk.open(second)
    assert "no part, labour or fee" in desk.window.pane.ways.missing
    desk.press("<Control-Return>")
    assert desk.kept(second).stage is Stage.DIAGNOSIS, "the way is shut"
    assert desk.notice == desk.window.pane.ways.missing, "and the key says why"
    add_line(shift, second.id, LineEntry("labour", "Carburettor cleaned", "0.5", reason="asked"))
    desk.press("<F5>")
    desk.press("<Control-Return>")
    assert desk.kept(second).stage is not Stage.DIAGNOSIS
    assert desk.notice.startswith("T1002 is in ")


def test_the_key_of_a_shut_way_keeps_what_is_typed_and_goes_if_that_opens_it(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    at_bench(shift, ticket)
    add_line(shift, ticket.id, LineEntry("labour", "Carburettor cleaned", "0.5", reason="asked"))
    desk.open(ticket)
    assert "complaint" in desk.window.pane.ways.missing
    desk.press("<Control-Return>")
    assert desk.notice == desk.window.pane.ways.missing
    desk.press("<Alt-w>")
    desk.type("seen")
    desk.press("<Control-Return>")
    assert desk.kept(ticket).confirmed == "seen"
    assert desk.kept(ticket).stage is Stage.APPROVAL


def test_a_proof_run_before_all_is_back_together_is_refused_in_words_in_sight(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    approved(shift, ticket)
    note_step(shift, ticket.id, StepEntry("Air box"))
    desk.open(ticket)
    desk.press("<Alt-p>", "<Alt-k>")
    desk.type("stop")
    desk.press("<Return>")
    desk.type("s")
    desk.press("<Return>")
    assert desk.notice.startswith("No proof run yet, not all is back together")
    assert all(one.phase != "proof" for one in desk.kept(ticket).findings)


def test_sending_back_asks_where_and_why(desk: Driver, second: TicketView) -> None:
    desk.open(second)
    desk.dialogs.answers += ["not the right machine"]
    desk.press("<Alt-b>")
    assert desk.kept(second).stage is Stage.INTAKE
    assert "Why does T1002 go back to Intake?" in desk.dialogs.asked[-1]
    assert "back in Intake" in desk.notice


def test_sending_back_without_a_reason_is_refused_in_words(
    desk: Driver, second: TicketView
) -> None:
    desk.open(second)
    desk.dialogs.answers += [""]
    desk.press("<Alt-b>")
    assert desk.kept(second).stage is Stage.DIAGNOSIS
    assert "reason" in desk.notice.lower()


def test_typed_words_wait_for_their_ticket_and_are_marked(
    desk: Driver, ticket: TicketView, second: TicketView
) -> None:
    desk.open(ticket)
    desk.type("Often:")
    assert "Intake (not saved yet)" in tab_words(desk)
    desk.open(second)
    desk.open(ticket)
    page = desk.window.pane.page
    assert page.changed
    assert "Often:" in str(page.draft()["visit"]["complaint"])
    desk.press("<Control-s>")
    assert "Often:" in desk.kept(ticket).complaint
    assert "not saved" not in tab_words(desk)


def test_way_on_keeps_what_is_typed_first(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.type("Often:")
    desk.press("<Control-Return>")
    kept = desk.kept(ticket)
    assert kept.stage is Stage.DIAGNOSIS
    assert "Often:" in kept.complaint


def test_what_another_desk_changed_is_not_overwritten(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    desk.open(ticket)
    desk.type("Mine. ")
    change_intake(shift, ticket.id, TicketEntry(complaint="Theirs."), ticket.version)
    desk.press("<Control-s>")
    assert desk.kept(ticket).complaint == "Theirs."
    assert desk.notice != ""
    assert "Mine. " in str(desk.window.pane.page.draft()["visit"]["complaint"])


def test_a_notice_goes_when_something_else_is_opened(
    desk: Driver, ticket: TicketView, second: TicketView
) -> None:
    for leave in (lambda: desk.open(second), lambda: desk.press("<Control-n>")):
        desk.open(ticket)
        desk.type("Often: ")
        desk.press("<Control-s>")
        assert desk.notice == "Saved."
        leave()
        assert desk.notice == ""


def test_ctrl_q_closes_the_window_after_asking(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.type("x")
    desk.dialogs.answers.append(False)
    desk.press("<Control-q>")
    assert "T1001 Intake" in desk.dialogs.asked[-1]
    assert desk.app.window is not None


def test_closing_asks_when_something_is_not_saved(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.type("x")
    desk.dialogs.answers.append(False)
    desk.app.close()
    assert "T1001 Intake" in desk.dialogs.asked[-1]
    assert desk.app.window is not None


def test_f1_lists_the_keys_that_work_here(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    desk.press("<F1>")
    for words in ("Ctrl+N:", "Ctrl+Enter:", "Alt+M:", "Alt+W:", "F10:"):
        assert words in desk.dialogs.asked[-1]
    assert "Alt+H:" not in desk.dialogs.asked[-1], "that one works on a machine's card"
    assert "Alt+B:" not in desk.dialogs.asked[-1], "there is no way back from Intake"


def test_every_button_in_sight_says_its_key(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    for words in button_words(desk):
        assert any(sign in words for sign in ("Alt+", "Ctrl+", "F1", "Esc")), words


def test_ten_thousand_letters_and_markup_are_kept_as_typed(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    long = "<b>&amp;</b> 🙂 " + "x" * 9_900
    taken = take_in(
        shift,
        CustomerEntry(name="<i>A</i> & Sons"),
        UnitEntry(kind="tiller", engine="four-stroke"),
        TicketEntry(complaint=long),
    )
    desk = drive(shift)
    desk.open(taken)
    assert not desk.window.pane.page.changed
    desk.press("<Control-End>")
    desk.type("!")
    desk.press("<Control-s>")
    assert desk.kept(taken).complaint == f"{long}!"
    desk.shots("long-complaint")


def test_very_long_names_and_many_phones_leave_the_promise_in_sight(
    drive: Callable[[Shift], Driver], shift: Shift
) -> None:
    taken = take_in(
        shift,
        CustomerEntry(
            name="Wilhelmina " * 15, phones=tuple(f"barn 555-01{one}" for one in range(30, 38))
        ),
        UnitEntry(kind="tiller", engine="four-stroke", make="Oakrill", model="X" * 150),
        TicketEntry(complaint="Won't start.", promised_on="today"),
    )
    desk = drive(replace(shift, now=lambda: NOW + timedelta(days=120)))
    desk.open(taken)
    desk.resize("1280x800")
    header = desk.window.pane.header
    for left, right in ((header._owner, header._machine), (header._machine, header._promise_line)):
        assert left.winfo_x() + left.winfo_width() <= right.winfo_x()
        assert left.winfo_width() >= left.winfo_reqwidth(), "an ellipsis, not a cut"
    assert header._machine.cget("text").endswith("…")
    edge = desk.root.winfo_rootx() + desk.root.winfo_width()
    for label in (header._promise, header._move):
        assert label.winfo_rootx() + label.winfo_reqwidth() <= edge
    assert "barn 555-0130  ·  7 more" in all_words(desk)
    desk.shots("long-names")


def test_a_machine_that_comes_back_is_named_a_comeback(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    repaired(shift, ticket)
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "47.78", "cash")
    hand_over(shift, ticket.id)
    back = take_in(
        replace(shift, now=lambda: NOW + timedelta(days=2)),
        ticket.owner.id,
        ticket.unit.id,
        TicketEntry(complaint="It does it again."),
    )
    desk.open(back)
    assert "Comeback of T1001.  Before:  15 Mar 2027 T1001 mended: Spark plug" in all_words(desk)
    desk.shots("comeback")


def test_the_focused_field_is_scrolled_into_sight_and_no_more(
    desk: Driver, ticket: TicketView
) -> None:
    desk.resize("1280x800")
    desk.open(ticket)
    page = desk.window.pane.page
    canvas = page._scroll._canvas if page._scroll else None
    assert canvas is not None
    assert canvas.canvasy(0) == 0, "it opens at its top"
    last_field = page._forms["machine"]["severe_use"]
    last_field.focus_input()
    desk.settle()
    assert canvas.canvasy(0) > 0
    bottom = last_field.input.winfo_rooty() + last_field.input.winfo_height()
    assert bottom <= canvas.winfo_rooty() + canvas.winfo_height()
    page._forms["visit"]["complaint"].focus_input()
    desk.settle()
    top = page._forms["visit"]["complaint"].input.winfo_rooty()
    assert top >= canvas.winfo_rooty()


def all_words(desk: Driver) -> str:
    return "\n".join(words_in(desk, "TLabel"))


def button_words(desk: Driver) -> list[str]:
    return words_in(desk, "TButton")


def words_in(desk: Driver, kind: str) -> list[str]:
    waiting: list[tk.Misc] = [desk.root]
    found = []
    while waiting:
        widget = waiting.pop()
        waiting += widget.winfo_children()
        if widget.winfo_class() == kind and widget.winfo_viewable():
            found.append(str(widget.cget("text")))
    return found


def tab_words(desk: Driver) -> str:
    book = desk.window.pane._book
    return " | ".join(str(book.tab(place, "text")) for place in range(book.index("end")))

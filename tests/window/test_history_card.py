"""A machine's history in the window: from the ticket, drawn, on paper, and back."""

from shopdesk.desk.history_card import HistoryCard
from shopdesk.desk.reading_plot import ReadingPlot
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver


def history(desk: Driver, ticket: TicketView) -> HistoryCard:
    desk.open(ticket)
    desk.press("<F12>")
    assert isinstance(desk.window.in_sight, HistoryCard)
    return desk.window.in_sight


def plots(card: HistoryCard) -> list[ReadingPlot]:
    return [one for cell in card._plots.winfo_children() for one in cell.winfo_children()
            if isinstance(one, ReadingPlot)]  # fmt: skip


def test_a_machine_without_readings_says_what_to_do(desk: Driver, ticket: TicketView) -> None:
    card = history(desk, ticket)
    assert "record one on a ticket's Diagnosis page" in str(card._said.cget("text"))
    assert "Nothing was charged" in str(card._spend.cget("text"))
    assert plots(card) == []


def test_readings_are_drawn_beside_their_limit(desk: Driver, ticket: TicketView) -> None:
    for reading in ("150", "128", "88"):
        record_finding(desk.shift, ticket.id, "compression", reading)
    card = history(desk, ticket)
    (plot,) = plots(card)
    desk.until(lambda: plot.winfo_width() > 100)
    words = [str(plot.itemcget(one, "text")) for one in plot.find_withtag("words")]
    assert any(one.startswith("Compression") for one in words)
    assert any(one.startswith("limit ") for one in words)
    desk.shots("history")


def test_escape_comes_back_to_the_ticket(desk: Driver, ticket: TicketView) -> None:
    history(desk, ticket)
    desk.press("<Escape>")
    assert desk.window.in_sight is desk.window.pane


def test_it_opens_from_the_machines_card_and_comes_back_there(
    desk: Driver, ticket: TicketView
) -> None:
    desk.open(ticket)
    desk.press("<Alt-m>")
    card = desk.window.in_sight
    desk.press("<F12>")
    assert isinstance(desk.window.in_sight, HistoryCard)
    desk.press("<Escape>")
    assert desk.window.in_sight is card


def test_a_visit_opens_with_enter(desk: Driver, ticket: TicketView) -> None:
    history(desk, ticket)
    desk.press("<Return>")
    assert desk.window.in_sight is desk.window.pane


def test_it_goes_on_paper_for_the_owner_and_for_a_buyer(desk: Driver, ticket: TicketView) -> None:
    history(desk, ticket)
    desk.press("<Control-p>")
    desk.until(lambda: len(desk.opened) == 1)
    desk.press("<Alt-b>")
    desk.until(lambda: len(desk.opened) == 2)
    names = [file.name for file in desk.opened]
    assert names[0].endswith("for the owner.pdf")
    assert names[1].endswith("for a buyer.pdf")

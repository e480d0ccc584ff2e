"""The sheet of upkeep that falls due: by key from the list to the letter box, and the answers."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from email import message_from_bytes
from email.policy import default
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.desk.due.sheet import DueSheet
from shopdesk.desk.owner_card import OwnerCard
from shopdesk.desk.person_form import PersonForm
from shopdesk.job.customers import get_customer
from shopdesk.job.due_messages import UpkeepMessageView, message_content, upkeep_messages, write_to
from shopdesk.job.messages import State
from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView
from shopdesk.records.store import open_records
from shopdesk.records.tables import Unit
from tests.job.due_shop import household, neighbour
from tests.job.workshop import Clock
from tests.window.conftest import NOW, Driver


@pytest.fixture
def clock() -> Clock:
    return Clock(datetime(2026, 4, 7, 15, tzinfo=UTC))


@pytest.fixture
def empty_shift(tmp_path: Path, clock: Clock) -> Iterator[Shift]:
    """A shift a year before the window is opened."""
    records = open_records(tmp_path / "shop.db", clock())
    yield Shift(records, "Mira", clock)
    records.close()


@pytest.fixture
def ticket(shift: Shift, clock: Clock) -> TicketView:
    """A household with three machines and four neighbours, each with a way of their own."""
    last = household(shift)
    neighbour(shift, 1, preferred_way="letter")
    neighbour(shift, 2, preferred_way="letter")
    neighbour(shift, 3, preferred_way="postcard")
    neighbour(shift, 4, preferred_way="phone")
    neighbour(shift, 5, may_remind=False)
    clock.moment = NOW
    return last


@pytest.fixture
def sheet(desk: Driver) -> DueSheet:
    desk.press("<Control-Key-4>")
    assert isinstance(desk.window.in_sight, DueSheet)
    return desk.window.in_sight


@pytest.fixture
def desk(drive: Callable[[Shift], Driver], shift: Shift, ticket: TicketView) -> Driver:
    return drive(shift)


def kept(desk: Driver, *states: State) -> dict[str, UpkeepMessageView]:
    return {one.owner: one for one in upkeep_messages(desk.shift, states or tuple(State))}


def rows(sheet: DueSheet) -> list[tuple[str, ...]]:
    tree = sheet.list.tree
    return [tuple(sheet.list.cells(int(key))) for key in tree.get_children()]


def made(desk: Driver, sheet: DueSheet, key: str = "<Alt-a>") -> None:
    desk.dialogs.answers.append(True)
    desk.press(key)
    desk.until(lambda: not sheet.batch.running and not desk.window.front.worker.busy)
    desk.settle()


def text_of(file: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(file).pages)


def test_the_list_is_grouped_by_owner(desk: Driver, sheet: DueSheet) -> None:
    shown = rows(sheet)
    assert [(row[0], row[1]) for row in shown] == [
        ("Mara Quill", "e-mail"),
        ("Owner 1", "letter"),
        ("Owner 2", "letter"),
        ("Owner 3", "postcard"),
        ("Owner 4", "phone"),
        ("Owner 5", "nothing"),
    ]
    assert shown[0][2].count(";") == 2
    assert "Mara Quill, home 555-0142.\nChain saw, Osmarrow OS 40" in sheet.about
    assert sheet.words.startswith("Up to Wed 14 Apr 2027: 5 owners with 7 machines to invite.")
    assert "Invited" in sheet.pictures.words
    desk.shots("due")


def test_writing_to_all_makes_each_by_its_way(desk: Driver, sheet: DueSheet) -> None:
    made(desk, sheet)
    assert desk.dialogs.asked == [
        "Make 2 letters, 1 postcard, 1 e-mail, 1 call, and write out all that did not go out yet?"
    ]
    letters, cards, calls, mail = desk.opened
    assert [file.name for file in (letters, cards, calls)] == [
        "upkeep letters 2027-03-15.pdf",
        "upkeep postcards 2027-03-15.pdf",
        "upkeep calls 2027-03-15.pdf",
    ]
    assert "Dear Owner 1," in text_of(letters)
    assert "Dear Owner 2," in text_of(letters)
    assert "Owner 3" in text_of(cards)
    assert "555-01049" in text_of(calls)
    assert message_from_bytes(mail.read_bytes(), policy=default)["To"].startswith("Mara Quill")
    assert "2 letters: upkeep letters 2027-03-15.pdf" in desk.notice
    assert [row[0] for row in rows(sheet)] == ["Owner 5"]
    assert {one.message.state for one in kept(desk).values()} == {State.MADE}
    said = message_content(desk.shift, kept(desk)["Owner 1"].message.id)
    assert said.invited_for is not None
    desk.shots("due-made")
    desk.press("<Alt-a>")
    assert desk.notice == "Nobody here is to be written to."


def test_one_way_at_a_time(desk: Driver, sheet: DueSheet) -> None:
    for key, owners in (("<Alt-k>", 1), ("<Alt-c>", 2), ("<Alt-e>", 3), ("<Alt-l>", 5)):
        made(desk, sheet, key)
        assert len(kept(desk)) == owners
    desk.press("<Alt-l>")
    assert desk.notice == "Nobody here is to be written to by letter."


def test_the_week_narrows_the_list_and_may_be_left_out(desk: Driver, sheet: DueSheet) -> None:
    weeks = sorted({row[4] for row in rows(sheet) if row[4]})
    assert len(weeks) > 1
    sheet.days["offer"].set(False)
    sheet.days["week"].focus_input()
    desk.press("<Control-slash>")
    desk.type("22 Mar")
    narrowed = [row[0] for row in rows(sheet)]
    assert 0 < len(narrowed) < 6
    assert {row[4] for row in rows(sheet)} == {"22 Mar"}
    made(desk, sheet)
    assert set(kept(desk)) == set(narrowed)
    said = message_content(desk.shift, kept(desk)[narrowed[0]].message.id)
    assert said.invited_for is None


def test_nothing_is_made_where_it_is_not_wanted(desk: Driver, sheet: DueSheet) -> None:
    desk.dialogs.answers.append(False)
    desk.press("<Alt-a>")
    assert kept(desk) == {}


def test_another_day_is_typed(desk: Driver, sheet: DueSheet) -> None:
    sheet.days["by"].focus_input()
    desk.type("20 mar")
    desk.press("<Return>")
    assert [row[0] for row in rows(sheet)] == ["Mara Quill"]
    sheet.days["by"].set("31 feb")
    sheet.days["by"].focus_input()
    desk.press("<Return>")
    assert "There is no 31 Feb" in sheet.days["by"].error


def test_one_owner_by_a_way_that_is_chosen(desk: Driver, sheet: DueSheet) -> None:
    desk.dialogs.answers.append("postcard")
    desk.press("<Alt-w>")
    desk.until(lambda: len(desk.opened) == 1)
    assert [(owner, one.message.way) for owner, one in kept(desk).items()] == [
        ("Mara Quill", "postcard")
    ]
    sheet.list.select(next(int(key) for key in sheet.list.tree.get_children()[-1:]))
    desk.press("<Alt-w>")
    assert desk.notice == "Owner 5 wants no reminders."


def test_what_another_desk_made_meanwhile_is_not_made_twice(desk: Driver, sheet: DueSheet) -> None:
    keys = map(int, sheet.list.tree.get_children())
    owner = next(key for key in keys if sheet.list.cells(key)[0] == "Owner 1")
    write_to(desk.shift, owner, date(2027, 4, 14))
    made(desk, sheet)
    assert "Nothing is due for this owner that they did not hear of." in desk.notice
    assert "2 letters: " in desk.notice
    assert len(upkeep_messages(desk.shift)) == 5


def test_stopping_keeps_what_is_made(desk: Driver, sheet: DueSheet) -> None:
    desk.dialogs.answers.append(True)
    sheet.focus_set()
    sheet._write(("letter", "postcard", "e-mail", "phone"))
    assert sheet.batch.words == "Making the messages: 0 of 5"
    sheet.batch.stop()
    desk.until(lambda: not sheet.batch.running)
    desk.settle()
    assert desk.notice.startswith("Stopped. What is made waits below")
    assert len(kept(desk)) == 1
    assert desk.opened == []
    desk.press("<Alt-i>")
    desk.until(lambda: len(desk.opened) == 1)


def test_they_went_out_and_answered(desk: Driver, sheet: DueSheet, clock: Clock) -> None:
    made(desk, sheet)
    desk.dialogs.answers.append(True)
    desk.press("<Alt-g>")
    assert desk.notice == "Noted: 5 messages went out."
    messages = kept(desk)
    assert {one.message.state for one in messages.values()} == {State.SENT}

    def answer(owner: str, *answers: object) -> None:
        sheet.answers.list.select(messages[owner].message.id)
        desk.dialogs.answers += answers
        desk.press("<Alt-r>")

    answer("Owner 1", "comes on a day", "fri")
    answer("Owner 2", "answered", "does it alone")
    answer("Owner 3", "came back")
    answer("Owner 4", "moved away")
    answer("Mara Quill", "sold it", "String trimmer")
    now = kept(desk)
    assert {owner: one.message.state for owner, one in now.items()} == {
        "Owner 1": State.BOOKED,
        "Owner 2": State.ANSWERED,
        "Owner 3": State.CAME_BACK,
        "Owner 4": State.ANSWERED,
        "Mara Quill": State.ANSWERED,
    }
    assert get_customer(desk.shift, now["Owner 4"].customer_id).moved_away
    with desk.shift.records.reading():
        assert [unit.kind for unit in Unit.select() if unit.gone_on] == ["string trimmer"]
    assert [(row[0], row[1]) for row in rows(sheet)] == [
        ("Owner 3", "e-mail"),
        ("Owner 5", "nothing"),
    ]
    listed = sheet.answers.list
    assert [listed.cells(int(key))[3] for key in listed.tree.get_children()] == [
        "comes Fri 19 Mar 2027"
    ]
    clock.forward(30)
    sheet.answers.read()
    assert [listed.cells(int(key))[3] for key in listed.tree.get_children()] == [
        "comes Fri 19 Mar 2027: did they come?"
    ]
    sheet.answers.show_form["state"].focus_input()
    desk.press("<Control-slash>")
    desk.type("all of them")
    assert len(listed.tree.get_children()) == 5
    desk.shots("due-answers")


def test_an_answer_needs_its_day(desk: Driver, sheet: DueSheet) -> None:
    made(desk, sheet, "<Alt-k>")
    for day, said in (("", "Say on which day"), ("31 feb", "There is no 31 Feb")):
        desk.dialogs.answers += ["comes on a day", day]
        desk.press("<Alt-r>")
        assert desk.notice.startswith(said)
    desk.dialogs.answers += [None]
    desk.press("<Alt-r>")
    assert kept(desk)["Owner 3"].message.state is State.MADE


def test_one_is_taken_back_and_a_second_word_waits(desk: Driver, sheet: DueSheet) -> None:
    made(desk, sheet, "<Alt-k>")
    desk.dialogs.answers += ["wrong words"]
    desk.press("<Alt-d>")
    assert desk.notice == "Taken back: they are on the list again."
    assert "Owner 3" in [row[0] for row in rows(sheet)]
    made(desk, sheet, "<Alt-k>")
    desk.press("<Alt-s>")
    assert desk.notice == "Noted: it went out to Owner 3."
    desk.press("<Alt-y>")
    assert desk.notice.startswith("It went out less than 28 days ago")
    clock = desk.shift.now
    assert isinstance(clock, Clock)
    clock.forward(30)
    desk.press("<Alt-y>")
    assert desk.notice == "A second, gentler message to Owner 3 waits to be written out."
    assert [one.again for one in upkeep_messages(desk.shift, [State.MADE])] == [True]


def test_keys_where_there_is_no_message(desk: Driver, sheet: DueSheet) -> None:
    for key in ("<Alt-s>", "<Alt-r>", "<Alt-d>", "<Alt-y>"):
        desk.press(key)
        assert desk.notice == "No message is here."
    for key in ("<Alt-g>", "<Alt-i>"):
        desk.press(key)
        assert desk.notice == "Nothing here waits to go out."


def test_for_a_spreadsheet(desk: Driver, sheet: DueSheet) -> None:
    desk.press("<Alt-x>")
    file = desk.window.front.papers.folder / "shop" / "upkeep due 2027-04-14.csv"
    assert desk.notice == f"For a spreadsheet: {file}."
    lines = file.read_text(encoding="utf-8-sig").splitlines()
    assert len(lines) == 1 + 3 + 5
    assert lines[0].startswith("Owner,Way,")


def test_a_folder_that_cant_be_written_is_said_and_nothing_is_lost(
    desk: Driver, sheet: DueSheet
) -> None:
    folder = desk.window.front.papers.folder
    folder.parent.mkdir(exist_ok=True)
    folder.write_text("a file in the way")
    made(desk, sheet)
    assert "Nothing can be written into" in desk.notice
    assert len(kept(desk, State.MADE)) == 5
    folder.unlink()
    desk.press("<Alt-i>")
    desk.until(lambda: len(desk.opened) == 4)


def test_enter_opens_the_owners_card_and_their_way_is_changed_there(
    desk: Driver, sheet: DueSheet
) -> None:
    desk.press("<Return>")
    card = desk.window.in_sight
    assert isinstance(card, OwnerCard)
    card.form["preferred_way"].focus_input()
    desk.press("<Control-slash>")
    desk.type("postc")
    desk.press("<Control-s>")
    assert desk.notice == "Saved."
    desk.shots("owner-card-ways")
    desk.press("<Escape>")
    assert desk.window.in_sight is sheet
    assert rows(sheet)[0][:2] == ("Mara Quill", "postcard")
    desk.press("<Return>")
    card.form["moved_away"].set(True)
    assert card.save()
    desk.press("<Escape>")
    assert "Mara Quill" not in [row[0] for row in rows(sheet)]


def test_a_form_that_does_not_ask_how_to_write_leaves_it_as_it_is(
    desk: Driver, ticket: TicketView
) -> None:
    owner = get_customer(desk.shift, ticket.owner.id)
    kept_so = replace(owner, preferred_way="text", moved_away=True)
    form = PersonForm(desk.root)
    form.show(kept_so)
    assert (form.entry().preferred_way, form.entry().moved_away) == ("text", True)
    form.fill({"name": "Somebody else"})
    assert (form.entry().preferred_way, form.entry().moved_away) == ("", False)
    form.destroy()

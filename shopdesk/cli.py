"""The commands: window, demo, a ticket's papers and journal, what falls due, backup and check."""

import argparse
import json
import os
import re
import shutil
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import shopdesk
from shopdesk import places
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.desk.welcome import OpenDemo
    from shopdesk.job.changes import RowChange
    from shopdesk.job.due import DueReminder
    from shopdesk.job.shift import Shift
    from shopdesk.job.views import TicketView

FAILED, STOPPED = 1, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return 0 if it did its work.

    What a person can mend is one sentence on standard error, and 1; a command that is not
    understood ends with 2 (``SystemExit``), Ctrl-C with 130. A reader that goes away is no fault
    to speak of: 1, in silence.
    """
    asked = _parser().parse_args(arguments)
    command: Callable[[Namespace], int] = asked.command
    try:
        return command(asked)
    except JobError as error:
        print(error.sentence, file=sys.stderr)
        return FAILED
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED


def _parser() -> ArgumentParser:
    parser = ArgumentParser(
        "shopdesk", description=f"{shopdesk.__doc__} Without a command it opens the window."
    )
    parser.add_argument("--version", action="version", version=f"shopdesk {shopdesk.__version__}")
    _records_option(parser, default=None)
    parser.set_defaults(command=_open_window)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    _demo(
        commands.add_parser(
            "demo", help="build an invented shop and take one ticket through the whole job"
        )
    )
    _papers(commands.add_parser("papers", help="write all papers that a ticket has so far"))
    _journal(
        commands.add_parser(
            "journal", help="tell who changed what on a ticket, when, and from what to what"
        )
    )
    _due(commands.add_parser("due", help="list the upkeep that falls due, the earliest first"))
    _backup(commands.add_parser("backup", help="copy the records and their photos to a safe place"))
    _check(
        commands.add_parser(
            "check", help="prove that the records are whole and the invoices add up"
        )
    )
    _pictures(commands.add_parser("pictures", help="save pictures of the window on the demo shop"))
    return parser


def _records_option(parser: ArgumentParser, default: object = argparse.SUPPRESS) -> None:
    """Let the records be named before the command or after it; what stands after it wins."""
    parser.add_argument(
        "--records",
        type=Path,
        metavar="FILE",
        default=default,
        help="the records to work on (usually your own)",
    )


def _json_option(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="write it for another program to read")


def _demo(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--folder", type=Path, metavar="DIR", help="where the demo's records and papers go"
    )
    parser.add_argument(
        "--no-window", action="store_true", help="do not open the front desk afterwards"
    )
    parser.add_argument(
        "--seed", type=int, default=1, metavar="N", help="another number makes another past"
    )
    parser.add_argument(
        "--today", type=date.fromisoformat, metavar="YYYY-MM-DD", help="the day it is in the demo"
    )
    parser.set_defaults(command=_run_demo)


def _ticket_argument(parser: ArgumentParser) -> None:
    parser.add_argument("ticket", metavar="TICKET", help="the number on the tag, such as T1043")


def _papers(parser: ArgumentParser) -> None:
    _ticket_argument(parser)
    parser.add_argument(
        "--folder",
        type=Path,
        metavar="DIR",
        help="where to write them (usually beside the records)",
    )
    _records_option(parser)
    parser.set_defaults(command=_write_papers)


def _journal(parser: ArgumentParser) -> None:
    _ticket_argument(parser)
    _json_option(parser)
    _records_option(parser)
    parser.set_defaults(command=_tell_journal)


def _due(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--by",
        default="",
        metavar="DATE",
        help="only what falls due up to then: fri, 14 mar, 2027-03-14 …",
    )
    _json_option(parser)
    _records_option(parser)
    parser.set_defaults(command=_list_due)


def _backup(parser: ArgumentParser) -> None:
    parser.add_argument(
        "to",
        nargs="?",
        type=Path,
        metavar="TO",
        help="a file or folder (usually backups beside the records)",
    )
    _records_option(parser)
    parser.set_defaults(command=_back_up)


def _check(parser: ArgumentParser) -> None:
    _json_option(parser)
    _records_option(parser)
    parser.set_defaults(command=_check_records)


def _pictures(parser: ArgumentParser) -> None:
    parser.add_argument("folder", type=Path, metavar="DIR", help="where the pictures go")
    parser.set_defaults(command=_take_pictures)


def _open_window(asked: Namespace) -> int:
    from shopdesk.bootstrap.system import missing_for_window
    from shopdesk.demo.beside import fresh_demo
    from shopdesk.job.shift import Shift
    from shopdesk.records.store import open_records

    why_not = missing_for_window()
    if not why_not:
        records = open_records(asked.records or places.records_file(), datetime.now(UTC))
        if records.backed_up_to:
            _say(f"The records were upgraded; as they were before: {records.backed_up_to}")
        why_not = _show(Shift(records), fresh_demo)
    if why_not:
        raise JobError(f"The window can't be opened. {why_not}")
    return 0


def _show(shift: "Shift", open_demo: "OpenDemo | None" = None) -> str:
    """Show the window until it is closed; return in a sentence why it can't be, or nothing."""
    from shopdesk.desk.app import run

    try:
        return _why_no_display(lambda: run(shift, open_demo))
    finally:
        shift.records.close()


def _why_no_display(work: Callable[[], object]) -> str:
    """Do work that needs a display; return in a sentence why there is none, or nothing."""
    import tkinter

    try:
        work()
    except tkinter.TclError as error:
        if "display" not in str(error):
            raise
        return f"The display does not answer: {error}."
    return ""


def _run_demo(asked: Namespace) -> int:
    from shopdesk.bootstrap.system import missing_for_window
    from shopdesk.demo.run import run_demo

    if asked.records:
        raise JobError("The demo makes records of its own: name their folder with --folder.")
    demo = run_demo(asked.folder, _say, asked.today, asked.seed)
    file = demo.shift.records.file
    _say("", f"The records are {file}; open them again with: shopdesk --records {file}")
    why_not = "--no-window was asked for." if asked.no_window else missing_for_window()
    if not why_not:
        _say("The front desk opens on them now.")
        why_not = _show(demo.shift)
    demo.shift.records.close()
    if why_not:
        _say(f"The window was not opened. {why_not}")
    return 0


def _write_papers(asked: Namespace) -> int:
    from shopdesk.papers.of_ticket import save_papers

    with _opened(asked) as shift:
        ticket = _ticket_asked(shift, asked)
        file = shift.records.file
        folder = asked.folder or file.with_name(f"{file.stem}-papers") / ticket.tag
        papers = save_papers(shift, ticket, folder.expanduser().absolute())
    for paper in papers:
        _say(str(paper.file))
        if paper.missing:
            _say(f"  not in our letters, printed as codes: {' '.join(paper.missing)}")
    return 0


def _ticket_asked(shift: "Shift", asked: Namespace) -> "TicketView":
    from shopdesk.job.opened import ticket_numbered

    number = re.fullmatch(r"\s*T?\s*(\d{1,9})\s*", asked.ticket, re.IGNORECASE)
    if number is None:
        raise JobError(
            f"“{asked.ticket}” is no ticket number: type it as on the tag, such as T1043."
        )
    return ticket_numbered(shift, int(number[1]))


def _tell_journal(asked: Namespace) -> int:
    from shopdesk.job.changes import ticket_changes

    with _opened(asked) as shift:
        changes = ticket_changes(shift, _ticket_asked(shift, asked).id)
        zone = shift.shop.zone
    if asked.json:
        _say_json([asdict(change) | {"at": change.at.isoformat()} for change in changes])
    else:
        _say(*(line for change in changes for line in _change_lines(change, zone)))
    return 0


def _change_lines(change: "RowChange", zone: str) -> Iterator[str]:
    from shopdesk.dates import show_moment

    why = f": {change.why}" if change.why else ""
    who = change.who or "no name"
    yield f"{show_moment(change.at, zone)}  {who}  {change.action} {change.row}{why}"
    for column in change.columns:
        sides = (column.before, column.after)
        changed = change.action == "changed"
        told = " → ".join(side or "nothing" for side in sides) if changed else "".join(sides)
        yield f"    {column.what}: {told}"


def _list_due(asked: Namespace) -> int:
    from shopdesk.job.due import reminders_due
    from shopdesk.job.typed import day

    with _opened(asked) as shift:
        shop = shift.shop
        by = day(asked.by, "by", shift.today_in(shop), day_first=shop.day_first)
        due = reminders_due(shift, by)
    if asked.json:
        _say_json([asdict(one) for one in due])
    elif due:
        _say(*(line for one in due for line in _due_lines(one)))
    else:
        _say("No upkeep falls due.")
    return 0


def _due_lines(one: "DueReminder") -> list[str]:
    from shopdesk.dates import show_date

    phones = ", ".join(one.phones) or "no phone"
    head = f"{show_date(one.due_on)}  {one.owner}, {phones}: {one.machine} ({one.ticket})"
    return [head, *(f"    {title}" for title in one.titles)]


def _back_up(asked: Namespace) -> int:
    from shopdesk.records.backup import copy_records

    with _opened(asked) as shift:
        records = shift.records
        copy = _backup_file(records.file, asked.to)
        copy_records(records.file, copy)
    _say(f"The records are copied to {copy}")
    for folder in (records.photo_folder, records.templates_folder):
        if folder.is_dir():
            beside = copy.with_name(folder.name.replace(records.file.stem, copy.stem, 1))
            _copy_folder(folder, beside)
            _say(f"and {folder.name} to {beside}")
    return 0


def _backup_file(records: Path, to: Path | None) -> Path:
    """Return the file to copy to; one that is there already is never written over."""
    copy = records.parent / "backups" if to is None else to.expanduser().absolute()
    with _troubles_of(copy):
        if to is None or copy.is_dir():
            copy /= f"{records.stem}-{datetime.now(UTC):%Y%m%dT%H%M%S}.db"
        if copy.exists():
            raise JobError(f"{copy} is there already and is left as it is: name another file.")
    return copy


def _copy_folder(folder: Path, copy: Path) -> None:
    try:
        for file in sorted(folder.rglob("*")):
            if file.is_file():
                to = copy / file.relative_to(folder)
                to.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(file, to)
    except OSError as error:
        raise JobError(
            f"The records were copied, but {folder} could not be copied to {copy} "
            f"({error.strerror}): free some space or name another place, and back up again."
        ) from error


def _check_records(asked: Namespace) -> int:
    from shopdesk.job.audit import audit
    from shopdesk.records.examine import Examination, examine

    with _opened(asked) as shift:
        file = examine(shift.records)
        books = Examination((), ()) if file.faults else audit(shift)
    faults = file.faults + books.faults
    proved = () if faults else file.proved + books.proved
    if asked.json:
        where = {"records": str(shift.records.file), "sound": not faults}
        found = {"proved": proved, "not_proved": books.not_proved, "faults": faults}
        _say_json(where | found)
        return FAILED if faults else 0
    if faults:
        raise JobError(
            f"{shift.records.file} is not sound: {'; '.join(faults)}. "
            "Leave it as it is and restore the newest good backup."
        )
    _say(*(f"proved: {one}" for one in proved))
    _say(*(f"not proved: {one}" for one in books.not_proved))
    return 0


def _take_pictures(asked: Namespace) -> int:
    from shopdesk.bootstrap.system import missing_for_window

    why_not = missing_for_window() or _why_no_display(lambda: _pictures_of_demo(asked.folder))
    if why_not:
        raise JobError(f"No pictures can be taken. {why_not}")
    return 0


def _pictures_of_demo(folder: Path) -> None:
    from shopdesk.demo.build import build_demo
    from shopdesk.desk.screenshots import make_screenshots
    from shopdesk.job.shift import Shift, clock

    with TemporaryDirectory() as shop:
        records = build_demo(Path(shop), clock().date()).shift.records
        files = make_screenshots(Shift(records), folder.expanduser().absolute())
        records.close()
    _say(*map(str, files))


@contextmanager
def _opened(asked: Namespace) -> "Iterator[Shift]":
    """Open records that must be there already, and close them at the end."""
    from shopdesk.job.shift import Shift
    from shopdesk.records.store import open_records

    file = (asked.records or places.records_file()).expanduser().absolute()
    with _troubles_of(file):
        if not file.exists():
            raise JobError(f"There are no records at {file}: name the file with --records.")
        if file.stat().st_size == 0:
            raise JobError(f"{file} is empty, it holds no records: restore the newest backup.")
    records = open_records(file, datetime.now(UTC))
    try:
        yield Shift(records)
    finally:
        records.close()


@contextmanager
def _troubles_of(file: Path) -> Iterator[None]:
    """Say in a sentence what the system complains of when it looks for ``file``."""
    from shopdesk.records.troubles import trouble

    try:
        yield
    except OSError as error:
        raise trouble(error, file) from error


def _say(*lines: str) -> None:
    for line in lines:
        print(line, flush=True)


def _say_json(value: object) -> None:
    print(json.dumps(value, ensure_ascii=False, indent=2, default=str))

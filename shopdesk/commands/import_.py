"""``shopdesk import``: owners and machines from a CSV file or vCards, tried first, then kept."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, records_option
from shopdesk.commands.saying import say
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.importing.plan import Plan, PlannedRow, Work
    from shopdesk.job.shift import Shift

_MOST_SHOWN = 40


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "import", help="bring in owners and machines from CSV files or vCards"
    )
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help="the lists")
    parser.add_argument(
        "--match",
        action="append",
        default=[],
        metavar="HEADING=PLACE",
        help="where a column goes, if the guess is wrong; nothing after the = leaves it out",
    )
    parser.add_argument(
        "--known",
        choices=("add", "skip", "new"),
        default="add",
        help="what to do with an owner who is there already (usually add to them)",
    )
    parser.add_argument(
        "--wrong",
        choices=("stop", "leave-out", "note"),
        default="stop",
        help="what to do with what can't be read: mend it first, leave its row out, or note it",
    )
    parser.add_argument(
        "--keep", action="store_true", help="bring them in; without it they are only tried"
    )
    parser.add_argument("--list", action="store_true", help="tell what was brought in so far")
    parser.add_argument(
        "--take-back", type=int, metavar="NUMBER", help="take a list back that was brought in"
    )
    records_option(parser)
    parser.set_defaults(command=_run)


def _run(asked: Namespace) -> int:
    with opened(asked) as shift:
        if asked.take_back is not None:
            _take_back(shift, asked.take_back)
        elif asked.list:
            _list(shift)
        elif asked.files:
            _bring_in(shift, asked)
        else:
            raise JobError("Name the lists to bring in, or say --list or --take-back.")
    return 0


def _bring_in(shift: "Shift", asked: Namespace) -> None:
    from shopdesk.job.importing.keeping import bring_in
    from shopdesk.job.importing.plan import dry_run

    work = _work(asked)
    for listing, matches in work.lists:
        say(f"{listing.name}: {len(listing.rows):,} rows, {listing.read_as}")
        width = max(map(len, listing.heads))
        for column, (head, match) in enumerate(zip(listing.heads, matches, strict=True)):
            sample = ", ".join(" / ".join(one.splitlines()) for one in listing.samples(column, 2))
            say(f"  {head:{width}}  {match.words}: {sample[:60]}")
    plan = dry_run(shift, work)
    _tell(plan)
    if asked.keep:
        kept = bring_in(shift, work, plan)
        say(f"Brought in as list {kept.id}: {kept.words}.")
    else:
        say("Nothing was brought in yet: say --keep to do it.")


def _work(asked: Namespace) -> "Work":
    from dataclasses import replace

    from shopdesk.job.importing.entries import Wrong
    from shopdesk.job.importing.listing import read_list
    from shopdesk.job.importing.matching import matched_by_hand
    from shopdesk.job.importing.plan import Will, prepared

    known = {"add": Will.ADD, "skip": Will.SKIP, "new": Will.NEW}[asked.known]
    wrong = {"stop": Wrong.STOP, "leave-out": Wrong.LEAVE_OUT, "note": Wrong.NOTE}[asked.wrong]
    work = prepared(*map(read_list, asked.files), known=known, wrong=wrong)
    if not asked.match:
        return work
    if len(work.lists) > 1:
        raise JobError("--match is for one list: bring the lists in one after another.")
    ((listing, matches),) = work.lists
    return replace(work, lists=((listing, matched_by_hand(listing, matches, asked.match)),))


def _tell(plan: "Plan") -> None:
    told = [row for row in plan.rows if row.problems or row.may_be or row.remarks]
    for row in told[:_MOST_SHOWN]:
        say(_row_words(row))
    if len(told) > _MOST_SHOWN:
        say(f"  and {len(told) - _MOST_SHOWN:,} more rows like these")
    say(f"{plan.words}.")


def _row_words(row: "PlannedRow") -> str:
    parts = [row.owner_words, row.machine_words, *row.remarks]
    if row.entry is not None:
        parts += [f"{one.heading}: {one.sentence}" for one in row.problems]
    said = "; ".join(filter(None, parts))
    return f"  {row.list_name} line {row.line}, {row.title or 'no name'}: {said}"


def _list(shift: "Shift") -> None:
    from shopdesk.dates import show_moment
    from shopdesk.job.importing.keeping import imports

    zone = shift.shop.zone
    for one in imports(shift):
        back = f"; taken back {show_moment(one.taken_back_at, zone)}" if one.taken_back_at else ""
        say(f"{one.id}  {show_moment(one.done_at, zone)}  {one.files}: {one.words}{back}")


def _take_back(shift: "Shift", number: int) -> None:
    from shopdesk.job.importing.taking_back import take_back

    one = take_back(shift, number)
    say(f"Taken back: {one.files}, {one.words}.")

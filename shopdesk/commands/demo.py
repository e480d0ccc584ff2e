"""``shopdesk demo``: an invented shop, and one ticket taken through the whole job."""

from argparse import Namespace
from datetime import date
from pathlib import Path

from shopdesk.commands.options import Commands
from shopdesk.commands.saying import say
from shopdesk.commands.window import show
from shopdesk.errors import JobError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "demo", help="build an invented shop and take one ticket through the whole job"
    )
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


def _run_demo(asked: Namespace) -> int:
    from shopdesk.bootstrap.system import missing_for_window
    from shopdesk.demo.run import run_demo

    if asked.records:
        raise JobError("The demo makes records of its own: name their folder with --folder.")
    demo = run_demo(asked.folder, say, asked.today, asked.seed)
    file = demo.shift.records.file
    say("", f"The records are {file}; open them again with: shopdesk --records {file}")
    why_not = "--no-window was asked for." if asked.no_window else missing_for_window()
    if not why_not:
        say("The front desk opens on them now.")
        why_not = show(demo.shift)
    demo.shift.records.close()
    if why_not:
        say(f"The window was not opened. {why_not}")
    return 0

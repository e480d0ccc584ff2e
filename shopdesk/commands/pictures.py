"""``shopdesk pictures``: pictures of the window on the demo shop."""

from argparse import Namespace
from pathlib import Path
from tempfile import TemporaryDirectory

from shopdesk.commands.options import Commands
from shopdesk.commands.saying import say
from shopdesk.commands.window import why_no_display
from shopdesk.errors import JobError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser("pictures", help="save pictures of the window on the demo shop")
    parser.add_argument("folder", type=Path, metavar="DIR", help="where the pictures go")
    parser.set_defaults(command=_take_pictures)


def _take_pictures(asked: Namespace) -> int:
    from shopdesk.bootstrap.system import missing_for_window

    why_not = missing_for_window() or why_no_display(lambda: _pictures_of_demo(asked.folder))
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
    say(*map(str, files))

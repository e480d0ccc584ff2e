"""``shopdesk pictures``: pictures of the window on the demo shop."""

from argparse import ArgumentTypeError, Namespace
from pathlib import Path
from tempfile import TemporaryDirectory

from shopdesk.commands.options import Commands
from shopdesk.commands.saying import say
from shopdesk.commands.window import why_no_display
from shopdesk.desk.comfort import TEXT_SIZES
from shopdesk.errors import JobError

_LEAST, _MOST = (1024, 640), (7680, 4320)


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser("pictures", help="save pictures of the window on the demo shop")
    parser.add_argument("folder", type=Path, metavar="DIR", help="where the pictures go")
    parser.add_argument("--dark", action="store_true", help="take them dark instead of light")
    parser.add_argument(
        "--text",
        type=int,
        choices=TEXT_SIZES,
        default=100,
        help="how large the text is, in %% (100)",
    )
    parser.add_argument(
        "--size",
        type=_size,
        default=(1280, 800),
        metavar="WxH",
        help="how large the window is, in pixels (1280x800)",
    )
    parser.set_defaults(command=_take_pictures)


def _size(words: str) -> tuple[int, int]:
    width, _, height = words.lower().partition("x")
    if not (width.isdecimal() and height.isdecimal()):
        raise ArgumentTypeError("say it as 1920x1080")
    found = int(width), int(height)
    if not all(least <= one <= most for least, one, most in zip(_LEAST, found, _MOST, strict=True)):
        raise ArgumentTypeError("say it between {}x{} and {}x{}".format(*_LEAST, *_MOST))
    return found


def _take_pictures(asked: Namespace) -> int:
    from shopdesk.bootstrap.system import missing_for_window

    why_not = missing_for_window() or why_no_display(lambda: _pictures_of_demo(asked))
    if why_not:
        raise JobError(f"No pictures can be taken. {why_not}")
    return 0


def _pictures_of_demo(asked: Namespace) -> None:
    from shopdesk.demo.build import build_demo
    from shopdesk.desk.screenshots import Shot, make_screenshots
    from shopdesk.job.shift import Shift, clock

    shot = Shot(asked.dark, asked.text, *asked.size)
    with TemporaryDirectory() as shop:
        records = build_demo(Path(shop), clock().date()).shift.records
        files = make_screenshots(Shift(records), asked.folder.expanduser().absolute(), shot)
        records.close()
    say(*map(str, files))

"""``shopdesk export``: all that the shop keeps as CSV and JSON, in a zip or a folder."""

from argparse import Namespace
from pathlib import Path

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, json_option, records_option
from shopdesk.commands.saying import say, say_json


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "export", help="write all that the shop keeps as CSV and JSON, for other programs"
    )
    parser.add_argument(
        "to", type=Path, metavar="TO", help="a file that ends in .zip, or a new folder"
    )
    json_option(parser)
    records_option(parser)
    parser.set_defaults(command=_run)


def _run(asked: Namespace) -> int:
    from shopdesk.job.exporting import export_all

    with opened(asked) as shift:
        done = export_all(shift, asked.to)
    if asked.json:
        say_json({"written": str(done.place), "rows": dict(done.counts)})
        return 0
    say(*(f"{count:>9,}  {name}" for name, count in done.counts))
    say(f"{done.rows:,} rows written to {done.place}")
    return 0

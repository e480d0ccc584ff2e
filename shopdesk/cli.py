"""The command line: which commands there are, and what is said when one can't do its work."""

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Sequence

import shopdesk
from shopdesk.commands import (
    FAILED,
    backup,
    check,
    demo,
    due,
    export,
    history,
    import_,
    journal,
    owner_data,
    papers,
    pictures,
    report,
)
from shopdesk.commands.options import records_option
from shopdesk.commands.window import open_window
from shopdesk.errors import JobError

STOPPED = 130
COMMANDS = (
    *(demo, papers, journal, history, due, report),
    *(import_, export, owner_data, backup, check, pictures),
)
"""In the order in which the help names them."""


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
    records_option(parser, default=None)
    parser.set_defaults(command=open_window)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for command in COMMANDS:
        command.add(commands)
    return parser

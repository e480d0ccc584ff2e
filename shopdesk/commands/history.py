"""``shopdesk history``: all that is remembered of a machine, on paper."""

from argparse import Namespace
from pathlib import Path

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, records_option, ticket_argument, ticket_asked
from shopdesk.commands.saying import say
from shopdesk.errors import JobError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "history", help="write the history of a ticket's machine over all its visits"
    )
    ticket_argument(parser)
    parser.add_argument(
        "--buyer", action="store_true", help="name no owner and no sums: to hand to a buyer"
    )
    parser.add_argument(
        "--folder", type=Path, metavar="DIR", help="where to write it (usually beside the records)"
    )
    records_option(parser)
    parser.set_defaults(command=_write_history)


def _write_history(asked: Namespace) -> int:
    from shopdesk.job.history_paper import history_content
    from shopdesk.papers.history import draw_history
    from shopdesk.papers.of_ticket import words_of
    from shopdesk.papers.printed import save_paper

    with opened(asked) as shift:
        ticket = ticket_asked(shift, asked)
        file = shift.records.file
        folder = asked.folder or file.with_name(f"{file.stem}-papers") / ticket.tag
        content = history_content(shift, ticket.unit.id, for_buyer=asked.buyer)
        printed = draw_history(content, words_of(shift))
    name = f"{ticket.tag} history{' for a buyer' if asked.buyer else ''}"
    folder = folder.expanduser().absolute()
    try:
        say(str(save_paper(folder, name, printed)))
    except OSError as error:
        raise JobError(
            f"The history can't be written into {folder} ({error.strerror}): name another folder."
        ) from error
    return 0

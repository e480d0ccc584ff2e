"""``shopdesk papers``: all papers that a ticket has so far."""

from argparse import Namespace
from pathlib import Path

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, records_option, ticket_argument, ticket_asked
from shopdesk.commands.saying import say


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser("papers", help="write all papers that a ticket has so far")
    ticket_argument(parser)
    parser.add_argument(
        "--folder",
        type=Path,
        metavar="DIR",
        help="where to write them (usually beside the records)",
    )
    records_option(parser)
    parser.set_defaults(command=_write_papers)


def _write_papers(asked: Namespace) -> int:
    from shopdesk.papers.of_ticket import save_papers

    with opened(asked) as shift:
        ticket = ticket_asked(shift, asked)
        file = shift.records.file
        folder = asked.folder or file.with_name(f"{file.stem}-papers") / ticket.tag
        papers = save_papers(shift, ticket, folder.expanduser().absolute())
    for paper in papers:
        say(str(paper.file))
        if paper.missing:
            say(f"  not in our letters, printed as codes: {' '.join(paper.missing)}")
    return 0

"""``shopdesk backup``: the records and their photos, copied to a safe place."""

import shutil
from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

from shopdesk.commands.opening import opened, troubles_of
from shopdesk.commands.options import Commands, records_option
from shopdesk.commands.saying import say
from shopdesk.errors import JobError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser("backup", help="copy the records and their photos to a safe place")
    parser.add_argument(
        "to",
        nargs="?",
        type=Path,
        metavar="TO",
        help="a file or folder (usually backups beside the records)",
    )
    records_option(parser)
    parser.set_defaults(command=_back_up)


def _back_up(asked: Namespace) -> int:
    from shopdesk.records.backup import copy_records

    with opened(asked) as shift:
        records = shift.records
        copy = _backup_file(records.file, asked.to)
        copy_records(records.file, copy)
    say(f"The records are copied to {copy}")
    for folder in (records.photo_folder, records.templates_folder):
        if folder.is_dir():
            beside = copy.with_name(folder.name.replace(records.file.stem, copy.stem, 1))
            _copy_folder(folder, beside)
            say(f"and {folder.name} to {beside}")
    return 0


def _backup_file(records: Path, to: Path | None) -> Path:
    """Return the file to copy to; one that is there already is never written over."""
    from shopdesk.records.backup import THE_COPY

    copy = records.parent / "backups" if to is None else to.expanduser().absolute()
    with troubles_of(copy, THE_COPY):
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

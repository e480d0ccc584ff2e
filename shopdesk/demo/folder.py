"""The folder of a demo: an earlier demo there is made over, anything else is left alone."""

import shutil
from pathlib import Path

from shopdesk import places
from shopdesk.errors import JobError

SIGN = "shopdesk-demo.txt"
SIGN_WORDS = (
    "This folder was made by the command “shopdesk demo”. Everything in it is invented,\n"
    "and the next demo here makes its records and papers anew. Keep nothing of your own in it.\n"
)
RECORDS = "shop.db"
PAPERS = "papers"
OURS = (
    RECORDS,
    f"{RECORDS}-wal",
    f"{RECORDS}-shm",
    "shop-photos",
    "shop-papers",
    "backups",
    "shopdesk.log",
    PAPERS,
)
"""What a demo leaves in its folder."""


def usual_folder() -> Path:
    """Return where the demo lies when no folder is named: in the user's own data folder."""
    return places.data_folder() / "shopdesk-demo"


def claim_folder(folder: Path) -> Path:
    """Make the folder ready for a new demo and return its whole path.

    Raises ``JobError`` for a folder that holds anything but a demo, or that can't be written.
    """
    folder = folder.expanduser().absolute()
    if folder.exists() and not folder.is_dir():
        raise JobError(f"{folder} is a file: name a folder for the demo.", "folder")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _refuse_strange(folder)
        for name in OURS:
            _remove(folder / name)
        (folder / SIGN).write_text(SIGN_WORDS, encoding="utf-8")
    except OSError as error:
        raise JobError(
            f"The demo can't be written into {folder} ({error.strerror}): name another folder.",
            "folder",
        ) from error
    return folder


def _refuse_strange(folder: Path) -> None:
    names = {path.name for path in folder.iterdir()}
    sign = folder / SIGN
    if names and not (
        sign.is_file() and sign.read_text(encoding="utf-8", errors="replace") == SIGN_WORDS
    ):
        raise JobError(
            f"{folder} holds something that is no demo, and is left alone: "
            "name a new or an empty folder.",
            "folder",
        )


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)

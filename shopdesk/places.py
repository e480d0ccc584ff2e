"""Where shopdesk's own files lie, in a checkout or installed, and where a shop's records lie."""

import os
from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent


def shared_folder() -> Path:
    """Return the folder of reference data: limits, causes, intervals, cautions."""
    return _own_folder("shared")


def templates_folder() -> Path:
    """Return the folder of the words on the papers, as delivered."""
    return _own_folder("templates")


def demo_folder() -> Path:
    """Return the folder of the invented shop that the demo builds its records from."""
    return _own_folder("demo_db")


def data_folder() -> Path:
    """Return the user's own data folder for shopdesk, which may not exist yet.

    The environment variable SHOPDESK_DATA names another.
    """
    chosen = os.environ.get("SHOPDESK_DATA")
    if chosen:
        return Path(chosen).expanduser().absolute()
    return platformdirs.user_data_path("shopdesk", appauthor=False)


def config_folder() -> Path:
    """Return the user's own folder for how this computer's desk likes things; it may not exist yet.

    Where SHOPDESK_DATA names a data folder, it is that one.
    """
    if os.environ.get("SHOPDESK_DATA"):
        return data_folder()
    return platformdirs.user_config_path("shopdesk", appauthor=False)


def records_file() -> Path:
    """Return the file that holds the records when no other is named; it may not exist yet."""
    return data_folder() / "shop.db"


def _own_folder(name: str) -> Path:
    installed = _PACKAGE / "_files" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name

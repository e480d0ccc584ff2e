"""Files for other programs: written whole or not at all, under names that any system takes."""

import os
import re
import tempfile
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

_UNSAFE = re.compile(r"[^\w\- ]+")
_LONGEST_NAME = 100


def write_whole(file: Path, content: bytes) -> Path:
    """Write `content` into `file`, whole or not at all, in place of one of the same name.

    Its folder is made if need be. Raises ``OSError`` when it can't be made or written.
    """
    with writing_whole(file) as begun:
        begun.write(content)
    return file


@contextmanager
def writing_whole(file: Path) -> Iterator[BinaryIO]:
    """Open what becomes `file` once the block has written all of it; see `write_whole`."""
    file.parent.mkdir(parents=True, exist_ok=True)
    handle, beginning = tempfile.mkstemp(prefix=".writing-", suffix=file.suffix, dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as begun:
            yield begun
            begun.flush()
            os.fsync(begun.fileno())
        Path(beginning).replace(file)
    except BaseException:
        Path(beginning).unlink(missing_ok=True)
        raise


def safe_name(name: str, otherwise: str = "paper") -> str:
    """Return `name` without what a file name can't hold; `otherwise` where nothing is left."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    kept = " ".join(_UNSAFE.sub(" ", plain).split())
    return kept[:_LONGEST_NAME].strip() or otherwise

"""Where photos come from: chosen files, and what another program copied to the clipboard."""

import tempfile
from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageGrab

from shopdesk.errors import JobError
from shopdesk.job.photos import add_photo
from shopdesk.job.shift import Shift

ENDINGS = (".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff", ".bmp", ".gif")


def add_files(
    shift: Shift,
    ticket_id: int,
    files: Sequence[Path],
    *,
    finding_id: int | None = None,
    step_id: int | None = None,
) -> list[str]:
    """Add each file as a photo; returns a sentence for each that could not be added."""
    sorry = []
    for file in files:
        try:
            add_photo(shift, ticket_id, file, finding_id=finding_id, step_id=step_id)
        except JobError as error:
            sorry.append(error.sentence)
    return sorry


def add_copied(
    shift: Shift, ticket_id: int, *, finding_id: int | None = None, step_id: int | None = None
) -> list[str]:
    """Add what lies on the clipboard, a picture or copied files; see ``add_files``."""
    copied = _clipboard()
    with tempfile.TemporaryDirectory() as folder:
        if isinstance(copied, Image.Image):
            file = Path(folder) / "copied picture.png"
            copied.convert("RGB").save(file)
            files = [file]
        else:
            files = [Path(name) for name in copied]
        return add_files(shift, ticket_id, files, finding_id=finding_id, step_id=step_id)


def _clipboard() -> Image.Image | list[str]:
    try:
        copied = ImageGrab.grabclipboard()
    except NotImplementedError as error:
        raise JobError(
            "The clipboard can't be read here: install wl-clipboard (Wayland) or xclip (X11), "
            "or add the photo from its file."
        ) from error
    except (OSError, ValueError) as error:
        raise JobError(
            "What is on the clipboard can't be read as a picture: "
            "copy the picture again, or add it from its file."
        ) from error
    if not copied:
        raise JobError("No picture is on the clipboard: copy one first, then paste it here.")
    return copied

"""Photos of a ticket: checked, turned upright, shrunk, stripped of place, kept with the records."""

import hashlib
import warnings
from contextlib import suppress
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageOps, UnidentifiedImageError

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Shift
from shopdesk.job.standing import find_ticket
from shopdesk.job.views import TicketView
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Finding, Photo, TeardownStep, Ticket

FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
MOST_BYTES = 40_000_000
MOST_PIXELS = 60_000_000
LONGEST_SIDE = 1600


def add_photo(
    shift: Shift,
    ticket_id: int,
    file: Path,
    caption: str = "",
    finding_id: int | None = None,
    step_id: int | None = None,
) -> TicketView:
    """Keep a photo with the ticket, one of its findings, or a step of its teardown.

    Raises ``JobError`` at ``file`` for what is no photo.
    """
    words = typed.line(caption, "caption", "The caption")
    data, (width, height) = _prepared(file)
    sha256 = hashlib.sha256(data).hexdigest()
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        _refuse_elsewhere(Finding, "finding", finding_id, ticket)
        _refuse_elsewhere(TeardownStep, "step", step_id, ticket)
        name = f"{ticket.number}-{sha256[:16]}.jpg"
        if Photo.get_or_none(Photo.file == name):
            raise JobError("This photo is with the ticket already.", "file")
        _keep(shift.records.photo_folder / name, data)
        change.add(
            Photo(
                ticket=ticket,
                finding=finding_id,
                step=step_id,
                file=name,
                caption=words,
                width=width,
                height=height,
                sha256=sha256,
                added_at=change.at,
            )
        )
        return ticket_view(ticket, change.shop, change.today)


def _refuse_elsewhere(
    table: type[Finding] | type[TeardownStep], what: str, row_id: int | None, ticket: Ticket
) -> None:
    """Refuse to hang a photo on a row of another ticket, or of none."""
    if row_id is None:
        return
    if table.get_or_none((table.id == row_id) & (table.ticket == ticket.id)) is None:
        raise JobError(
            f"That {what} is not on this ticket: choose one of its {what}s.", f"{what}_id"
        )


def caption_photo(shift: Shift, photo_id: int, caption: str) -> TicketView:
    """Write something else under a photo. Raises ``JobError`` at ``caption``."""
    with shift.changing() as change:
        row = _find(photo_id)
        row.caption = typed.line(caption, "caption", "The caption")
        change.save(row)
        return ticket_view(find_ticket(row.ticket_id), change.shop, change.today)


def drop_photo(shift: Shift, photo_id: int, why: str = "") -> TicketView:
    """Take a photo off the ticket; the file goes, the journal keeps that it was there."""
    with shift.changing() as change:
        row = _find(photo_id)
        ticket = row.ticket
        change.remove(row, typed.line(why, "why", "The reason"))
        view = ticket_view(ticket, change.shop, change.today)
    (shift.records.photo_folder / row.file).unlink(missing_ok=True)
    return view


def photo_file(shift: Shift, name: str) -> Path:
    """Return where a photo's file is."""
    return shift.records.photo_folder / name


def _find(photo_id: int) -> Photo:
    row = row_of(Photo, photo_id)
    if row is None:
        raise JobError("That photo is not with the ticket any more.", "photo")
    return row


def _keep(kept: Path, data: bytes) -> None:
    part = kept.with_suffix(".part")
    try:
        kept.parent.mkdir(mode=0o700, exist_ok=True)
        part.write_bytes(data)
        part.replace(kept)
    except OSError as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise JobError(
            f"The photo can't be kept in {kept.parent} ({error.strerror}): see that the disk has "
            "room and that you may write there, then add it again.",
            "file",
        ) from error


def _prepared(file: Path) -> tuple[bytes, tuple[int, int]]:
    """Return the photo as upright JPEG bytes, at most ``LONGEST_SIDE`` long, bare; and its size."""
    _check_size(file)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file, formats=FORMATS) as image:
                if image.width * image.height > MOST_PIXELS:
                    raise JobError(
                        f"{file.name} has more than {MOST_PIXELS // 1_000_000} million pixels: "
                        "make it smaller first.",
                        "file",
                    )
                upright = ImageOps.exif_transpose(image).convert("RGB")
    except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
        raise JobError(
            f"{file.name} is far larger inside than its file: it was not opened.", "file"
        ) from error
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as error:
        raise JobError(
            f"{file.name} is no photo that can be read: choose a {', '.join(FORMATS)} file.", "file"
        ) from error
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    upright.info.clear()
    out = BytesIO()
    upright.save(out, "JPEG", quality=85)
    return out.getvalue(), upright.size


def _check_size(file: Path) -> None:
    try:
        size = file.stat().st_size
    except OSError as error:
        raise JobError(
            f"{file} can't be read ({error.strerror}): choose the photo again.", "file"
        ) from error
    if size > MOST_BYTES:
        raise JobError(
            f"{file.name} has {size // 1_000_000} MB: "
            f"choose one under {MOST_BYTES // 1_000_000} MB.",
            "file",
        )

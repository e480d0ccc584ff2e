"""Photos: turned upright, shrunk, stripped of place, and what is no photo refused."""

import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image, ImageChops
from PIL.PngImagePlugin import PngInfo

from shopdesk.job.diagnosis import record_finding
from shopdesk.job.history import ticket_journal
from shopdesk.job.photos import (
    LONGEST_SIDE,
    MOST_BYTES,
    add_photo,
    caption_photo,
    drop_photo,
    photo_file,
)
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import another, at_stage, kept, refused


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def picture(folder: Path, name: str = "muffler.jpg", size: tuple[int, int] = (80, 40)) -> Path:
    """Write a photo with a red left half, taken at a place, by a camera held upright."""
    image = Image.new("RGB", size, "blue")
    image.paste("red", (0, 0, size[0] // 2, size[1]))
    exif = image.getexif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (39.0, 44.0, 21.0)
    file = folder / name
    image.save(file, exif=exif.tobytes(), comment=b"39 44 21 N", quality=95)
    return file


def test_a_photo_is_turned_upright_and_forgets_its_place(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    after = kept(shift, add_photo(shift, ticket.id, picture(tmp_path), "  Muffler, as found "))
    photo = after.photos[-1]
    assert photo.caption == "Muffler, as found"
    with Image.open(photo_file(shift, photo.file)) as image:
        assert image.size == (40, 80)
        red, _, blue = image.getpixel((20, 10))  # type: ignore[misc]
        assert red > 200 > 60 > blue
        assert not image.getexif()
        assert not {"exif", "comment", "xmp"} & set(image.info)
    assert b"39 44 21 N" not in photo_file(shift, photo.file).read_bytes()


def test_a_large_photo_is_shrunk(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    file = picture(tmp_path, size=(4000, 1000))
    photo = add_photo(shift, ticket.id, file).photos[-1]
    with Image.open(photo_file(shift, photo.file)) as image:
        assert max(image.size) == LONGEST_SIDE


@pytest.mark.parametrize("name", ["a.png", "a.webp", "a.bmp", "a.gif", "a.tiff"])
def test_other_kinds_of_picture_become_jpeg(
    shift: Shift, ticket: TicketView, tmp_path: Path, name: str
) -> None:
    Image.new("RGB", (30, 20), "green").save(tmp_path / name)
    photo = add_photo(shift, ticket.id, tmp_path / name).photos[-1]
    with Image.open(photo_file(shift, photo.file)) as image:
        assert (image.format, image.size) == ("JPEG", (30, 20))
        off = ImageChops.difference(image, Image.new("RGB", (30, 20), "green"))
        assert max(off.tobytes()) < 9


def test_notes_in_a_png_are_dropped(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    notes = PngInfo()
    notes.add_text("Location", "39 44 21 N")
    Image.new("RGB", (9, 9)).save(tmp_path / "a.png", pnginfo=notes)
    photo = add_photo(shift, ticket.id, tmp_path / "a.png").photos[-1]
    assert b"39 44" not in photo_file(shift, photo.file).read_bytes()


def test_a_photo_may_belong_to_a_finding(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    finding = record_finding(shift, ticket.id, "compression", "80").findings[0]
    after = add_photo(shift, ticket.id, picture(tmp_path), finding_id=finding.id)
    assert after.photos[0].finding_id == finding.id
    elsewhere = another(shift, 2)
    with refused(shift, "finding_id", "not on this ticket: choose one of its findings"):
        add_photo(shift, elsewhere.id, picture(tmp_path), finding_id=finding.id)


def bomb(folder: Path) -> Path:
    """Write a small PNG that claims to be 30,000 x 30,000."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    header = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 0, 0, 0, 0)
    lines = zlib.compress(b"\0" * 100_000)
    file = folder / "bomb.png"
    file.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", lines) + chunk(b"IEND", b"")
    )
    return file


def test_what_is_no_photo_is_refused(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    whole = picture(tmp_path)
    (cut := tmp_path / "cut.jpg").write_bytes(whole.read_bytes()[:400])
    (text := tmp_path / "note.jpg").write_text("no picture")
    (empty := tmp_path / "empty.jpg").touch()
    drawing = tmp_path / "drawing.svg"
    drawing.write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')
    for file in (cut, text, empty, drawing, tmp_path):
        with refused(shift, "file", f"{file.name} is no photo that can be read: choose a JPEG"):
            add_photo(shift, ticket.id, file)
    with refused(shift, "file", "can't be read (No such file", "choose the photo again"):
        add_photo(shift, ticket.id, tmp_path / "gone.jpg")
    with refused(shift, "file", "bomb.png is far larger inside than its file"):
        add_photo(shift, ticket.id, bomb(tmp_path))
    with refused(shift, "caption", "201 characters"):
        add_photo(shift, ticket.id, whole, "x" * 201)
    with refused(shift, "ticket", "find it again"):
        add_photo(shift, 77, whole)
    assert not shift.records.photo_folder.exists()


def test_too_many_bytes_or_pixels_are_refused(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    with (tmp_path / "film.jpg").open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with refused(shift, "file", "film.jpg has 40 MB: choose one under 40 MB"):
        add_photo(shift, ticket.id, tmp_path / "film.jpg")
    Image.new("1", (10_000, 7_000)).save(tmp_path / "plan.png")
    with refused(shift, "file", "plan.png has more than 60 million pixels: make it smaller"):
        add_photo(shift, ticket.id, tmp_path / "plan.png")


def test_the_same_photo_is_kept_once(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    add_photo(shift, ticket.id, picture(tmp_path))
    with refused(shift, "file", "This photo is with the ticket already"):
        add_photo(shift, ticket.id, picture(tmp_path, "again.jpg"))
    elsewhere = add_photo(shift, another(shift, 2).id, picture(tmp_path))
    assert elsewhere.photos[0].file.startswith("1002-")


def test_a_photo_is_taken_off(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    photo = add_photo(shift, ticket.id, picture(tmp_path)).photos[0]
    after = kept(shift, drop_photo(shift, photo.id, "blurred"))
    assert after.photos == ()
    assert not photo_file(shift, photo.file).exists()
    assert ticket_journal(shift, ticket.id)[-1].why == "blurred"
    with refused(shift, "photo", "not with the ticket any more"):
        drop_photo(shift, photo.id)
    assert add_photo(shift, ticket.id, picture(tmp_path)).photos[0].file == photo.file


def test_where_photos_cannot_be_kept_is_said(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    shift.records.photo_folder.write_text("a file is in the way")
    with refused(shift, "file", "The photo can't be kept in", "then add it again"):
        add_photo(shift, ticket.id, picture(tmp_path))


def test_a_caption_is_put_right(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    photo = add_photo(shift, ticket.id, picture(tmp_path), "Mufler").photos[-1]
    after = kept(shift, caption_photo(shift, photo.id, " Muffler, \x07as found "))
    assert [one.caption for one in after.photos] == ["Muffler, as found"]
    with refused(shift, "caption", "201 characters"):
        caption_photo(shift, photo.id, "x" * 201)
    drop_photo(shift, photo.id)
    with refused(shift, "photo", "not with the ticket any more"):
        caption_photo(shift, photo.id, "gone")

"""Photos on a paper, two or three beside each other, their shape kept."""

import warnings
from collections.abc import Sequence

from PIL import Image as Pictures
from reportlab.platypus import Flowable, Image, Table

from shopdesk.job.paper_content import PhotoOnPaper
from shopdesk.papers import styles
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import PLAIN

_HIGHEST = 170.0
_GAP = 12.0


def photo_rows(paper: Paper, photos: Sequence[PhotoOnPaper]) -> None:
    """Add `photos` with their captions; one that can't be read is named in words."""
    if not photos:
        return
    paper.section(paper.say("photos"), _HIGHEST + 70)
    photo_grid(paper, photos)


def photo_grid(paper: Paper, photos: Sequence[PhotoOnPaper], highest: float = _HIGHEST) -> None:
    """Add `photos`, each at most `highest` points high, without a heading."""
    across = 2 if len(photos) in (1, 2, 4) else 3
    width = (paper.width - _GAP * (across - 1)) / across
    for first in range(0, len(photos), across):
        row = [_photo(paper, photo, width, highest) for photo in photos[first : first + across]]
        row += [["", ""]] * (across - len(row))
        cells = [[picture for picture, _ in row], [caption for _, caption in row]]
        widths = [width + _GAP] * (across - 1) + [width]
        look = [
            *PLAIN,
            ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
            ("BOTTOMPADDING", (0, 0), (-1, 0), 4),
            ("NOSPLIT", (0, 0), (0, 1)),
        ]
        paper.story.append(Table(cells, widths, style=look, spaceAfter=10))


def _photo(paper: Paper, photo: PhotoOnPaper, width: float, highest: float) -> list[Flowable | str]:
    size = _readable_size(photo)
    if size is None:
        lost = paper.say("photo_lost", caption=photo.caption or photo.file.name)
        return [paper.type.paragraph(lost, styles.SMALL), ""]
    scale = min(width / size[0], highest / size[1])
    picture = Image(str(photo.file), size[0] * scale, size[1] * scale, hAlign="LEFT")
    return [picture, paper.type.paragraph(photo.caption, styles.SMALL)]


def _readable_size(photo: PhotoOnPaper) -> tuple[int, int] | None:
    """Return width and height of a photo that decodes to its end, else None."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Pictures.DecompressionBombWarning)
            with Pictures.open(photo.file) as picture:
                picture.load()
                return picture.size
    except (OSError, ValueError, SyntaxError, Pictures.DecompressionBombError, Warning):
        return None

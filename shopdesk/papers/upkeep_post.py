"""What goes out about upkeep, many at once: letters and cards as one PDF each, drafts, calls."""

from datetime import date, datetime
from io import BytesIO
from pathlib import Path

from pypdf import PdfWriter

from shopdesk.errors import JobError
from shopdesk.files import safe_name, write_whole
from shopdesk.job.due_content import UpkeepMessage
from shopdesk.job.messages import EMAIL, LETTER, POSTCARD
from shopdesk.job.paper_content import Letterhead
from shopdesk.papers.call_list import draw_call_list
from shopdesk.papers.mail_draft import mail_draft
from shopdesk.papers.postcard import draw_postcard
from shopdesk.papers.printed import Printed
from shopdesk.papers.upkeep_letter import draw_upkeep_letter
from shopdesk.papers.words import Words


class Sheaf:
    """Papers gathered into one PDF; each is let go of once it is in."""

    def __init__(self) -> None:
        self._writer = PdfWriter()
        self._missing: dict[str, None] = {}
        self.papers = 0

    def add(self, printed: Printed) -> None:
        """Put a paper behind those before."""
        self._writer.append(BytesIO(printed.pdf), import_outline=False)
        self._missing |= dict.fromkeys(printed.missing)
        self.papers += 1

    def printed(self, title: str) -> Printed:
        """Return all of them as one paper."""
        self._writer.add_metadata({"/Title": title, "/Creator": "shopdesk"})
        out = BytesIO()
        self._writer.write(out)
        return Printed(out.getvalue(), len(self._writer.pages), tuple(self._missing))


class UpkeepPost:
    """Takes one message after another, and has files of them in the end.

    ``troubles`` says whose could not be made, and why.
    """

    def __init__(self, words: Words, mail_folder: Path) -> None:
        self._words = words
        self._mail_folder = mail_folder
        self.letters, self.cards = Sheaf(), Sheaf()
        self.mails: list[Path] = []
        self.calls: list[tuple[UpkeepMessage, str]] = []
        self.troubles: list[str] = []

    def add(self, content: UpkeepMessage, way: str, number: int, made_at: datetime) -> None:
        """Draw a message for its way; ``number`` sets its draft apart from others.

        Raises ``OSError`` when a draft can't be written.
        """
        if way == LETTER:
            self.letters.add(draw_upkeep_letter(content, self._words))
        elif way == POSTCARD:
            self.cards.add(draw_postcard(content, self._words))
        elif way == EMAIL:
            self._add_mail(content, number, made_at)
        else:
            self.calls.append((content, way))

    def call_list(self, shop: Letterhead, on: date) -> Printed:
        """Return the list of those to call."""
        return draw_call_list(shop, on, self.calls, self._words)

    def _add_mail(self, content: UpkeepMessage, number: int, made_at: datetime) -> None:
        letter = draw_upkeep_letter(content, self._words)
        try:
            draft = mail_draft(content, letter.pdf, self._words, made_at)
        except JobError as error:
            self.troubles.append(error.sentence)
            return
        name = safe_name(f"{content.owner.name} {number}", str(number))
        self.mails.append(write_whole(self._mail_folder / f"{name}.eml", draft))

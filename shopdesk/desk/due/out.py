"""Writes out the messages about upkeep that did not go out yet: PDFs, drafts, the list to call."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.errors import JobError
from shopdesk.files import safe_name
from shopdesk.job.due_messages import UpkeepMessageView, message_content
from shopdesk.job.shift import Shift
from shopdesk.text import counted

if TYPE_CHECKING:
    from shopdesk.papers.printed import Printed
    from shopdesk.papers.upkeep_post import UpkeepPost


@dataclass(frozen=True, slots=True)
class WrittenOut:
    """The files to open, what they are in words, and what went wrong with any of it."""

    files: tuple[Path, ...]
    words: str
    troubles: tuple[str, ...]


class DueOut:
    """One round of writing out, done beside the window: begin, each message, end."""

    def __init__(self, shift: Shift, folder: Path) -> None:
        self._shift = shift
        self._folder = folder
        self._post: UpkeepPost | None = None

    def begin(self) -> None:
        """Read the shop's words; raises ``JobError`` when they can't be used."""
        from shopdesk.papers.of_ticket import words_of
        from shopdesk.papers.upkeep_post import UpkeepPost

        self._post = UpkeepPost(words_of(self._shift), self._folder / "mail")

    def add(self, view: UpkeepMessageView) -> None:
        """Draw one message; raises ``JobError`` when its draft can't be written."""
        if self._post is None:
            return
        message = view.message
        content = message_content(self._shift, message.id)
        try:
            self._post.add(content, message.way, message.id, message.made_at)
        except OSError as error:
            raise _cant_write(self._folder, error) from error

    def end(self) -> WrittenOut:
        """Write the files; raises ``JobError`` when they can't be written."""
        if self._post is None:
            return WrittenOut((), "", ())
        try:
            return self._written(self._post)
        except OSError as error:
            raise _cant_write(self._folder, error) from error

    def _written(self, post: UpkeepPost) -> WrittenOut:
        from shopdesk.papers.printed import save_paper

        papers = list(self._papers(post))
        files = [save_paper(self._folder, safe_name(name), drawn) for name, _, drawn in papers]
        words = [f"{what}: {file.name}" for (_, what, _), file in zip(papers, files, strict=True)]
        if post.mails:
            words.append(f"{counted(len(post.mails), 'e-mail draft')}: {post.mails[0].parent}")
            files.append(post.mails[0] if len(post.mails) == 1 else post.mails[0].parent)
        missing = dict.fromkeys(char for _, _, drawn in papers for char in drawn.missing)
        gone = [f"These characters stand as codes: {' '.join(missing)}"] if missing else []
        where = f"In {self._folder}: {'; '.join(words)}." if words else ""
        return WrittenOut(tuple(files), where, (*post.troubles, *gone))

    def _papers(self, post: UpkeepPost) -> Iterator[tuple[str, str, Printed]]:
        """Return each paper with the name of its file and what it is."""
        from shopdesk.job.paperwork import letterhead

        shop = self._shift.shop
        today = self._shift.today_in(shop)
        for sheaf, thing in ((post.letters, "letter"), (post.cards, "postcard")):
            if sheaf.papers:
                name = f"upkeep {thing}s {today.isoformat()}"
                yield name, counted(sheaf.papers, thing), sheaf.printed(name)
        if post.calls:
            listed = post.call_list(letterhead(shop), today)
            called = counted(len(post.calls), "owner")
            yield f"upkeep calls {today.isoformat()}", f"{called} to call", listed


def _cant_write(folder: Path, error: OSError) -> JobError:
    return JobError(
        f"Nothing can be written into {folder} ({error.strerror}): "
        "free space or mend the folder, then write out again."
    )

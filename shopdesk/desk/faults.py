"""When the program itself fails: a plain sentence, the story in a log, and the window goes on."""

import logging
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

from shopdesk.errors import JobError

log = logging.getLogger("shopdesk.desk")


class Faults:
    """Tells ``say`` a sentence for each error that nobody caught.

    What is our own fault is logged, and ``also`` hears of it.
    """

    def __init__(
        self,
        say: Callable[[str], object],
        log_file: Path,
        also: Callable[[BaseException], object] = lambda error: None,
    ) -> None:
        self._say = say
        self._log_file = log_file
        self._also = also
        self._ready = False

    def report(self, error: BaseException) -> None:
        """Say what a person needs to know of an error."""
        if isinstance(error, JobError):
            self._say(error.sentence)
            return
        self._write(error)
        self._also(error)
        self._say(
            f"Something went wrong in the program itself ({type(error).__name__}). "
            f"What was kept is safe; the details are in {self._log_file}."
        )

    def from_callback(
        self, _kind: type[BaseException], error: BaseException, _where: TracebackType | None
    ) -> None:
        """Take an error from a key or a button, as Tk reports it."""
        self.report(error)

    def _write(self, error: BaseException) -> None:
        if not self._ready:
            self._log_file.parent.mkdir(parents=True, exist_ok=True)
            handler = logging.FileHandler(self._log_file, delay=True, encoding="utf-8")
            handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
            log.addHandler(handler)
            self._ready = True
        log.error("%s", "".join(traceback.format_exception(error)))

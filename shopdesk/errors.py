"""The one family of errors that a person at the counter may see, each with a sentence for them."""


class JobError(Exception):
    """Raised when something asked for can't be done; nothing was changed.

    ``sentence`` says what is wrong and what to do about it. ``field`` names the entry field where
    it happened (as the job's function calls it), or is empty when no single field is to blame.
    """

    def __init__(self, sentence: str, field: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.field = field


class RecordsError(JobError):
    """Raised when the records can't be opened, read or written, with what to do."""


class StaleError(JobError):
    """Raised when a row was changed elsewhere since it was read; nothing was written."""

"""The sentences on the papers, read from files that the shop may copy and change."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

_PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")
_DECLARED = "placeholders"
_LONGEST = 4000


class WordsError(ValueError):
    """A file of sentences can't be used; ``str(error)`` names the file and what to mend in it."""


@dataclass(frozen=True, slots=True)
class Sentences:
    """One paper's sentences, with the values that any of them may name."""

    texts: Mapping[str, str]
    values: Mapping[str, str]

    def __call__(self, key: str, **values: str) -> str:
        """Return the sentence `key` with its placeholders filled; values are put in as they are."""
        known = {**self.values, **values}
        return _PLACEHOLDER.sub(lambda match: known[match[1]], self.texts[key])


@dataclass(frozen=True, slots=True)
class Words:
    """The sentences of every paper, by the name of their file (``invoice``) and their key."""

    papers: Mapping[str, Mapping[str, str]]

    def on(self, paper: str, **values: str) -> Sentences:
        """Return the sentences of `paper` joined with those common to all."""
        return Sentences({**self.papers["common"], **self.papers[paper]}, values)

    def terms(self) -> Mapping[str, str]:
        """Return what each trade word means, for an owner who is no mechanic."""
        return self.papers["terms"]


def load_words(shipped: Path, own: Path | None = None) -> Words:
    """Read the sentences in `shipped`; what the shop's folder `own` holds instead wins.

    A shop's file bears the name of the shipped one and needs only the sentences that it changes.
    An empty sentence leaves that sentence out.

    Raises:
        WordsError: a file can't be read, names an unknown sentence or placeholder, or has a brace
            that stands alone.
    """
    papers = {file.stem: _read(file) for file in sorted(shipped.glob("*.toml"))}
    if not papers:
        raise WordsError(f"There are no sentences for the papers in {shipped}: install them anew.")
    allowed = {name: _allowed(texts) for name, texts in papers.items()}
    for file in sorted(own.glob("*.toml")) if own else ():
        if file.stem not in papers:
            raise WordsError(
                f"{file} belongs to no paper: name it like one of {', '.join(sorted(papers))}."
            )
        changed = _read(file)
        for key, text in changed.items():
            _check_change(file, key, text, allowed[file.stem])
        papers[file.stem] = {**papers[file.stem], **changed}
    for texts in papers.values():
        texts.pop(_DECLARED, None)
    return Words(MappingProxyType(papers))


def _read(file: Path) -> dict[str, str]:
    try:
        found = tomllib.loads(file.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as trouble:
        why = (trouble.strerror if isinstance(trouble, OSError) else None) or trouble
        raise WordsError(f"{file} can't be read ({why}): mend it or take it away.") from None
    for key, text in found.items():
        if not isinstance(text, str):
            raise WordsError(
                f'{file}: “{key}” must be a sentence between quotes, like {key} = "…".'
            )
        _check_braces(file, key, text)
    return found


def _check_braces(file: Path, key: str, text: str) -> None:
    if len(text) > _LONGEST:
        raise WordsError(f"{file}: “{key}” is over {_LONGEST} characters long; shorten it.")
    rest = _PLACEHOLDER.sub("", text)
    if "{" in rest or "}" in rest:
        raise WordsError(
            f"{file}: “{key}” has a brace that is part of no placeholder; "
            "write placeholders like {shop}, in small letters."
        )


def _allowed(texts: Mapping[str, str]) -> dict[str, set[str]]:
    """Return which placeholders each sentence may name: the file's list and its own."""
    everywhere = set(_PLACEHOLDER.findall(texts.get(_DECLARED, "")))
    return {key: everywhere | set(_PLACEHOLDER.findall(text)) for key, text in texts.items()}


def _check_change(file: Path, key: str, text: str, allowed: Mapping[str, set[str]]) -> None:
    if file.stem == "terms" and key not in allowed:
        allowed = {**allowed, key: set()}
    if key not in allowed or key == _DECLARED:
        raise WordsError(f"{file}: there is no sentence “{key}” on this paper; take it out.")
    for name in _PLACEHOLDER.findall(text):
        if name not in allowed[key]:
            known = ", ".join(f"{{{known}}}" for known in sorted(allowed[key])) or "none"
            raise WordsError(
                f"{file}: “{key}” names {{{name}}}, which nothing fills; it may use {known}."
            )

"""Reads the shop's reference data (TOML) entry by entry, and says where an edit went wrong."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from difflib import get_close_matches
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from shopdesk.bench.machines import Engine, Fit, Kind

_Thing = TypeVar("_Thing")
_Word = TypeVar("_Word", bound=StrEnum)


class CatalogueError(ValueError):
    """The reference data can't be used; the message names the file, the entry, and what to do."""


def read_table(path: Path) -> dict[str, object]:
    """Read a TOML file, its numbers as Decimal. Raises CatalogueError."""
    try:
        with path.open("rb") as file:
            return tomllib.load(file, parse_float=Decimal)
    except OSError as error:
        raise CatalogueError(f"{path.name} cannot be read ({error.strerror}): {path}") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise CatalogueError(
            f"{path.name} is not well-formed: {error}. Undo the last edit."
        ) from error


def read_entries(path: Path, table: str) -> tuple[Entry, ...]:
    """Read the `[[table]]` entries of a file in their order. Raises CatalogueError."""
    return parse_entries(path.name, read_table(path), table)


def parse_entries(file: str, content: Mapping[str, object], table: str) -> tuple[Entry, ...]:
    """Take the `[[table]]` entries out of a file's content, which must hold nothing else."""
    for name in content:
        if name != table:
            raise CatalogueError(f"{file}: “{name}” is unknown; use [[{table}]].")
    listed = content.get(table, [])
    if not isinstance(listed, list) or not all(isinstance(each, dict) for each in listed):
        raise CatalogueError(f"{file}: write each {table} as a [[{table}]] block.")
    return tuple(
        Entry(file, f"[[{table}]] {_label(fields, place)}", fields)
        for place, fields in enumerate(listed, start=1)
    )


def _label(fields: Mapping[str, object], place: int) -> str:
    name = fields.get("key") or fields.get("check") or fields.get("words")
    return f"“{name}”" if name else f"number {place}"


def by_key(found: Iterable[tuple[Entry, _Thing]]) -> dict[str, _Thing]:
    """Gather entries under their `key`, refusing a key used twice. Raises CatalogueError."""
    gathered: dict[str, _Thing] = {}
    for entry, thing in found:
        key = entry.text("key")
        if key in gathered:
            raise entry.error(f"the key “{key}” is used twice; give one of them another key")
        gathered[key] = thing
    return gathered


@dataclass(slots=True)
class Entry:
    """One block of a data file; reading a field marks it as known, `finish` refuses the rest."""

    file: str
    label: str
    fields: Mapping[str, object]
    _known: set[str] = field(default_factory=set)

    def error(self, trouble: str) -> CatalogueError:
        """Make the error that names this entry."""
        return CatalogueError(f"{self.file}, {self.label}: {trouble}.")

    def has(self, name: str) -> bool:
        """Say whether the field is there."""
        self._known.add(name)
        return name in self.fields

    def text(self, name: str) -> str:
        """Return a field that must hold words."""
        value = self.fields.get(name) if self.has(name) else None
        if not isinstance(value, str) or not value.strip():
            raise self.error(f'{name} is missing or is no text; write {name} = "..."')
        return " ".join(value.split())

    def text_or_none(self, name: str) -> str:
        """Return a field that may hold words, or ""."""
        return self.text(name) if self.has(name) else ""

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of words, empty where the field is absent."""
        value = self.fields.get(name, []) if self.has(name) else []
        if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
            raise self.error(f'{name} must be a list of words; write {name} = ["...", "..."]')
        return tuple(value)

    def number(self, name: str) -> Decimal | None:
        """Return a number not below zero, or None where the field is absent."""
        if not self.has(name):
            return None
        value = self.fields[name]
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.error(f"{name} must be a number; write it without quotes")
        number = Decimal(value)
        if not number.is_finite() or number < 0:
            raise self.error(f"{name} must be a number that is not below zero")
        return number

    def needed_number(self, name: str) -> Decimal:
        """Return a number that must be there."""
        number = self.number(name)
        if number is None:
            raise self.error(f"{name} is missing; write {name} = and a number")
        return number

    def flag(self, name: str) -> bool:
        """Return a yes/no field, absent meaning no."""
        value = self.fields.get(name, False) if self.has(name) else False
        if not isinstance(value, bool):
            raise self.error(f"{name} must be true or false")
        return value

    def one_of(self, name: str, allowed: type[_Word]) -> _Word:
        """Return a field that must be one of the words of `allowed`."""
        return self._member(name, self.text(name), allowed)

    def fit(self) -> Fit:
        """Return which machines the entry is for (`kinds`, `engines`)."""
        return Fit(
            frozenset(self._member("kinds", word, Kind) for word in self.texts("kinds")),
            frozenset(self._member("engines", word, Engine) for word in self.texts("engines")),
        )

    def known(self, name: str, word: str, allowed: Iterable[str]) -> str:
        """Return `word` if it is one of `allowed`; otherwise raise, with the nearest one named."""
        words = list(allowed)
        if word in words:
            return word
        near = get_close_matches(word, words, n=1)
        hint = f"did you mean “{near[0]}”?" if near else f"use one of: {', '.join(words[:12])}"
        raise self.error(f"“{word}” is unknown under {name}; {hint.rstrip('?')}")

    def inner(self, name: str) -> tuple[Entry, ...]:
        """Return the blocks nested under `name`."""
        value = self.fields.get(name, []) if self.has(name) else []
        if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
            raise self.error(f"{name} must be a list of blocks in braces")
        return tuple(
            Entry(self.file, f"{self.label} {name} {place}", fields)
            for place, fields in enumerate(value, start=1)
        )

    def table(self, name: str) -> Mapping[str, object]:
        """Return a nested table, empty where the field is absent."""
        value = self.fields.get(name, {}) if self.has(name) else {}
        if not isinstance(value, dict):
            raise self.error(f"{name} must be a table in braces")
        return value

    def finish(self) -> None:
        """Refuse fields that nothing has asked for: they are misspelt."""
        for name in self.fields:
            if name not in self._known:
                self.known("the fields", name, sorted(self._known))

    def _member(self, name: str, word: str, allowed: type[_Word]) -> _Word:
        return allowed(self.known(name, word, [str(each) for each in allowed]))

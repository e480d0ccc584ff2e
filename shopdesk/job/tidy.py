"""Phones, e-mail and addresses set out tidily, and what looks wrong with them said, never refused.

What is foreign, or set out by hand, stays as it was typed. Numbering as common practice in North
America (three, three and four digits); ZIP codes as the United States Postal Service writes them.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.errors import JobError
from shopdesk.job.phones import split_label
from shopdesk.text import digits

NORTH_AMERICA = ("US", "CA")
_BARE = re.compile(r"[\d\s]+", re.ASCII)
_WRAPPED = re.compile(r"^(?:mailto:)?\s*<?\s*([^<>\s]+@[^<>\s]+?)\s*>?[.,;]*$", re.I)
_ZIP = re.compile(r"\b(\d{5})[- ]?(\d{4})$", re.ASCII)
_CANADIAN = re.compile(r"\b([a-z]\d[a-z])[- ]?(\d[a-z]\d)$", re.I | re.ASCII)
_LAST_FIGURES = re.compile(r"\b[A-Za-z]{2}\.? (\d{3,})$", re.ASCII)
_ZIP_DIGITS = (5, 9)
_AREA, _LOCAL, _CODED = 10, 7, 11


@dataclass(frozen=True, slots=True)
class Tidied:
    """What was typed, set out tidily, and what to look at again; empty for nothing."""

    text: str
    doubt: str = ""


def tidy_phones(typed: str, country: str) -> Tidied:
    """Return phones, one to a line, those of bare digits set out as a number of ``country`` is."""
    lines = [_phone(line, country) for line in typed.splitlines()]
    doubts = " ".join(filter(None, (line.doubt for line in lines)))
    return Tidied("\n".join(line.text for line in lines).rstrip("\n"), doubts)


def tidy_email(typed: str) -> Tidied:
    """Return an address of mail without what surrounds it, its domain in small letters."""
    text = typed.strip()
    found = _WRAPPED.match(text)
    if found is None:
        return Tidied(text)
    local, _, domain = found[1].rpartition("@")
    domain = domain.lower()
    doubt = "" if "." in domain.strip(".") else f"“{domain}” has no dot: is the address whole?"
    return Tidied(f"{local}@{domain}", doubt)


def tidy_address(typed: str, country: str) -> Tidied:
    """Return an address without blanks at the ends of its lines, its ZIP as it is written."""
    lines = [" ".join(line.split()) for line in typed.splitlines()]
    text = "\n".join(lines).strip("\n")
    if country == "US":
        return Tidied(_ZIP.sub(r"\1-\2", text), _zip_doubt(text))
    if country == "CA":
        return Tidied(_CANADIAN.sub(lambda code: f"{code[1]} {code[2]}".upper(), text))
    return Tidied(text)


def _phone(line: str, country: str) -> Tidied:
    try:
        label, number = split_label(" ".join(line.split()), "phones")
    except JobError:
        return Tidied(line)
    if country not in NORTH_AMERICA or not _BARE.fullmatch(number):
        return Tidied(line)
    figures = digits(number)
    shown = "-".join(_groups(figures))
    doubt = "" if shown else f"{number} has {len(figures)} digits: is it whole?"
    return Tidied(" ".join(filter(None, (label, shown or number))), doubt)


def _groups(figures: str) -> Iterator[str]:
    """Yield the groups of a North American number, nothing for any other count of digits."""
    if len(figures) == _CODED and figures.startswith("1"):
        yield "1"
        figures = figures[1:]
    if len(figures) == _AREA:
        yield figures[:3]
        figures = figures[3:]
    if len(figures) == _LOCAL:
        yield figures[:3]
        yield figures[3:]


def _zip_doubt(text: str) -> str:
    found = _LAST_FIGURES.search(text)
    if found is None or len(found[1]) in _ZIP_DIGITS:
        return ""
    return f"The ZIP {found[1]} has {len(found[1])} digits: is it whole?"

"""Reads vCards, as phones and mail programs write them: 3.0 (RFC 2426), 4.0 (RFC 6350) and 2.1.

Only what an owner's card has a place for: name, phones with their kind, e-mail, address, note. Each
card becomes one row under ``HEADS``, so that all else is done as with any other list.
"""

import base64
import binascii
import quopri
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from shopdesk.errors import JobError

HEADS = ("Name", "Company", "Phones", "E-mail", "Address", "Note")
MOST_LETTERS = 20_000
"""In one line of a card: what is longer is a picture or a key."""
_BEGIN = re.compile(r"\s*BEGIN\s*:\s*VCARD\s*", re.I)
_NAME = re.compile(r"(?:[A-Za-z0-9-]+\.)?([A-Za-z0-9-]+)$")
_PARAMETER = re.compile(r';\s*([^;=:"]*)(?:=((?:"[^"]*"|[^;:"])*))?')
_PART = re.compile(r"((?:\\.|[^\\;]|\\$)*)(?:;|$)", re.S)
_LABELS = ("cell", "mobile", "home", "work", "fax", "pager", "car", "main")
_CALLED = {"mobile": "cell"}


@dataclass(frozen=True, slots=True)
class _Property:
    """One line of a card: its name, its parameters by name, and its value as written."""

    name: str
    parameters: dict[str, tuple[str, ...]]
    value: str

    @property
    def kinds(self) -> tuple[str, ...]:
        """What the value is for, such as ``home`` and ``cell``: TYPE, or bare words in 2.1."""
        return self.parameters.get("type", ())

    @property
    def rank(self) -> int:
        """How much it is preferred: 1 most."""
        if "pref" in self.kinds:
            return 1
        number = next(iter(self.parameters.get("pref", ())), "")
        return int(number) if re.fullmatch(r"\d{1,3}", number, re.ASCII) else 101


@dataclass(slots=True)
class _Card:
    """What was read of one card so far."""

    line: int
    properties: list[_Property] = field(default_factory=list)

    def of(self, name: str) -> list[_Property]:
        """Return the properties of that name, the preferred one first."""
        found = [one for one in self.properties if one.name == name and one.value.strip()]
        return sorted(found, key=lambda one: one.rank)


def is_vcards(text: str) -> bool:
    """Whether the text is of vCards."""
    return bool(_BEGIN.match(text))


def read_vcards(text: str, name: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Yield for each card the line that it begins on, and its cells under ``HEADS``.

    Raises ``JobError`` for a card that is not closed or that begins within another.
    """
    card: _Card | None = None
    for number, line in _unfolded(text):
        word = line.strip().upper().replace(" ", "")
        if word == "BEGIN:VCARD":
            if card is not None:
                raise JobError(
                    f"{name} can't be read: the card that begins on line {card.line:,} "
                    f"does not end before the next one, on line {number:,}."
                )
            card = _Card(number)
        elif word == "END:VCARD" and card is not None:
            yield card.line, _cells(card)
            card = None
        elif card is not None and len(line) <= MOST_LETTERS:
            found = _property(line)
            if found is not None:
                card.properties.append(found)
    if card is not None:
        raise JobError(
            f"{name} can't be read: the card that begins on line {card.line:,} has no end."
        )


def _unfolded(text: str) -> Iterator[tuple[int, str]]:
    """Yield each logical line and where it begins; lines that go on are joined.

    A line goes on where the next begins with a space or tab (RFC 6350, 3.2); quoted-printable ones
    also where they end with ``=``.
    """
    parts: list[str] = []
    begins, soft = 1, False
    for number, line in enumerate(re.split(r"\r\n|\n|\r", text), 1):
        if soft:
            parts[-1] = parts[-1][:-1]
            parts.append(line)
        elif parts and line[:1] in (" ", "\t"):
            parts.append(line[1:])
        else:
            if parts:
                yield begins, "".join(parts)
            parts, begins = [line], number
        soft = line.endswith("=") and "QUOTED-PRINTABLE" in parts[0].upper().partition(":")[0]
    if parts:
        yield begins, "".join(parts)


def _property(line: str) -> _Property | None:
    """Return the property of a line, or nothing for one that is none."""
    end = _head_end(line)
    if end is None:
        return None
    head, value = line[:end], line[end + 1 :]
    name, _, rest = head.partition(";")
    found = _NAME.match(name.strip())
    if found is None:
        return None
    parameters = _parameters(f";{rest}" if rest else "")
    return _Property(found[1].lower(), parameters, _decoded(value, parameters))


def _head_end(line: str) -> int | None:
    """Return where the value begins: at the first colon that stands in no quotation marks."""
    quoted = False
    for place, char in enumerate(line):
        if char == '"':
            quoted = not quoted
        elif char == ":" and not quoted:
            return place
    return None


def _parameters(head: str) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for name, values in _PARAMETER.findall(head):
        key, given = (name, values) if values else ("type", name)
        words = (one.strip().strip('"').lower() for one in given.replace('"', "").split(","))
        key = key.strip().lower()
        found[key] = (*found.get(key, ()), *(word for word in words if word))
    return found


def _decoded(value: str, parameters: dict[str, tuple[str, ...]]) -> str:
    """Undo quoted-printable and base64, which 2.1 and 3.0 allow, by the charset that is named."""
    how = {*parameters.get("encoding", ()), *parameters.get("type", ())}
    charset = next(iter(parameters.get("charset", ())), "utf-8")
    try:
        if "quoted-printable" in how:
            return quopri.decodestring(value.encode("utf-8")).decode(charset, "replace")
        if how & {"b", "base64"}:
            return base64.b64decode(value, validate=True).decode(charset, "replace")
    except (LookupError, ValueError, binascii.Error):
        return ""
    return value


def _cells(card: _Card) -> tuple[str, ...]:
    mails = [_bare(one, "mailto:") for one in card.of("email")]
    notes = [_plain(one.value) for one in card.of("note")]
    notes += [f"Other e-mail: {one}" for one in mails[1:]]
    addresses = [address for one in card.of("adr") if (address := _address(one.value))]
    notes += ["Other address: " + ", ".join(one.splitlines()) for one in addresses[1:]]
    return (
        _called(card),
        ", ".join(_plain(part) for one in card.of("org")[:1] for part in _parts(one.value)[:1]),
        "\n".join(_phone(one) for one in card.of("tel")),
        mails[0] if mails else "",
        addresses[0] if addresses else "",
        "\n".join(note for note in notes if note.strip()),
    )


def _called(card: _Card) -> str:
    """Return the name as its card shows it, or put together from its parts."""
    for shown in card.of("fn"):
        return _plain(shown.value)
    for parts in card.of("n"):
        last, first, middle, before, after, *_ = [*map(_plain, _parts(parts.value)), *[""] * 5]
        return " ".join(filter(None, (before, first, middle, last, after)))
    return ""


def _phone(one: _Property) -> str:
    label = next((word for word in _LABELS if word in one.kinds), "")
    return f"{_CALLED.get(label, label)} {_bare(one, 'tel:')}".strip()


def _bare(one: _Property, scheme: str) -> str:
    """Return the value without the ``tel:`` or ``mailto:`` that 4.0 puts before it."""
    value = _plain(one.value).strip()
    if not value.lower().startswith(scheme):
        return value
    return value[len(scheme) :].partition("?")[0].replace(";ext=", " ext ").partition(";")[0]


def _address(value: str) -> str:
    """Return the lines of an address; its parts are named in RFC 6350, 6.3.1."""
    parts = [_plain(part).strip() for part in _parts(value)]
    box, more, street, city, region, code, country, *_ = [*parts, *[""] * 7]
    place = f"{city}, {region} {code}" if region else f"{code} {city}"
    lines = (box, *street.splitlines(), more, " ".join(place.split()).strip(", "), country)
    return "\n".join(line.strip(" ,") for line in lines if line.strip(" ,"))


def _parts(value: str) -> list[str]:
    """Return the parts between semicolons that are not escaped."""
    return _PART.findall(value)


def _plain(value: str) -> str:
    """Undo the escapes of RFC 6350, 3.4."""
    return re.sub(r"\\(.)", lambda one: "\n" if one[1] in "nN" else one[1], value, flags=re.S)

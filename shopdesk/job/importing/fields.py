"""What a column of a list may hold: the places on an owner's and a machine's card."""

import re
from dataclasses import dataclass

from shopdesk.text import fold

OWNER, MACHINE = "owner", "machine"


@dataclass(frozen=True, slots=True)
class Place:
    """A place on a card: its key, what people call it, and headings that usually mean it.

    ``many`` columns may go into one place; ``heads`` are folded words.
    """

    key: str
    words: str
    of: str
    heads: tuple[str, ...] = ()
    many: bool = False


PLACES: tuple[Place, ...] = (
    Place(
        "ref",
        "Owner's number in the list",
        OWNER,
        (
            *("id", "owner id", "customer id", "client id", "customer number", "customer no"),
            *("account", "account number", "account no", "customer ref"),
        ),
    ),
    Place(
        "name",
        "Owner: name",
        OWNER,
        (
            *("name", "owner name", "customer name", "client name", "full name", "contact"),
            *("contact name", "customer", "client", "display name", "owner"),
        ),
    ),
    Place("first_name", "Owner: first name", OWNER, ("first name", "given name", "forename")),
    Place("last_name", "Owner: last name", OWNER, ("last name", "family name", "surname")),
    Place("company", "Owner: company", OWNER, ("company", "company name", "business", "firm")),
    Place(
        "phones",
        "Owner: phone",
        OWNER,
        (
            *("phone", "phones", "telephone", "tel", "mobile", "cell", "home", "work"),
            *("owner phones", "phone number", "cellphone", "handy"),
        ),
        many=True,
    ),
    Place(
        "email",
        "Owner: e-mail",
        OWNER,
        ("email", "e-mail", "mail", "owner email", "email address", "e-mail address"),
        many=True,
    ),
    Place("street", "Owner: address, street", OWNER, ("address", "street"), many=True),
    Place("city", "Owner: town", OWNER, ("city", "town", "place")),
    Place("region", "Owner: state or region", OWNER, ("state", "region", "province", "county")),
    Place(
        "postcode",
        "Owner: ZIP or postal code",
        OWNER,
        ("zip", "zip code", "postcode", "postal code", "post code", "plz"),
    ),
    Place("country", "Owner: country", OWNER, ("country",)),
    Place(
        "notes",
        "Owner: note",
        OWNER,
        ("note", "notes", "comment", "comments", "remarks", "memo", "owner notes"),
        many=True,
    ),
    Place(
        "tax_exempt_number",
        "Owner: tax exemption certificate",
        OWNER,
        ("tax exempt number", "exemption certificate", "tax exempt", "resale number"),
    ),
    Place("may_remind", "Owner: may be reminded", OWNER, ("may remind", "reminders")),
    Place("preferred_way", "Owner: wishes to be written to", OWNER, ("preferred way",)),
    Place("moved_away", "Owner: moved away", OWNER, ("moved away",)),
    Place(
        "kind",
        "Machine: kind",
        MACHINE,
        ("kind", "type", "machine", "machine type", "equipment", "equipment type", "unit type"),
    ),
    Place("engine", "Machine: engine", MACHINE, ("engine", "engine type", "drive", "power")),
    Place("make", "Machine: make", MACHINE, ("make", "brand", "manufacturer", "maker")),
    Place("model", "Machine: model", MACHINE, ("model", "model number", "model no")),
    Place(
        "serial",
        "Machine: serial number",
        MACHINE,
        ("serial", "serial number", "serial no", "sn", "s n"),
    ),
    Place(
        "unit_notes",
        "Machine: note",
        MACHINE,
        ("machine notes", "machine note", "equipment notes", "unit notes"),
        many=True,
    ),
    Place(
        "bought_on",
        "Machine: bought on",
        MACHINE,
        ("bought on", "bought", "purchased", "purchase date", "date of purchase"),
    ),
    Place("hours_per_week", "Machine: hours a week", MACHINE, ("hours per week", "hours a week")),
    Place("first_month", "Machine: first month of use", MACHINE, ("first month",)),
    Place("last_month", "Machine: last month of use", MACHINE, ("last month",)),
    Place("severe_use", "Machine: hard use", MACHINE, ("severe use", "hard use")),
    Place("meter_hours", "Machine: hour meter", MACHINE, ("meter hours", "hour meter", "hours")),
)
BY_KEY = {place.key: place for place in PLACES}
OWNER_PLACES = frozenset(place.key for place in PLACES if place.of == OWNER)
MACHINE_PLACES = frozenset(place.key for place in PLACES if place.of == MACHINE)
_HEADS = {head: place.key for place in PLACES for head in place.heads}
_PHONE_WORDS = re.compile(
    r"\b(owner|customer|client|phones?|telephone|tel|numbers?|no|nr|cellphone|\d+)\b"
)
_NUMBERED = re.compile(r" \d+$")


def place_of(heading: str) -> str:
    """Return the key of the place that a heading usually means, or empty."""
    words = head_words(heading)
    for said in (words, _NUMBERED.sub("", words), _without_lead(words)):
        if said in _HEADS:
            return _HEADS[said]
    if re.search(r"\b(phone|telephone|mobile|cell)\b", words):
        return "phones"
    return "email" if re.search(r"\be ?-?mail\b", words) else ""


def phone_label(heading: str) -> str:
    """Return what a heading says of its phones: ``Work phone 2`` gives ``work``."""
    return " ".join(_PHONE_WORDS.sub(" ", head_words(heading)).split())[:20]


def head_words(heading: str) -> str:
    """Return a heading's words, folded: ``Owner_Name`` and ``OWNER NAME:`` are one."""
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", heading)
    return " ".join(re.sub(r"[^\w-]|_", " ", fold(apart)).split())


def _without_lead(words: str) -> str:
    return re.sub(r"^(owner|customer|client|machine|equipment|unit) ", "", words)

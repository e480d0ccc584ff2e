"""Owners: adding one, changing one, and seeing that the same person isn't written down twice."""

from dataclasses import dataclass, field
from itertools import combinations

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.messages import WAYS
from shopdesk.job.phones import is_same_phone, same_phone, split_label
from shopdesk.job.shift import Change, Shift
from shopdesk.job.views import CustomerView, PhoneView
from shopdesk.records import search
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.found_by import CUSTOMER
from shopdesk.records.search_words import asked_for
from shopdesk.records.tables import Customer, Phone
from shopdesk.text import digits, fold

MOST_PHONES = 8


@dataclass(frozen=True, slots=True)
class CustomerEntry:
    """A customer as typed at the counter; ``phones`` may carry a label: ``home 555-0142``."""

    name: str
    phones: tuple[str, ...] = ()
    email: str = ""
    address: str = ""
    notes: str = ""
    tax_exempt_number: str = ""
    may_remind: bool = True
    shared_phone: bool = field(default=False, kw_only=True)
    """The phone is known to belong to someone else as well (a household)."""
    preferred_way: str = field(default="", kw_only=True)
    """How they wish to be written to, one of ``messages.WAYS``; empty: whatever there is."""
    moved_away: bool = field(default=False, kw_only=True)


def add_customer(shift: Shift, entry: CustomerEntry) -> CustomerView:
    """Write down a new owner.

    Raises ``JobError`` at the field: an empty name, a phone that another owner has, and the like.
    """
    with shift.changing() as change:
        return customer_view(insert_customer(change, entry))


def insert_customer(change: Change, entry: CustomerEntry) -> Customer:
    """Insert a customer with their phones inside a transaction; raises as ``add_customer`` does."""
    customer = Customer(created_at=change.at)
    fill_customer(customer, entry)
    phones = typed_phones(entry)
    _refuse_known_phone(phones, entry, None)
    change.add(customer)
    keep_phones(change, customer, phones)
    return customer


def change_customer(
    shift: Shift, customer_id: int, entry: CustomerEntry, version: int | None = None
) -> CustomerView:
    """Change an owner's particulars.

    ``version`` is the one that was shown; raises ``StaleError`` if it grew.
    """
    with shift.changing() as change:
        customer = find_customer(customer_id)
        if version is not None:
            customer.version = version
        fill_customer(customer, entry)
        phones = typed_phones(entry)
        _refuse_known_phone(_new_phones(customer, phones), entry, customer_id)
        change.save(customer)
        if phones != tuple((phone.label, phone.number) for phone in phone_rows(customer)):
            for phone in phone_rows(customer):
                change.remove(phone)
            keep_phones(change, customer, phones)
        return customer_view(customer)


def get_customer(shift: Shift, customer_id: int) -> CustomerView:
    """Return one customer; raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        return customer_view(find_customer(customer_id))


def suggest_owners(shift: Shift, words: str, most: int = 8) -> tuple[CustomerView, ...]:
    """Return owners whose names begin with each of the words, or whose phone ends in the digits.

    Those seen last come first. Where there are none, a slip in a word is forgiven.
    """
    asked = asked_for(typed.words_looked_for(words))
    with shift.records.reading():
        things = search.of_kind(CUSTOMER, asked, most)
        things = things or search.of_kind(CUSTOMER, search.spelt_otherwise(asked), most)
        return tuple(customer_view(find_customer(thing.id)) for thing in things)


def find_customer(customer_id: int) -> Customer:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    customer = row_of(Customer, customer_id)
    if customer is None:
        raise JobError("That customer is not in the records any more: find them again.", "customer")
    return customer


def customer_view(customer: Customer) -> CustomerView:
    """Return the row as a plain value."""
    return CustomerView(
        customer.id,
        customer.version,
        customer.name,
        tuple(PhoneView(phone.label, phone.number) for phone in phone_rows(customer)),
        customer.email,
        customer.address,
        customer.notes,
        customer.tax_exempt_number,
        customer.may_remind,
        customer.preferred_way,
        customer.moved_away,
    )


def fill_customer(customer: Customer, entry: CustomerEntry) -> None:
    """Put all but the phones into the row; raises ``JobError`` at the field."""
    customer.name = typed.line(entry.name, "name", "The owner's name", needed=True)
    customer.folded_name = fold(customer.name)
    customer.email = typed.email(entry.email, "email")
    customer.address = typed.text(entry.address, "address", "The address")
    customer.notes = typed.text(entry.notes, "notes", "The note")
    customer.tax_exempt_number = _certificate(entry)
    customer.may_remind = entry.may_remind
    customer.preferred_way = typed.choice(entry.preferred_way, "preferred_way", WAYS, "The way")
    customer.moved_away = entry.moved_away


def _certificate(entry: CustomerEntry) -> str:
    """Return the number of the exemption certificate: without one nobody is exempt."""
    number = typed.line(entry.tax_exempt_number, "tax_exempt_number", "The certificate number")
    if number and not digits(number):
        raise JobError(
            f"“{number[:40]}” is no certificate number: type the number on the certificate, "
            "or leave it empty and the owner pays tax.",
            "tax_exempt_number",
        )
    return number


def typed_phones(entry: CustomerEntry) -> tuple[tuple[str, str], ...]:
    """Return (label, number) for each phone typed, without empties."""
    lines = [typed.line(one, "phones", "The phone number") for one in entry.phones]
    phones = tuple(split_label(one, "phones") for one in lines if one)
    numbers = [digits(number) for _, number in phones]
    twice = next((one for one, other in combinations(numbers, 2) if is_same_phone(one, other)), "")
    if twice:
        raise JobError(f"The phone {twice} is typed twice: drop one of them.", "phones")
    if len(phones) > MOST_PHONES:
        raise JobError(f"{len(phones)} phones are too many: keep the best {MOST_PHONES}.", "phones")
    return phones


def _new_phones(
    customer: Customer, phones: tuple[tuple[str, str], ...]
) -> tuple[tuple[str, str], ...]:
    """Return the phones that the customer did not have before: only these can be a mistake."""
    had = {phone.digits for phone in phone_rows(customer)}
    return tuple((label, number) for label, number in phones if digits(number) not in had)


def _refuse_known_phone(
    phones: tuple[tuple[str, str], ...], entry: CustomerEntry, own_id: int | None
) -> None:
    if entry.shared_phone:
        return
    for _, number in phones:
        other = Phone.get_or_none(same_phone(digits(number)) & (Phone.customer != (own_id or 0)))
        if other is not None:
            raise JobError(
                f"{number} is already {other.customer.name}'s phone: choose that owner, "
                "or mark the phone as shared.",
                "phones",
            )


def keep_phones(
    change: Change, customer: Customer, phones: tuple[tuple[str, str], ...], start: int = 0
) -> None:
    """Insert phones of a customer, the first at position ``start``."""
    for position, (label, number) in enumerate(phones, start):
        change.add(
            Phone(
                customer=customer,
                label=label,
                number=number,
                digits=digits(number),
                position=position,
            )
        )


def phone_rows(customer: Customer) -> list[Phone]:
    """Return a customer's phones in their order, inside a transaction."""
    return rows_by(Phone, "customer_id", customer.id, "position")

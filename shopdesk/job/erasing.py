"""Erases who an owner was, when they ask for it: all but what the law has the shop keep.

What goes: name, phones, e-mail, address, notes and the complaints in their own words; letters to
them; estimates and answers on tickets without an invoice; and the same words in the journal, whose
entries then tell that something was changed, when and by whom, but not what it was. What stays:
invoices and credit notes as issued, with the estimates and answers that they rest on, and payments.
Accounts must be kept for years, and a chain of invoices that could be changed would prove nothing
(GDPR, article 17 (3) (b) and (e); the shop's own law may ask for more or less).
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from peewee import Expression

from shopdesk.errors import JobError
from shopdesk.job.customers import find_customer, phone_rows
from shopdesk.job.opened import tag_of
from shopdesk.job.reference import complaints
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import TicketRows, rows_of_many
from shopdesk.pricing.money import show_money
from shopdesk.records.redaction import (
    leaving_no_trace,
    redact,
    redact_reasons,
    rows_told,
    values_told,
)
from shopdesk.records.tables import (
    Customer,
    Draft,
    Merge,
    Message,
    Ownership,
    Reminder,
    Ticket,
    Unit,
)
from shopdesk.text import counted, fold

ERASED = "erased owner"
WORDS = "erased on request"
_WHY = "erased on the owner's request"
_OWNER = {
    "name": ERASED,
    "folded_name": fold(ERASED),
    **dict.fromkeys(("email", "address", "notes", "tax_exempt_number", "preferred_way"), ""),
}
_PHONE = dict.fromkeys(("label", "number", "digits"), "")
_TICKET = {"notes": "", "balance_reason": "", "accessories": "", "condition": ""}
_MESSAGE = {"content": "", "note": ""}
_MERGE = {"called": ERASED, "content": "{}"}
_APPROVAL = {"who": ERASED, "phone": "", "note": ""}
_NOBODY = {"name": ERASED, "address": [], "phones": [], "email": ""}


@dataclass(frozen=True, slots=True)
class Erasing:
    """What is erased and what stays, a sentence each; ``refusal`` says why it can't be yet."""

    name: str
    goes: tuple[str, ...]
    stays: tuple[str, ...]
    refusal: str


def what_erasing_does(shift: Shift, customer_id: int) -> Erasing:
    """Return what would be erased and what would stay. Raises ``JobError`` for an unknown owner."""
    with shift.records.reading():
        owner, rows = find_customer(customer_id), _tickets(customer_id)
        return _told(owner, rows, load_shop())


def erase_owner(shift: Shift, customer_id: int) -> Erasing:
    """Erase who an owner was; return what was erased and what stays.

    Raises ``JobError`` while a ticket is open or money is owed, either way.
    """
    with leaving_no_trace(shift.records), shift.changing() as change:
        owner, rows = find_customer(customer_id), _tickets(customer_id)
        told = _told(owner, rows, change.shop)
        if told.refusal:
            raise JobError(told.refusal)
        _erase_card(change, owner)
        _erase_machines(change, customer_id)
        _erase_messages(change, customer_id)
        for one in rows:
            _erase_ticket(change, one)
        return told


def _tickets(customer_id: int) -> list[TicketRows]:
    tickets = list(Ticket.select().where(Ticket.customer == customer_id).order_by(Ticket.id))
    return rows_of_many(tickets)


def _told(owner: Customer, rows: list[TicketRows], shop: Shop) -> Erasing:
    billed = [one for one in rows if one.invoices]
    bills = sum(len(one.invoices) for one in rows)
    messages = Message.select().where(Message.customer == owner.id).count()
    goes = (
        "name, phones, e-mail, address, notes and certificate number of the owner, "
        "also where the journal tells them",
        "the complaint in their own words, what came with the machine, its condition and the "
        f"notes on {counted(len(rows), 'ticket')}",
        f"what was written in {counted(messages, 'message')} to them",
        f"the name on estimates and answers of {counted(len(rows) - len(billed), 'ticket')} "
        "without an invoice",
        "notes on the machines that are theirs today",
    )
    stays = (
        f"{counted(bills, 'invoice or credit note')} as issued, to the byte, with the name and "
        "address on it: accounts are kept as long as the law asks",
        f"estimates and answers of {counted(len(billed), 'ticket')} that an invoice rests on, "
        "and all payments with their notes",
        "the machines with readings, repairs, photos and serial numbers, without their owner",
        "who of the shop did what, and when",
        "backups and papers written before today: delete them where they lie",
    )
    return Erasing(owner.name, goes, stays, _refusal(owner, rows, shop))


def _refusal(owner: Customer, rows: list[TicketRows], shop: Shop) -> str:
    if owner.name == ERASED:
        return "This owner was erased already."
    for one in rows:
        tag = tag_of(one.ticket.number)
        if one.ticket.stage != Stage.CLOSED:
            return f"Ticket {tag} of {owner.name} is still open: close it first."
        if one.balance:
            amount = show_money(abs(one.balance), shop.currency)
            whose = "is owed to us" if one.balance > 0 else "of theirs is with us"
            return f"{amount} {whose} on ticket {tag} of {owner.name}: settle it first."
    return ""


def _erase_card(change: Change, owner: Customer) -> None:
    for column, words in _OWNER.items():
        setattr(owner, column, words)
    owner.may_remind = False
    for phone in phone_rows(owner):
        change.remove(phone, _WHY)
    change.save(owner, _WHY)
    for reminder in Reminder.select().where(
        (Reminder.customer == owner.id) & (Reminder.state == "open")
    ):
        reminder.state = "stopped"
        change.save(reminder, _WHY)
    for known_as in (owner.id, *_forget_merges(change, owner.id)):
        for name in values_told("customer", known_as, "name"):
            redact_reasons(name, ERASED)
        redact("customer", [known_as], _OWNER)
        redact("phone", rows_told("phone", "customer_id", known_as), _PHONE)
    _drop_drafts((Draft.page == "owner") & (Draft.about == owner.id))


def _forget_merges(change: Change, customer_id: int) -> list[int]:
    """Forget what they were called where they stood twice; return the ids that went into theirs.

    What was merged can't be taken apart any more.
    """
    gone = []
    for merge in Merge.select().where(Merge.customer == customer_id):
        gone.append(merge.gone_id)
        change.remove(merge, _WHY)
        redact("merge", [merge.id], _MERGE)
    return gone


def _erase_machines(change: Change, customer_id: int) -> None:
    theirs = Ownership.select(Ownership.unit).where(
        (Ownership.customer == customer_id) & Ownership.until.is_null()
    )
    for unit in Unit.select().where(Unit.id.in_(theirs)):
        unit.notes = ""
        change.save(unit, _WHY)
        redact("unit", [unit.id], {"notes": ""})
        _drop_drafts((Draft.page == "machine") & (Draft.about == unit.id))


def _erase_messages(change: Change, customer_id: int) -> None:
    for message in Message.select().where(Message.customer == customer_id):
        message.content = message.note = ""
        change.save(message, _WHY)
        redact("message", [message.id], _MESSAGE)


def _erase_ticket(change: Change, rows: TicketRows) -> None:
    ticket = rows.ticket
    complaint = _complaint(ticket.complaint_kind)
    ticket.complaint = complaint
    for column in _TICKET:
        setattr(ticket, column, "")
    change.save(ticket, _WHY)
    redact("ticket", [ticket.id], {**_TICKET, "complaint": complaint})
    _drop_drafts(Draft.about == ticket.id, of_ticket=True)
    if rows.invoices:
        return
    for approval in rows.approvals:
        approval.who, approval.phone, approval.note = ERASED, "", ""
        change.save(approval, _WHY)
        redact("approval", [approval.id], _APPROVAL)
    nameless: Callable[[Any], str] = partial(_nameless, complaint)
    for estimate in rows.estimates:
        estimate.content = nameless(estimate.content)
        change.save(estimate, _WHY)
        redact("estimate", [estimate.id], {"content": nameless})


def _drop_drafts(where: Expression, *, of_ticket: bool = False) -> None:
    """Drop what is typed and not saved; the pages of a ticket begin with a capital."""
    for draft in Draft.select().where(where):
        if not of_ticket or draft.page[:1].isupper():
            draft.delete_instance()


def _complaint(kind: str) -> str:
    """Return the trade's words for a complaint in the place of the owner's own."""
    known = complaints().by_key.get(kind)
    return known.words if known is not None else WORDS


def _nameless(complaint: str, content: Any) -> str:
    """Return what an estimate said, without whom it was for."""
    said = json.loads(content)
    said |= {"owner": _NOBODY, "complaint": complaint, "tax_exempt_number": ""}
    return json.dumps(said, ensure_ascii=False, separators=(",", ":"))

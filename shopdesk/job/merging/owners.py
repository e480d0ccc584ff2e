"""Two owners who are one: what they say differently, and making them one."""

from dataclasses import dataclass

from shopdesk.errors import JobError
from shopdesk.job.customers import MOST_PHONES, customer_view, find_customer
from shopdesk.job.merging.fields import Choices, TwoWords, differing
from shopdesk.job.merging.making_one import (
    Versions,
    begin,
    finish,
    hanging_words,
    put_words_together,
)
from shopdesk.job.merging.rows import Recorder, hanging
from shopdesk.job.phones import is_same_phone
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.views import CustomerView
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Customer, Phone, Reminder


@dataclass(frozen=True, slots=True)
class TwoOwners:
    """Two owners side by side: the fields on which they differ, and what would go over."""

    stays: CustomerView
    goes: CustomerView
    fields: tuple[TwoWords, ...]
    goes_over: str
    """What hangs on the other, in words; empty for nothing."""

    @property
    def versions(self) -> Versions:
        """What was seen of the two, for ``merge_owners``."""
        return self.stays.version, self.goes.version


def two_owners(shift: Shift, stays_id: int, goes_id: int) -> TwoOwners:
    """Return two owners side by side; raises ``JobError`` if one of them is not there."""
    with shift.records.reading():
        stays, goes = find_customer(stays_id), find_customer(goes_id)
        return TwoOwners(
            customer_view(stays),
            customer_view(goes),
            differing(stays, goes, load_shop()),
            hanging_words(hanging(goes)),
        )


def merge_owners(
    shift: Shift,
    stays_id: int,
    goes_id: int,
    choices: Choices | None = None,
    seen: Versions | None = None,
) -> CustomerView:
    """Make one owner of two: all that hangs on ``goes_id`` goes over, and its card is taken out.

    ``choices`` say by field whose word stands. Issued invoices stay as they are. ``take_apart``
    undoes it. Raises ``JobError`` at ``other`` where it can't be, ``StaleError`` if one of them is
    not as it was ``seen``.
    """
    with shift.changing() as change:
        stays, goes = find_customer(stays_id), find_customer(goes_id)
        recorder = begin(change, stays, goes, (stays.name, goes.name), seen)
        put_words_together(recorder, stays, goes, choices or {})
        _move_phones(recorder, stays, goes)
        recorder.move_all(goes, stays)
        if not stays.may_remind:
            _stop_reminders(recorder, stays)
        finish(recorder, stays, goes, goes.name)
        return customer_view(stays)


def _move_phones(recorder: Recorder, stays: Customer, goes: Customer) -> None:
    """Keep every phone once, those of the one that stays first."""
    theirs = rows_by(Phone, "customer_id", goes.id, "position")
    kept = rows_by(Phone, "customer_id", stays.id, "position")
    for phone in theirs:
        if any(is_same_phone(phone.digits, one.digits) for one in kept):
            recorder.remove(phone)
            continue
        phone.customer, phone.position = stays, len(kept)
        recorder.save(phone)
        recorder.moved.phones[phone.id] = phone.digits
        kept.append(phone)
    if len(kept) > MOST_PHONES:
        raise JobError(
            f"Together they have {len(kept)} phones, and {MOST_PHONES} are kept at most: "
            "take those away that are out of use, then make them one.",
            "other",
        )


def _stop_reminders(recorder: Recorder, stays: Customer) -> None:
    for reminder in rows_by(Reminder, "customer_id", stays.id):
        if reminder.state == "open":
            reminder.state = "stopped"
            recorder.save(reminder)

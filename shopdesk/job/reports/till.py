"""The till: what should be in it at the end of a day, what was counted, and what is taken out."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shopdesk.dates import local_day, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.reports.asking import cents, money
from shopdesk.job.reports.period import Period
from shopdesk.job.shift import Shift, load_shop
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import ZERO
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Payment, TillCount

CASH = "cash"


@dataclass(frozen=True, slots=True)
class CountEntry:
    """What is typed when the till is counted; an empty ``opening`` is what the last count left."""

    counted: str
    opening: str = ""
    taken_out: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Till:
    """The cash of one day. Without a count, ``counted`` and what follows from it are ``None``."""

    day: date
    opening: Decimal | None
    """What lay in it in the morning; ``None`` where no count ever said."""
    opening_words: str
    taken: Decimal
    given_back: Decimal
    after_count: Decimal
    """Cash of that day that came, or went, after it was counted."""
    counted: Decimal | None
    taken_out: Decimal
    note: str
    counted_by: str
    counted_at: datetime | None

    @property
    def should_be(self) -> Decimal | None:
        """What should have been in it when it was counted, or is in it now."""
        if self.opening is None:
            return None
        return self.opening + self.taken - self.given_back - self.after_count

    @property
    def difference(self) -> Decimal | None:
        """What was counted over what should be: below zero some is missing."""
        if self.counted is None or self.should_be is None:
            return None
        return self.counted - self.should_be

    @property
    def stays(self) -> Decimal | None:
        """What stays in it for the next day, of what was counted."""
        return None if self.counted is None else self.counted - self.taken_out


def count_till(shift: Shift, day: date, entry: CountEntry) -> Till:
    """Keep what was counted in the till at the end of a day; counting again takes its place.

    Raises ``JobError`` at the field: a day to come, more taken out than was counted, or no opening
    where no earlier count says it.
    """
    with shift.changing() as change:
        if day > change.today:
            raise JobError(f"{show_date(day)} is still to come: count the till then.", "day")
        zone = change.shop.zone
        row = next(iter(rows_by(TillCount, "day", day)), None)
        opening = typed.optional_money(entry.opening, "opening")
        if opening is None:
            opening = row.opening if row else _carried(day, zone)[0]
        if opening is None:
            raise JobError(
                "No earlier count says what lay in the till in the morning: type it.", "opening"
            )
        counted = typed.money(entry.counted, "counted")
        out = typed.optional_money(entry.taken_out, "taken_out") or ZERO
        if out > counted:
            symbol = change.shop.currency
            raise JobError(
                f"{show_money(out, symbol)} is more than was counted "
                f"({show_money(counted, symbol)}): type what was taken out.",
                "taken_out",
            )
        count = row or TillCount(day=day)
        count.opening, count.counted, count.taken_out = opening, counted, out
        count.note = typed.line(entry.note, "note", "The note")
        count.counted_by, count.counted_at = change.who, change.at
        if row:
            change.save(count, "counted again")
        else:
            change.add(count)
        return till_of(day, zone)


def till(shift: Shift, day: date) -> Till:
    """Return the till of one day."""
    with shift.records.reading():
        return till_of(day, load_shop().zone)


def till_of(day: date, zone: str) -> Till:
    """Return the till of one day, inside a transaction."""
    begin, end = Period(day, day).moments(zone)
    row = next(iter(rows_by(TillCount, "day", day)), None)
    opening, words = (row.opening, "as typed with the count") if row else _carried(day, zone)
    until = _counted_until(row, zone) if row else end
    return Till(
        day=day,
        opening=opening,
        opening_words=words,
        taken=_cash(begin, end, taken=True),
        given_back=-_cash(begin, end, taken=False),
        after_count=_cash(until, end),
        counted=row.counted if row else None,
        taken_out=row.taken_out if row else ZERO,
        note=row.note if row else "",
        counted_by=row.counted_by if row else "",
        counted_at=row.counted_at if row else None,
    )


def _carried(day: date, zone: str) -> tuple[Decimal | None, str]:
    """Return what the count before ``day`` left and the cash since then, and say so."""
    last = TillCount.select().where(TillCount.day < day).order_by(TillCount.day.desc()).first()
    if last is None:
        return None, "no earlier count says it"
    begin = Period(day, day).moments(zone)[0]
    since = _cash(_counted_until(last, zone), begin)
    words = f"left by the count of {show_date(last.day)}"
    if since:
        words += ", with the cash since"
    return last.counted - last.taken_out + since, words


def _counted_until(count: TillCount, zone: str) -> datetime:
    """Return up to when a count has seen the cash: one made on a later day saw its whole day."""
    end = Period(count.day, count.day).moments(zone)[1]
    return count.counted_at if local_day(count.counted_at, zone) == count.day else end


def _cash(begin: datetime, end: datetime, *, taken: bool | None = None) -> Decimal:
    """Return the sum of the cash from one moment to another: all, only in, or only out."""
    wanted = (Payment.method == CASH) & (Payment.taken_at >= begin) & (Payment.taken_at < end)
    if taken is not None:
        wanted &= Payment.amount > 0 if taken else Payment.amount < 0
    return money(Payment.select(cents(Payment.amount)).where(wanted).scalar())

"""The chances of the causes as exact numbers: where the bench's thinking meets money."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.bench.evidence import Evidence
from shopdesk.job.options.rules import option_rules
from shopdesk.job.ranking import history_words, matter_of
from shopdesk.records.tables import Ticket

_PLACES = Decimal("0.000001")


@dataclass(frozen=True, slots=True)
class Chances:
    """The causes of a ticket's trouble with their chances, from 0 to 1 and exactly 1 together."""

    evidence: Evidence
    by_key: Mapping[str, Decimal]
    named: str
    """The cause that the mechanic named, or empty."""
    looked_at: bool
    history: str

    def of(self, keys: frozenset[str]) -> Decimal:
        """Return the chance that it is one of these causes."""
        return sum((self.by_key.get(key, Decimal(0)) for key in keys), Decimal(0))

    def cause(self, key: str) -> Cause:
        """Return a cause by its key."""
        return next(cause for cause in self.evidence.causes if cause.key == key)

    @property
    def known(self) -> tuple[Cause, ...]:
        """The causes but "something else", those that can be, likeliest first."""
        possible = [
            cause
            for cause in self.evidence.causes
            if cause.key != SOMETHING_ELSE and self.by_key[cause.key]
        ]
        return tuple(sorted(possible, key=lambda cause: -self.by_key[cause.key]))


def chances_of(ticket: Ticket) -> Chances:
    """Return the chances by all that a ticket says so far, inside a transaction.

    A cause that the mechanic named counts as almost certain.
    """
    matter = matter_of(ticket)
    shares = {share.cause.key: share.probability for share in matter.weighed.shares}
    keys = [cause.key for cause in matter.evidence.causes]
    exactly = dict(zip(keys, exact_shares([shares[key] for key in keys]), strict=True))
    named = ticket.cause if ticket.cause in exactly else ""
    if named:
        exactly = _with_named(exactly, named)
    return Chances(
        matter.evidence, exactly, named, matter.looked_at, history_words(matter.case.counts)
    )


def exact_shares(probabilities: Sequence[float]) -> list[Decimal]:
    """Return probabilities as Decimals of six places that come to exactly 1.

    The likeliest takes what rounding leaves over.
    """
    shares = [Decimal(repr(each)).quantize(_PLACES) for each in probabilities]
    return _to_one(shares)


def _with_named(chances: Mapping[str, Decimal], named: str) -> dict[str, Decimal]:
    """Return the chances with the named cause at no less than almost certain."""
    most = max(option_rules().named_cause, chances[named])
    rest = 1 - chances[named]
    if not rest:
        return dict(chances)
    moved = {key: (p * (1 - most) / rest).quantize(_PLACES) for key, p in chances.items()}
    moved[named] = most
    return dict(zip(moved, _to_one(list(moved.values())), strict=True))


def _to_one(shares: list[Decimal]) -> list[Decimal]:
    place = shares.index(max(shares))
    return [share + (1 - sum(shares)) if at == place else share for at, share in enumerate(shares)]

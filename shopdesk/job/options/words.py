"""What each way out means, in plain sentences for an owner."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.bench.cause_book import Cause
from shopdesk.job.options.in_sentence import listed
from shopdesk.job.options.ways import KIT, RENEW, Repair
from shopdesk.pricing.money import show_money

_ALMOST = Decimal("0.99")
_HARDLY = Decimal("0.01")


def in_a_hundred(chance: Decimal) -> str:
    """Return a chance as people say it: ``92 in 100``."""
    if chance == 1:
        return "certain"
    if chance > _ALMOST:
        return "over 99 in 100"
    if 0 < chance < _HARDLY:
        return "under 1 in 100"
    return f"{chance * 100:.0f} in 100"


def rough(amount: Decimal, currency: str) -> str:
    """Return an amount that is no promise, in whole units: ``$132``."""
    return show_money(amount.quantize(Decimal(1), ROUND_HALF_UP), currency).removesuffix(".00")


class OwnersWords:
    """Says what ways mean, in the shop's currency."""

    def __init__(self, currency: str) -> None:
        self._currency = currency

    def failed(self, causes: Sequence[Cause], named: bool, chance: Decimal, after: str) -> str:
        """Say what only what failed puts right."""
        which = "the cause that was found" if named else "the likeliest cause"
        titles = " and ".join(cause.title for cause in causes[:2])
        return f"Puts right {which}: {titles}. {self._runs(chance)}{after}"

    def more(self, way: Repair, difference: Decimal, chance: Decimal, saves: Decimal) -> str:
        """Say what the kit or the renewal brings for what it costs beyond only what failed."""
        with_it = {KIT: "takes in", RENEW: "renews"}[way.key]
        which = {KIT: "", RENEW: ", worn or due by now"}[way.key]
        adds = f" and {with_it} {listed(way.adds)} as well{which}" if way.adds else ""
        ends = ""
        if saves >= 1:
            ends = f" On average it ends about {self._rough(saves)} cheaper."
        runs = self._runs(chance).lower() if adds else self._runs(chance)
        return f"{self._difference(difference)}{adds}{':' if adds else '.'} {runs}.{ends}"

    def own(self, way: Repair, chance: Decimal) -> str:
        """Say what a way of the mechanic's is."""
        said = f"{way.words.rstrip('.')}. " if way.words else ""
        return f"{said}{self._runs(chance)}."

    def another(self, price: Decimal, fee: Decimal, disposal: Decimal) -> str:
        """Say what another machine takes."""
        extra = [f"{self.money(fee)} for finding the trouble"] if fee else []
        extra += [f"{self.money(disposal)} for getting rid of this one"] if disposal else []
        also = f", with {' and '.join(extra)}" if extra else ""
        return f"About {self.money(price)} for one like it, new{also}. It has its whole life ahead."

    def leave(self, fee: Decimal) -> str:
        """Say what is owed when nothing is done."""
        if not fee:
            return "Nothing is owed yet: you take it home as it came."
        return f"You pay {self.money(fee)} for finding the trouble and take it home as it came."

    def goes_on(self, expected: Decimal) -> str:
        """Say what follows when the first fix does not cure."""
        return f"; if not, we go on, and it comes to about {self._rough(expected)} on average."

    def undone(self, names: Sequence[str], later: Decimal) -> str:
        """Say what is left as it is; empty where nothing is."""
        if not names:
            return ""
        return f" It leaves {listed(names)}, worn or due by now: about {self._rough(later)} later."

    def money(self, amount: Decimal) -> str:
        """Return an amount as printed."""
        return show_money(amount, self._currency)

    def _rough(self, amount: Decimal) -> str:
        return rough(amount, self._currency)

    def _difference(self, difference: Decimal) -> str:
        if not difference:
            return "Costs the same now"
        more = "more" if difference > 0 else "less"
        return f"Costs {self.money(abs(difference))} {more} now"

    def _runs(self, chance: Decimal) -> str:
        return f"{in_a_hundred(chance).capitalize()} that it runs then"


def rule_words(per_hour: Decimal | None, currency: str) -> str:
    """Say by what a way is the best one."""
    if per_hour is None:
        return "it comes to the least on average until it runs,"
    return f"{show_money(per_hour, currency)} for each hour of life, the least"


def suggestion_words(title: str, reason: str, fair_chance: Decimal) -> str:
    """Say which way we would take and by which rule; it is the owner who chooses."""
    fair = f"the ways with a fair chance (at least {in_a_hundred(fair_chance)})"
    return f"We would take “{title}”: {reason} among {fair}. The choice is yours."


def no_suggestion(fair_chance: Decimal, *, repairs: bool) -> str:
    """Say why we would take none yet."""
    if not repairs:
        return "No repair is worked out yet: more has to be looked at, or priced, first."
    return (
        f"No repair has a fair chance yet (at least {in_a_hundred(fair_chance)}): "
        "we would look further before anything is bought."
    )

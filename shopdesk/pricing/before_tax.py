"""What each line comes to before tax, where prices have their tax in them."""

from collections import defaultdict, deque
from collections.abc import Sequence
from decimal import Decimal

from shopdesk.pricing.sharing import share_out
from shopdesk.pricing.tax import ZERO, PricedLine, TaxRule, taxed


def before_tax(lines: Sequence[PricedLine], rule: TaxRule) -> tuple[Decimal, ...]:
    """Return each line's net in its place; together they are the `Totals.net` of the same lines.

    A discount on the whole bill (below zero) is the sum of its shares.
    """
    groups = taxed(lines, rule)
    nets: defaultdict[PricedLine, deque[Decimal]] = defaultdict(deque)
    for group in groups:
        for line, net in zip(group.lines, group.nets, strict=True):
            nets[line].append(net)
    shared = [line for line in lines if line.shared]
    given = sum((group.given for group in groups), ZERO)
    for line, part in zip(shared, share_out(given, [-line.net for line in shared]), strict=True):
        nets[line].append(-part)
    return tuple(nets[line].popleft() for line in lines)

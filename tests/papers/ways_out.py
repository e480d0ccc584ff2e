"""Invented ways out for the tests of the papers: five columns, two of them no repair."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopdesk.job.paper_content import WayOutColumn, WaysOut, WaysOutContent
from tests.papers.samples import COMPLAINT, ESTIMATE, MACHINE, OWNER, SHOP

D = Decimal


def repair(
    title: str, words: str, now: str, average: str, chance: str, **more: bool
) -> WayOutColumn:
    """One repair beside the others."""
    return WayOutColumn(
        title=title,
        words=words,
        price_now=D(now),
        expected=D(average),
        worst=D("310.40"),
        chance=chance,
        hours=D("0.6"),
        ready=date(2027, 3, 16),
        life_hours=D(76),
        per_hour=D("1.77"),
        typical=more.get("typical", False),
        itemised=more.get("itemised", False),
        mends=True,
        suggested=more.get("suggested", False),
    )


def other(
    title: str, words: str, now: str, chance: str, hours: str = "", per: str = ""
) -> WayOutColumn:
    """One way that mends nothing."""
    return WayOutColumn(
        title=title,
        words=words,
        price_now=D(now),
        expected=D(now),
        worst=D(now),
        chance=chance,
        hours=D(0),
        ready=None,
        life_hours=D(hours) if hours else None,
        per_hour=D(per) if per else None,
        typical=False,
        itemised=False,
        mends=False,
        suggested=False,
    )


FAILED = repair(
    "Only what failed",
    "Puts right the likeliest cause: stiff diaphragms.",
    "61.56",
    "91.20",
    "75 in 100",
)
KIT = repair(
    "The kit",
    "Costs $25.92 more now than only what failed and takes in the fuel line as well.",
    "87.48",
    "105.10",
    "88 in 100",
    itemised=True,
    suggested=True,
)
WAYS_OUT = WaysOut(
    columns=(
        FAILED,
        KIT,
        repair("Renew what wears", "Renews the plug too.", "100.98", "124.60", "76 in 100"),
        other(
            "Another machine",
            "About $199.00 for one like it, new.",
            "236.80",
            "a new one",
            "125",
            "1.89",
        ),
        other("Leave it", "You pay $37.80 and take it home as it came.", "37.80", "none"),
    ),
    left_out=(),
    suggestion="We would take “The kit”: $1.77 for each hour of life. The choice is yours.",
    guide=("Hours of life are a guide, no promise: 40 CFR 1054.107(a)(1).",),
)
SHEET = WaysOutContent(
    shop=SHOP,
    ticket="T1043",
    on=date(2027, 3, 9),
    owner=OWNER,
    machine=MACHINE,
    complaint=COMPLAINT,
    found=ESTIMATE.found,
    ways_out=WAYS_OUT,
    valid_until=date(2027, 4, 8),
)

_WORDS = (
    "Puts right the likeliest cause: hardened carburettor diaphragms. 75 in 100 that "
    "it runs then; if not, we go on, and it comes to about $91 on average. It leaves "
    "the air filter and the spark plug, worn or due by now: about $29 later.",
    "Costs $25.92 more now and takes in the fuel line, the fuel filter and the inlet "
    "screen as well: 88 in 100 that it runs then. On average it ends about $14 "
    "cheaper. It leaves the air filter and the spark plug, worn or due by now: about "
    "$29 later.",
    "Costs $39.42 more now and renews the air filter, the spark plug and the fuel "
    "line as well, worn or due by now: 76 in 100 that it runs then.",
    "About $199.00 for one like it, new, with $37.80 for finding the trouble. It has "
    "its whole life ahead.",
    "You pay $37.80 for finding the trouble and take it home as it came.",
)
_GUIDE = (
    "Chances: by the complaint and what was found. The odds count 6 closed tickets "
    "of this model and 9 of others of its kind that name their cause.",
    "If the first fix does not cure, the next ones follow, best chance for the money "
    "first, and in the end a search (2 h); each is paid for, none without asking you "
    "again. The worst case leaves out causes rarer than 1 in 100, but is never below "
    "the average.",
    "Ready days: 3 machines before it, about 4.8 h, 6 h of bench work a working day, "
    "if you say yes today.",
    "Hours of life are a guide, no promise: about 210 h used since 2020, of 300 h "
    "that such an engine is rated for (40 CFR 1054.107(a)(1)).",
    "Cost per hour of life: the average until it runs, with what is worn or due and "
    "left undone, over the hours left.",
)
USUAL_WAYS = replace(
    WAYS_OUT,
    columns=tuple(
        replace(way, words=words) for way, words in zip(WAYS_OUT.columns, _WORDS, strict=True)
    ),
    suggestion="We would take “The kit”: $1.77 for each hour of life, the least among the ways "
    "with a fair chance (at least 50 in 100). The choice is yours.",
    guide=_GUIDE,
)
"""Five ways in sentences as long as they usually come."""

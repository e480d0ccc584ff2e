"""How old the fuel is, from what was said of it at the counter: it counts until it is asked."""

import re
from collections.abc import Mapping

from shopdesk.bench.judging import Judged, judge
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Machine, Place
from shopdesk.bench.readings import ReadingError
from shopdesk.job.reference import catalogue

CHECK = "fuel-age"
LAST_SEASON = "last season's"
_AGE = re.compile(
    r"(?<![\d:.,])(?P<count>\d{1,4}(?:[.,]\d)?|\ban?\b|\bone\b)\s*"
    r"(?P<unit>(?:day|week|wk|month|mth|year|yr)s?)\b",
    re.IGNORECASE,
)
_LAST = re.compile(r"\blast (?:season|year|summer|autumn|fall|spring|winter)\b", re.IGNORECASE)


def fuel_told(words: str, machine: Machine, own: Mapping[str, Limit]) -> Judged | None:
    """Judge the age that the words name: ``mix, 3 months old``, ``a year old``, ``last fall's``.

    ``None`` where they name none, or the machine takes no fuel.
    """
    check = catalogue().by_key.get(CHECK)
    age = _age(words)
    if check is None or not age or not check.fit.suits(machine):
        return None
    try:
        return judge(check, age, machine, Place(), own)
    except ReadingError:
        return None


def _age(words: str) -> str:
    if _LAST.search(words):
        return LAST_SEASON
    named = _AGE.search(words)
    if named is None:
        return ""
    count = named["count"] if named["count"][0].isdigit() else "1"
    return f"{count} {named['unit']}"

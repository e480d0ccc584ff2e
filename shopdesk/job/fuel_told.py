"""How old the fuel is, from what the owner said of it at the counter: it counts until it is asked."""

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
    r"(?<![\d:.,])\d{1,4}(?:[.,]\d)?\s*(?:days?|weeks?|wks?|months?|mths?|years?|yrs?)\b", re.I
)
_LAST = re.compile(r"\blast (?:season|year|summer|autumn|fall|spring|winter)\b", re.I)


def fuel_told(words: str, machine: Machine, own: Mapping[str, Limit]) -> Judged | None:
    """Judge the age that the words name: ``mix, 3 months old``, ``from last season``.

    ``None`` where they name none, or the machine takes no fuel.
    """
    check = catalogue().by_key.get(CHECK)
    age = LAST_SEASON if _LAST.search(words) else next(iter(_AGE.findall(words)), "")
    if check is None or not age or not check.fit.suits(machine):
        return None
    try:
        return judge(check, age, machine, Place(), own)
    except ReadingError:
        return None

"""What the figures of the ways out rest on, said in a few sentences."""

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.job.options.life import Life
from shopdesk.job.options.odds import Chances
from shopdesk.job.options.rules import option_rules
from shopdesk.job.options.words import in_a_hundred
from shopdesk.job.queue import Queue
from shopdesk.job.shop import Shop
from shopdesk.pricing.money import show_quantity


def guide(chances: Chances, life: Life, queue: Queue, shop: Shop) -> tuple[str, ...]:
    """Return the sentences: the chances, the way on, the ready day, the hours of life."""
    return (_chances(chances), _way_on(chances), _ready(queue, shop), life.words, PER_HOUR)


PER_HOUR = (
    "Cost per hour of life: the average until it runs, with what is worn or due and left undone, "
    "over the hours left."
)


def _chances(chances: Chances) -> str:
    if chances.named:
        counted = in_a_hundred(chances.by_key[chances.named])
        title = chances.cause(chances.named).title
        return f"Chances: {title} was found to be the cause, which counts for {counted}."
    by = "the complaint and what was found" if chances.looked_at else "the complaint alone"
    return f"Chances: by {by}. {chances.history}"


def _way_on(chances: Chances) -> str:
    hours = show_quantity(chances.cause(SOMETHING_ELSE).minutes / 60)
    return (
        "If the first fix does not cure, the next ones follow, best chance for the money first, "
        f"and in the end a search ({hours} h); each is paid for, none without asking you again. "
        f"The worst case leaves out causes rarer than {in_a_hundred(option_rules().worst_from)}, "
        "but is never below the average."
    )


def _ready(queue: Queue, shop: Shop) -> str:
    hours = show_quantity(shop.bench_hours_per_day)
    return (
        f"Ready days: {queue.words}, {hours} h of bench work a working day, if you say yes today."
    )

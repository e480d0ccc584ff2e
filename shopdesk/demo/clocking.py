"""The bench clock in the telling: on when a job begins, off when it ends."""

from shopdesk.demo.told import Told
from shopdesk.job.labour.clock import running_of, start_clock, stop_clock
from shopdesk.job.labour.views import time_words


def clock_on(told: Told) -> None:
    """Start the clock, where the shop clocks its time by then and no time is written by hand."""
    if told.cast.bench.today >= told.cast.clocked_since and not told.story.by_time:
        told.ticket = start_clock(told.cast.bench, told.id).ticket


def clock_off(told: Told) -> None:
    """Stop it, if no other job did."""
    running = running_of(told.cast.bench)
    if running is not None and running.ticket_id == told.id:
        done = stop_clock(told.cast.bench)
        told.ticket = done.ticket
        told.say(f"{done.spell.work} on the clock: {time_words(done.spell.seconds)}")

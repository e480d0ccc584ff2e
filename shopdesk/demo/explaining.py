"""Tells how the ways out are put before the owner, and how one of them goes on the ticket."""

from collections.abc import Iterator

import msgspec

from shopdesk.demo.clock import Wait
from shopdesk.demo.told import Told
from shopdesk.job.causes import say_cause
from shopdesk.job.options.judged import TITLES
from shopdesk.job.options.own import OwnOptionEntry, add_option
from shopdesk.job.options.price_new import set_price_new
from shopdesk.job.options.taking import take_option
from shopdesk.job.options.worked_out import options_for
from shopdesk.pricing.money import show_money


def explain(told: Told) -> Iterator[Wait]:
    """What the mechanic adds is added, and the way that is to be quoted goes on the ticket."""
    explained = told.visit.explained
    if explained is None:
        return
    bench = told.cast.bench
    yield Wait(minutes=6)
    if explained.named:
        told.ticket = say_cause(bench, told.id, told.story.cause, told.story.cause_words)
    if explained.price_new:
        told.ticket = set_price_new(bench, told.id, explained.price_new)
    for way in explained.ways:
        told.ticket = add_option(bench, told.id, OwnOptionEntry(**msgspec.structs.asdict(way)))
    if explained.takes and explained.takes not in TITLES:
        told.ticket = take_option(bench, told.id, explained.takes)


def say_ways(told: Told) -> None:
    """Have the hearer hear the ways out, and which one we would take."""
    if not told.is_heard:
        return
    seen = options_for(told.cast.bench, told.id)
    for one in seen.options:
        told.say(f"way out, {one.title}: {show_money(one.price_now)}. {one.words}")
    told.say(seen.suggestion)

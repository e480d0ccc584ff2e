"""Builds the demo shop's records in a folder: the same shop for the same day and the same seed."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import partial
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from shopdesk import places
from shopdesk.demo.calendar import plan_visits
from shopdesk.demo.clock import Clock, eve_of, same_day_pace, shop_pace
from shopdesk.demo.pictures import draw_picture
from shopdesk.demo.scenario import Scenario, load_scenario
from shopdesk.demo.telling import tell_all
from shopdesk.demo.told import Cast, Told
from shopdesk.job.shift import Shift, save_shop
from shopdesk.records.store import Records, open_records

SEED = 1
RECORDS = "shop.db"


def build_demo(folder: Path, today: date, seed: int = SEED) -> Shift:
    """Make the records of the demo shop in ``folder`` as they stand on the morning of ``today``.

    Returns a shift on the open records, by the real clock. The folder must not hold records yet.
    """
    demo = Demo.begin(folder, today, seed)
    demo.tell_history()
    return demo.shift()

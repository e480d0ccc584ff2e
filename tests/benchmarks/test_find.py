"""Everything is found while typing: each key takes little more than SQLite's own search does.

``FIND_CUSTOMERS=200000 pytest tests/benchmarks/test_find.py -s`` makes the shop larger; it
has two and a half tickets to each owner. The floor looks the same words up in the same index with
``sqlite3`` alone, the query written out beforehand, and reads what is shown of what it finds.
"""

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import partial
from itertools import groupby
from pathlib import Path
from random import Random
from statistics import quantiles
from time import process_time

from shopdesk.job.find import find_anything
from shopdesk.job.shift import Shift
from shopdesk.records.fetch import answers
from shopdesk.records.search_fts5 import expression, spelled_out
from shopdesk.records.search_words import asked_for
from tests.benchmarks.big_shop import BigShop
from tests.job.workshop import Clock, open_shop

CUSTOMERS = int(os.environ.get("FIND_CUSTOMERS", "20000"))
ROUNDS, MOST, EACH, LINES = 5, 1.5, 6, 20
FOUND = """SELECT d.kind, d.about FROM search_index JOIN search_document d
    ON d.id = search_index.rowid
    WHERE search_index MATCH ? ORDER BY search_index.rowid DESC LIMIT 20"""
SHOWN = {
    "ticket": """SELECT t.number, t.stage, substr(t.complaint, 1, 60), c.name, u.kind, u.make,
        u.model FROM ticket t JOIN customer c ON c.id = t.customer_id
        JOIN unit u ON u.id = t.unit_id WHERE t.id IN (~)""",
    "customer": """SELECT c.name,
        (SELECT number FROM phone WHERE customer_id = c.id ORDER BY position LIMIT 1),
        (SELECT count(*) FROM ownership WHERE customer_id = c.id AND until IS NULL)
        FROM customer c WHERE c.id IN (~)""",
    "unit": """SELECT u.kind, u.make, u.model, u.serial, c.name FROM unit u
        LEFT JOIN ownership o ON o.unit_id = u.id AND o.until IS NULL
        LEFT JOIN customer c ON c.id = o.customer_id WHERE u.id IN (~)""",
}
SOUGHT = {
    "name": "SELECT name FROM customer",
    "last digits": "SELECT substr(digits, -4) FROM phone",
    "phone": "SELECT number FROM phone",
    "serial": "SELECT serial FROM unit",
    "model": "SELECT make || ' ' || model FROM unit",
    "tag": "SELECT 'T' || number FROM ticket",
    "complaint": "SELECT complaint FROM ticket",
    "name and machine": """SELECT c.name || ' ' || u.kind FROM unit u
        JOIN ownership o ON o.unit_id = u.id JOIN customer c ON c.id = o.customer_id""",
}


def test_each_key_against_sqlites_own_search(tmp_path: Path) -> None:
    shift = open_shop(tmp_path, Clock())
    BigShop(CUSTOMERS).fill(shift)
    with closing(sqlite3.connect(shift.records.file)) as raw:
        ours, floors = [], []
        for kind, keys in groupby(sorted(typed(shift)), key=lambda one: one[0]):
            each = [measured(shift, raw, words) for _, words in keys]
            ours += [one for one, _ in each]
            floors += [floor for _, floor in each]
            print(f"\n{kind}: {told(each)}", end="")
    all_keys = list(zip(ours, floors, strict=True))
    print(f"\n{CUSTOMERS:,} owners, {len(ours)} keys: {told(all_keys)}")
    assert p95(ours) <= MOST * p95(floors)
    for slip in ("qiullwater", "ansle hazelson", "uillwat"):
        assert find_anything(shift, slip)
        print(f"“{slip}” {least(partial(find_anything, shift, slip)) * 1e3:.1f} ms")
    shift.records.close()


def typed(shift: Shift) -> Iterator[tuple[str, str]]:
    """Yield what stands in the box after each key, for things that are looked for."""
    random = Random(7)
    for kind, query in SOUGHT.items():
        with shift.records.reading():
            rows = random.sample(answers(query), EACH)
        for (words,) in rows:
            keys = (words[:end] for end in range(1, len(words) + 1))
            yield from ((kind, key) for key in keys if asked_for(key))
    yield from (("one letter", letter) for letter in "abcdefghijklmnopqrstuvwxyz0123456789")


def measured(shift: Shift, raw: sqlite3.Connection, words: str) -> tuple[float, float]:
    """Return the processor time of finding ``words``, and of the floor."""
    asked = asked_for(words)
    with shift.records.reading():
        written_out = [one for one in (asked, spelled_out(asked)) if all(one)]
    floor = min(least(partial(look_up, raw, expression(one))) for one in written_out)
    return least(lambda: find_anything(shift, words, LINES)), floor


def look_up(raw: sqlite3.Connection, query: str) -> list[tuple[object, ...]]:
    found: dict[str, list[int]] = {kind: [] for kind in SHOWN}
    for kind, about in raw.execute(FOUND, (query,)):
        found[kind].append(about)
    shown: list[tuple[object, ...]] = []
    for kind, ids in found.items():
        if ids:
            shown += raw.execute(SHOWN[kind].replace("~", ",".join("?" * len(ids))), ids)
    return shown


def least(call: Callable[[], object]) -> float:
    """Processor time, the least of several: what else runs on the machine does not count."""
    return min(once(call) for _ in range(ROUNDS))


def once(call: Callable[[], object]) -> float:
    start = process_time()
    call()
    return process_time() - start


def told(each: list[tuple[float, float]]) -> str:
    ours, floors = zip(*each, strict=True)
    return (
        f"p95 {p95(ours) * 1e3:.2f} ms, SQLite {p95(floors) * 1e3:.2f} ms, "
        f"ratio {p95(ours) / p95(floors):.2f}"
    )


def p95(times: tuple[float, ...] | list[float]) -> float:
    return quantiles(times, n=20)[-1]

"""Parts are found while typing: at 20,000 parts in little more than one plain look at every row."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from random import Random
from time import process_time

from shopdesk.job.parts.find import find_parts
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier
from shopdesk.job.shift import Shift
from shopdesk.text import fold, letters_and_digits
from tests.job.workshop import Clock, open_shop

PARTS, OFFERS, ROUNDS, MOST = 20_000, 40_000, 15, 4.0
NAMES = ("fuel filter", "fuel line", "spark plug", "primer bulb", "air filter", "starter rope")
TYPED = ("f", "fuel", "fuel li", "n-1234", "filter 199", "xx 00-12", "nothing of the kind")
EVERY_ROW = """SELECT count(*) FROM part WHERE folded_name LIKE '%~%' OR folded_number LIKE '%~%'
    OR id IN (SELECT part_id FROM offer WHERE folded_number LIKE '%~%')"""


def fill(shift: Shift) -> None:
    """Put the parts and offers in behind the journal's back: it is reading that is measured."""
    random = Random(20)
    add_supplier(shift, SupplierEntry("Northbank Parts"))
    numbers = [f"XX {place:05d}/{random.randint(1, 99)}" for place in range(PARTS)]
    names = [f"{random.choice(NAMES)} {place}" for place in range(PARTS)]
    parts = [
        (number, letters_and_digits(number), name, fold(name))
        for number, name in zip(numbers, names, strict=True)
    ]
    offers = [(random.randint(1, PARTS), f"N-{place}", f"n{place}") for place in range(OFFERS)]
    with shift.records.writing():
        cursor = shift.records.engine.cursor()
        cursor.executemany(
            """INSERT INTO part (version, number, folded_number, name, folded_name, condition, bin,
            quantity, notes, active) VALUES (1, ?, ?, ?, ?, 'new', '', 0, '', 1)""",
            parts,
        )
        cursor.executemany(
            """INSERT INTO offer (version, supplier_id, part_id, supplier_number, folded_number,
            pack, cost, asked_at) VALUES (1, 1, ?, ?, ?, 1000, 250, '2031-04-07 10:00:00')""",
            offers,
        )


def seconds(call: Callable[[], object]) -> float:
    """Processor time: what else runs on the machine does not count."""
    start = process_time()
    call()
    return process_time() - start


def test_finding_parts_against_one_look_at_every_row(tmp_path: Path) -> None:
    shift = open_shop(tmp_path, Clock())
    fill(shift)
    assert len(find_parts(shift, "spark plug")) == 200

    def look() -> None:
        with shift.records.reading():
            shift.records.engine.execute_sql(EVERY_ROW).fetchall()

    floor = min(seconds(look) for _ in range(ROUNDS))
    for words in TYPED:
        find = partial(find_parts, shift, words, most=10)
        ours = min(seconds(find) for _ in range(ROUNDS))
        print(f"\n“{words}” {ours * 1e3:.1f} ms, every row {floor * 1e3:.1f} ms", end="")
        assert ours / floor <= MOST
    shift.records.close()

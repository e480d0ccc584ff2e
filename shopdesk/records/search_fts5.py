"""The search index as SQLite keeps it: an FTS5 table over the words of each thing.

The words are folded and cut in Python, one space between two, and the ``ascii`` tokenizer cuts them
nowhere else: so what is put in and what is looked for agree in every script. A document's id tells
its place: the greater, the sooner it is shown, and open tickets have the greatest.
"""

import json
import sqlite3
from collections.abc import Collection, Iterable

from peewee import DatabaseError, OperationalError

from shopdesk.records.fetch import answers
from shopdesk.records.found_by import UNIT, Document, Thing
from shopdesk.records.search_words import Asked, Term, of_letters, only
from shopdesk.records.tables import database

MOST_MACHINES = 500
"""So many machines, those seen last, are looked through for their closed tickets."""
_TABLES = ("search_index", "search_document", "search_word")
_MADE_OF = (
    """CREATE TABLE search_document (
        id INTEGER PRIMARY KEY, kind TEXT NOT NULL, about INTEGER NOT NULL, words TEXT NOT NULL)""",
    "CREATE UNIQUE INDEX search_document_thing ON search_document (kind, about)",
    """CREATE VIRTUAL TABLE search_index USING fts5(
        words, content = 'search_document', content_rowid = 'id', detail = none, columnsize = 0,
        prefix = '1 2 3 4', tokenize = "ascii tokenchars '_'")""",
    "CREATE TABLE search_word (word TEXT PRIMARY KEY NOT NULL) WITHOUT ROWID",
)
_FIRST_OPEN = 1 << 40
_LONGEST_INDEXED = 4
"""Beginnings up to so many letters have an index of their own, see ``prefix`` above."""
_MOST_SPELLED_OUT = 64
_NEWEST = """
    SELECT d.kind, d.about, d.id
    FROM search_index JOIN search_document d ON d.id = search_index.rowid
    WHERE search_index MATCH ? ORDER BY search_index.rowid DESC LIMIT ?"""
_PAST = """
    SELECT d.kind, d.about
    FROM (SELECT rowid FROM search_index WHERE search_index MATCH ? ORDER BY rowid DESC LIMIT ?) m
    CROSS JOIN search_document u ON u.id = m.rowid
    CROSS JOIN ticket t ON t.unit_id = u.about
    CROSS JOIN search_document d ON d.kind = 'ticket' AND d.about = t.id
    WHERE d.id < ? AND ~ ORDER BY d.id DESC LIMIT ?"""
_HAS = "(' ' || d.words || ' ') LIKE ?"
_PUT_DOCUMENT = "INSERT INTO search_document (id, kind, about, words) VALUES (?, ?, ?, ?)"
_PUT_INDEX = "INSERT INTO search_index (rowid, words) VALUES (?, ?)"
_PUT_WORD = "INSERT OR IGNORE INTO search_word (word) SELECT value FROM json_each(?)"
_TAKE_OUT = "INSERT INTO search_index (search_index, rowid, words) VALUES ('delete', ?, ?)"
_COMMAND = "INSERT INTO search_index (search_index) VALUES (?)"
_KEPT = "SELECT id, words FROM search_document WHERE kind = ? AND about = ?"
_LAST = f"SELECT max(id) FROM search_document WHERE id < {_FIRST_OPEN}"
_LAST_OPEN = f"SELECT max(id) FROM search_document WHERE id >= {_FIRST_OPEN}"
_PROVE = "INSERT INTO search_index (search_index, rank) VALUES ('integrity-check', 1)"
_OCCURS = "SELECT 1 FROM search_index WHERE search_index MATCH ? LIMIT 1"
_BEGINNING = """
    SELECT w.word FROM json_each(?) v
    CROSS JOIN search_word w ON w.word >= v.value AND w.word < v.value || char(1114111)
    ORDER BY w.word <> v.value, length(w.word), w.word LIMIT ?"""
_HOLDING = """
    SELECT word FROM search_word WHERE instr(word, ?) ORDER BY length(word), word LIMIT ?"""


def layout() -> int:
    """Return the number that ``make`` was last given, 0 where there is no index."""
    return int(answers("PRAGMA user_version")[0][0])


def make(number: int) -> None:
    """Make an empty index, in place of any that is there, and keep the layout's number."""
    for table in _TABLES:
        database.execute_sql(f"DROP TABLE IF EXISTS {table}")
    for statement in _MADE_OF:
        database.execute_sql(statement)
    database.execute_sql(f"PRAGMA user_version = {number:d}")


def put_many(found: Iterable[tuple[Thing, Document]], words: set[str]) -> None:
    """Put in things that are not there yet, each after those before it; collect their words."""
    ends = {is_open: _next_id(is_open) for is_open in (False, True)}
    rows = []
    for thing, document in found:
        rows.append((ends[document.is_open], *thing, document.words))
        ends[document.is_open] += 1
        words |= of_letters(document.words.split())
    cursor: sqlite3.Cursor = database.cursor()
    cursor.executemany(_PUT_DOCUMENT, rows)
    cursor.executemany(_PUT_INDEX, [(row[0], row[3]) for row in rows])


def put_words(words: Collection[str]) -> None:
    """Keep words that occur."""
    database.execute_sql(_PUT_WORD, (json.dumps(sorted(words)),))


def kept(thing: Thing) -> tuple[int, Document] | None:
    """Return a thing's place, and what it is found by."""
    for place, words in answers(_KEPT, *thing):
        return place, Document(place >= _FIRST_OPEN, words)
    return None


def put(thing: Thing, document: Document) -> None:
    """Put in a thing that is not there, in front of the others."""
    place = _next_id(document.is_open)
    database.execute_sql(_PUT_DOCUMENT, (place, *thing, document.words))
    database.execute_sql(_PUT_INDEX, (place, document.words))


def put_again(place: int, document: Document, old: Document) -> None:
    """Put other words in at a place."""
    database.execute_sql(_TAKE_OUT, (place, old.words))
    database.execute_sql(
        "UPDATE search_document SET words = ? WHERE id = ?", (document.words, place)
    )
    database.execute_sql(_PUT_INDEX, (place, document.words))


def take_out(place: int, old: Document) -> None:
    """Take out what stands at a place."""
    database.execute_sql(_TAKE_OUT, (place, old.words))
    database.execute_sql("DELETE FROM search_document WHERE id = ?", (place,))


def forget_words(words: Iterable[str]) -> None:
    """Forget those of the words that nothing is found by any more."""
    for word in words:
        if not answers(_OCCURS, _term(Term(word, begins=False))):
            database.execute_sql("DELETE FROM search_word WHERE word = ?", (word,))


def newest(asked: Asked, most: int) -> list[tuple[Thing, bool]]:
    """Return at most ``most`` things that have what is asked for, and whether each is open."""
    whole = spelled_out(asked)
    rows = answers(_NEWEST, expression(whole), most) if all(whole) else []
    return [(Thing(kind, about), place >= _FIRST_OPEN) for kind, about, place in rows]


def newest_past(of_machine: Asked, of_ticket: Asked, most: int) -> list[Thing]:
    """Return closed tickets that have the one themselves, and the other by machine or owner."""
    likes = [[_like(term) for term in group] for group in of_ticket]
    has = " AND ".join(f"({' OR '.join([_HAS] * len(group))})" for group in likes)
    values = [like for group in likes for like in group]
    asked = spelled_out(only(UNIT, of_machine))
    if not all(asked):
        return []
    limits = (MOST_MACHINES, _FIRST_OPEN)
    rows = answers(_PAST.replace("~", has), expression(asked), *limits, *values, most)
    return [Thing(*row) for row in rows]


def words_beginning(beginnings: Collection[str], most: int) -> list[str]:
    """Return words that occur and begin so, whole ones first."""
    found = answers(_BEGINNING, json.dumps(sorted(beginnings)), most)
    return list(dict.fromkeys(word for (word,) in found))


def words_holding(part: str, most: int) -> list[str]:
    """Return words that occur and hold ``part``, the shortest first."""
    return [word for (word,) in answers(_HOLDING, part, most)]


def how_many_kept() -> int:
    """Return how many things are in the index."""
    return int(answers("SELECT count(*) FROM search_document")[0][0])


def is_whole() -> bool:
    """Whether the index agrees with the documents that it was made of."""
    try:
        database.execute_sql(_PROVE)
    except OperationalError:
        raise
    except DatabaseError:
        return False
    return True


def tidy() -> None:
    """Put the index together: it is looked through faster so, and keeps no word taken out."""
    database.execute_sql(_COMMAND, ("optimize",))


def _next_id(is_open: bool) -> int:
    """Return the place in front of the others that are open, or that are not."""
    (last,) = answers(_LAST_OPEN if is_open else _LAST)[0]
    return (last or (_FIRST_OPEN if is_open else 0)) + 1


def spelled_out(asked: Asked) -> Asked:
    """Return the same with long beginnings replaced by the words that occur and begin so.

    FTS5 reads all of what a beginning without an index of its own matches before it answers; of
    whole words it reads no more than it shows.
    """
    return tuple(
        tuple(spelled for term in group for spelled in _all_spellings(term)) for group in asked
    )


def _all_spellings(term: Term) -> list[Term]:
    if not term.begins or len(term.word) <= _LONGEST_INDEXED or not term.word.isalpha():
        return [term]
    words = words_beginning([term.word], _MOST_SPELLED_OUT + 1)
    return [term] if len(words) > _MOST_SPELLED_OUT else [Term(word, False) for word in words]


def expression(asked: Asked) -> str:
    """Return what is asked for in FTS5's own words; a term is always quoted."""
    return " AND ".join(f"({' OR '.join(map(_term, group))})" for group in asked)


def _term(term: Term) -> str:
    return f'"{term.word}"{"*" if term.begins else ""}'


def _like(term: Term) -> str:
    return f"% {term.word}%" if term.begins else f"% {term.word} %"

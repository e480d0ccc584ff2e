"""Where columns go: by their headings, by what stands below, and by hand."""

import pytest

from shopdesk.errors import JobError
from shopdesk.job.importing.fields import PLACES, phone_label, place_of
from shopdesk.job.importing.listing import listing_of
from shopdesk.job.importing.machine_words import engine_said, kind_said, usual_engine
from shopdesk.job.importing.matching import Matched, changed, guess, match_for, matched_by_hand
from shopdesk.job.importing.text_in import ReadText


def places(text: str) -> list[str]:
    return [one.place for one in guess(listing_of("x.csv", ReadText(text, "UTF-8")))[1]]


@pytest.mark.parametrize(
    ("heading", "place"),
    [
        ("Customer Name", "name"),
        ("LAST_NAME", "last_name"),
        ("Phone 2", "phones"),
        ("workPhone", "phones"),
        ("E-Mail Address", "email"),
        ("Street:", "street"),
        ("ZIP Code", "postcode"),
        ("Serial No.", "serial"),
        ("S/N", "serial"),
        ("Equipment Type", "kind"),
        ("Balance", ""),
        ("", ""),
    ],
)
def test_headings(heading: str, place: str) -> None:
    assert place_of(heading) == place


def test_no_heading_means_two_places() -> None:
    heads = [head for place in PLACES for head in place.heads]
    assert len(heads) == len(set(heads))


@pytest.mark.parametrize(
    ("heading", "label"),
    [("Work phone 2", "work"), ("Phone", ""), ("owner_phones", ""), ("Mobile", "mobile")],
)
def test_the_label_of_a_phone_column(heading: str, label: str) -> None:
    assert phone_label(heading) == label


def test_by_what_stands_below() -> None:
    text = "A,B,C,D\nmara@example.com,chainsaw,2-stroke,555-014-2233\n"
    assert places(text) == ["email", "kind", "engine", "phones"]


def test_a_place_is_taken_once_but_phones_are_many() -> None:
    assert places("Name,Client,Phone,Mobile\na,b,1,2\n") == ["name", "", "phones", "phones"]


def test_the_id_in_a_list_of_machines_is_the_machines_own() -> None:
    assert places("id,owner_id,kind\n1,7,chain saw\n") == ["", "ref", "kind"]
    assert places("id,name\n1,Mara\n") == ["ref", "name"]


def test_by_hand() -> None:
    listing, matches = guess(
        listing_of("x.csv", ReadText("Name,Colour,Handy\nMara,red,555-0142\n", "UTF-8"))
    )
    found = matched_by_hand(listing, matches, ["colour=notes", "Handy="])
    assert [one.place for one in found] == ["name", "notes", ""]
    with pytest.raises(JobError, match=r"names no column of x\.csv"):
        matched_by_hand(listing, matches, ["Size=notes"])
    with pytest.raises(JobError, match="There is no place “colour”"):
        matched_by_hand(listing, matches, ["Colour=colour"])


def test_a_place_moves_from_one_column_to_another() -> None:
    matches = (Matched("name"), Matched(), Matched("phones"))
    assert changed(matches, 1, match_for("name", "B"))[:2] == (Matched(), Matched("name"))
    assert [one.place for one in changed(matches, 1, match_for("phones", "B"))] == [
        *("name", "phones", "phones")
    ]


@pytest.mark.parametrize(
    ("words", "engine"),
    [
        *(("2-Stroke", "two-stroke"), ("Two cycle", "two-stroke"), ("4T", "four-stroke")),
        *(("Battery", "cordless"), ("electric", "corded"), ("TB-22T", ""), ("steam", "")),
    ],
)
def test_engines(words: str, engine: str) -> None:
    assert engine_said(words) == engine


def test_kinds_and_their_usual_engine() -> None:
    assert kind_said("Chainsaw") == "chain saw"
    assert kind_said("Snow-Blower") == "snow thrower"
    assert kind_said("auger") == ""
    assert usual_engine("chain saw") == "two-stroke"
    assert usual_engine("auger") == ""

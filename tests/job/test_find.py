"""The one box that finds anything, and the owners suggested while a name is typed."""

from dataclasses import replace

import pytest

from shopdesk.errors import JobError
from shopdesk.job.customers import (
    CustomerEntry,
    add_customer,
    change_customer,
    insert_customer,
    suggest_owners,
)
from shopdesk.job.find import find_anything, find_machines, index_faults, make_index_anew
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import add_unit, hand_on
from shopdesk.job.views import Hit
from shopdesk.records.tables import Customer
from tests.job.workshop import (
    INTAKE,
    OTHER_OWNER,
    SAW,
    another,
    at_stage,
    everything,
    taken_in,
)


def titles(shift: Shift, words: str) -> list[str]:
    return [hit.title for hit in find_anything(shift, words)]


@pytest.fixture
def shop(shift: Shift) -> Shift:
    """Two owners with a machine each, and one ticket."""
    taken_in(shift, entry=replace(INTAKE, complaint="Überläuft, won't start 100%_sure"))
    owner = add_customer(shift, OTHER_OWNER)
    add_unit(shift, owner.id, SAW)
    return shift


@pytest.mark.parametrize("words", ["0142", "142", "555-0142", "(555) 0142", "５５５０１４２"])
def test_a_phone_is_found_by_its_last_digits(shop: Shift, words: str) -> None:
    open_ticket, owner = find_anything(shop, words)
    assert open_ticket.title == "T1001  Mara Quill"
    assert (owner.title, owner.detail) == ("Mara Quill", "555-0142 · 1 machine")


def test_two_digits_are_no_phone(shop: Shift) -> None:
    assert "Mara Quill" not in titles(shop, "42")


@pytest.mark.parametrize("words", ["łukasz", "LUKASZ", "bright luk", "Brightwater, "[:-2], "ukas"])
def test_a_name_is_found_without_its_accents(shop: Shift, words: str) -> None:
    assert titles(shop, words)[0] == "Łukasz Brightwater"


@pytest.mark.parametrize("words", ["OS/40/77", "os4077", "os-40-77", "4077", "os 40 77"])
def test_a_serial_is_found_with_any_dashes(shop: Shift, words: str) -> None:
    hit = find_anything(shop, words)[0]
    assert (hit.title, hit.detail) == (
        "Chain saw, Osmarrow OS 40",
        "Łukasz Brightwater · serial OS/40/77",
    )


@pytest.mark.parametrize("words", ["tarnbeck", "TB-26", "tarnbeck trimmer", "string  TB-26"])
def test_a_machine_is_found_by_make_model_and_kind(shop: Shift, words: str) -> None:
    assert "String trimmer, Tarnbeck TB-26" in titles(shop, words)


@pytest.mark.parametrize("words", ["1001", "T1001", "t1001", " T 1001 "])
def test_a_tag_is_found_with_or_without_its_letter(shop: Shift, words: str) -> None:
    hit = find_anything(shop, words)[0]
    assert (hit.title, hit.ticket_id) == ("T1001  Mara Quill", 1)
    assert hit.detail.startswith("String trimmer, Tarnbeck TB-26 · Intake · Überläuft")


@pytest.mark.parametrize(
    "words", ["uberlauft", "ÜBERLÄUFT", "won’t start", "start won't", "wont st", "100% su"]
)
def test_a_complaint_is_found_by_its_words(shop: Shift, words: str) -> None:
    assert titles(shop, words) == ["T1001  Mara Quill"]


@pytest.mark.parametrize("words", ["%", "_", "\\", "'", '"', "*", "100%sure", "q%l", "--"])
def test_what_means_something_to_a_database_is_only_text(shop: Shift, words: str) -> None:
    for hit in find_anything(shop, words):
        assert hit.ticket_id or hit.unit_id
        assert words == "100%sure" or hit.ticket_id is None


@pytest.mark.parametrize("words", ["%", "_", '"*', "NOT", "quill OR", "(", "words : quill", "-"])
def test_what_a_search_would_take_for_an_order_is_only_text(shop: Shift, words: str) -> None:
    assert find_anything(shop, words) == ()
    assert suggest_owners(shop, words) == ()


@pytest.mark.parametrize("words", ["", "   ", "\n\t", "\u200b", "\x00"])
def test_nothing_typed_finds_nothing(shop: Shift, words: str) -> None:
    assert find_anything(shop, words) == ()
    assert suggest_owners(shop, words) == ()


@pytest.mark.parametrize(
    "words",
    ["nobody", "\ud800\udfff\ud800", "a\x00b\x07", "9" * 5_000, "word " * 3_000, "x" * 100_000],
)
def test_odd_words_find_nothing_and_break_nothing(shop: Shift, words: str) -> None:
    before = everything(shop)
    assert find_anything(shop, words) == ()
    assert suggest_owners(shop, words) == ()
    assert everything(shop) == before


def test_one_thing_is_found_once(shift: Shift) -> None:
    taken_in(shift, entry=replace(INTAKE, complaint="came back, was 1001"))
    hits = find_anything(shift, "1001")
    assert len(hits) == len(set(hits)) == 1


def test_hits_come_newest_first_and_no_more_than_asked(shift: Shift) -> None:
    closed = at_stage(shift, Stage.CLOSED)
    for number in range(5):
        another(shift, number)
    hits = find_anything(shift, "squeeze", most=4)
    assert [hit.title for hit in hits] == [
        *("T1006  Owner 4", "T1005  Owner 3"),
        *("T1004  Owner 2", "T1003  Owner 1"),
    ]
    assert find_anything(shift, "squeeze")[-1].ticket_id == closed.id


def test_each_hit_names_one_thing(shop: Shift) -> None:
    def named(hit: Hit) -> int:
        return sum(one is not None for one in (hit.ticket_id, hit.unit_id, hit.customer_id))

    for words in ("1001", "quill", "os 40", "start"):
        assert [named(hit) for hit in find_anything(shop, words)] != []
        assert all(named(hit) == 1 for hit in find_anything(shop, words))


def test_owners_are_suggested_by_the_beginnings_of_names_or_the_end_of_a_phone(
    shop: Shift,
) -> None:
    assert [owner.name for owner in suggest_owners(shop, "qui m")] == ["Mara Quill"]
    assert [owner.name for owner in suggest_owners(shop, "luk")] == ["Łukasz Brightwater"]
    assert [owner.name for owner in suggest_owners(shop, "0155")] == ["Łukasz Brightwater"]
    assert len(suggest_owners(shop, "555", most=1)) <= 1


@pytest.mark.parametrize("words", ["quill", "mara", "142", "trimmer", "TB26-004417", "4417", "26"])
def test_an_open_ticket_is_found_first_by_its_owner_and_its_machine(
    shop: Shift, words: str
) -> None:
    assert titles(shop, words)[0] == "T1001  Mara Quill"


def test_a_closed_ticket_is_found_by_its_own_words_and_after_the_open_ones(shift: Shift) -> None:
    at_stage(shift, Stage.CLOSED)
    assert titles(shift, "squeeze") == ["T1001  Mara Quill"]
    assert titles(shift, "quill")[0] == "Mara Quill"
    another(shift, 1)
    assert titles(shift, "squeeze") == ["T1002  Owner 1", "T1001  Mara Quill"]


@pytest.mark.parametrize("words", ["quill squeeze", "squeeze trimmer", "mara tarnbeck trigger"])
def test_a_closed_ticket_is_found_by_its_words_with_its_owners_or_machines(
    shift: Shift, words: str
) -> None:
    at_stage(shift, Stage.CLOSED)
    assert titles(shift, words) == ["T1001  Mara Quill"]


def test_a_machine_is_found_by_its_owner_too(shop: Shift) -> None:
    assert titles(shop, "brightwater osmarrow") == ["Chain saw, Osmarrow OS 40"]


def test_an_owner_of_just_that_name_comes_before_longer_names(shift: Shift) -> None:
    for name in ("Jo Li", "Ann Lindal", "Bo Lister"):
        add_customer(shift, CustomerEntry(name))
    assert titles(shift, "li") == ["Jo Li", "Bo Lister", "Ann Lindal"]


def test_who_was_here_last_comes_first(shift: Shift) -> None:
    another(shift, 1)
    another(shift, 2)
    add_customer(shift, CustomerEntry("Owner 3"))
    assert [hit for hit in titles(shift, "owner") if hit.startswith("Owner")] == [
        *("Owner 3", "Owner 2", "Owner 1"),
    ]
    taken_in(shift, suggest_owners(shift, "owner 2")[0].id, SAW)
    assert [hit for hit in titles(shift, "owner") if hit.startswith("Owner")] == [
        *("Owner 2", "Owner 3", "Owner 1"),
    ]


@pytest.mark.parametrize(
    "words", ["qiull", "quil", "quilll", "wuill", "mraa", "maar quill", "uill", "qulil"]
)
def test_a_slip_in_a_word_is_forgiven(shop: Shift, words: str) -> None:
    assert "Mara Quill" in titles(shop, words)
    assert [owner.name for owner in suggest_owners(shop, words)] == ["Mara Quill"]


@pytest.mark.parametrize("words", ["brihgtwater", "lukazs", "łukazs bright", "brightwatre lukas"])
def test_a_slip_beside_accents_is_forgiven(shop: Shift, words: str) -> None:
    assert "Łukasz Brightwater" in titles(shop, words)


@pytest.mark.parametrize("words", ["qlul", "mxa", "quixxl", "0143", "tb27"])
def test_two_slips_or_another_number_are_not_forgiven(shop: Shift, words: str) -> None:
    assert titles(shop, words) == []


def test_nothing_is_guessed_where_something_is_found(shop: Shift) -> None:
    add_customer(shop, CustomerEntry("Mara Quil"))
    add_customer(shop, CustomerEntry("Mara Quick"))
    assert [hit.title for hit in find_anything(shop, "quick")] == ["Mara Quick"]


def test_a_new_name_and_a_new_phone_are_found_and_the_old_ones_not(shop: Shift) -> None:
    owner = suggest_owners(shop, "quill")[0]
    change_customer(shop, owner.id, CustomerEntry("Mara Thornfield", ("(303) 555-0177",)))
    assert titles(shop, "quill") == titles(shop, "0142") == []
    for words in ("thornfield", "0177", "3035550177", "303 555"):
        assert titles(shop, words)[0] == "T1001  Mara Thornfield"
        assert "Mara Thornfield" in titles(shop, words)


def test_a_machine_sold_on_is_found_by_its_new_owner(shop: Shift) -> None:
    saw = next(hit for hit in find_anything(shop, "osmarrow") if hit.unit_id)
    mara = suggest_owners(shop, "quill")[0]
    hand_on(shop, saw.unit_id or 0, mara.id)
    assert "Chain saw, Osmarrow OS 40" in titles(shop, "quill chain")
    assert titles(shop, "brightwater chain") == []


def test_the_index_is_as_the_rows_say_and_can_be_made_anew(shop: Shift) -> None:
    another(shop, 1, replace(INTAKE, complaint="Smokes"))
    assert index_faults(shop) == ()
    before = {words: find_anything(shop, words) for words in ("s", "quill", "1001", "smokes")}
    told: list[tuple[int, int]] = []
    make_index_anew(shop, lambda *so_far: told.append(so_far))
    assert told[-1] == (8, 8)
    assert index_faults(shop) == ()
    assert {words: find_anything(shop, words) for words in before} == before


def test_what_was_changed_past_the_job_is_told_and_mended(shop: Shift) -> None:
    with shop.records.writing():
        Customer.update(name="Somebody Else").where(Customer.id == 1).execute()
    assert index_faults(shop) == ("3 things can’t be found by the right words",)
    make_index_anew(shop)
    assert index_faults(shop) == ()
    assert titles(shop, "somebody")[0] == "T1001  Somebody Else"


def _both(change: Change, *entries: CustomerEntry) -> None:
    for entry in entries:
        insert_customer(change, entry)


def test_what_is_undone_is_not_found(shop: Shift) -> None:
    known = CustomerEntry("Ida Marsh", ("555-0142",))
    with pytest.raises(JobError), shop.changing() as change:
        _both(change, CustomerEntry("Petra Ashmere"), known)
    assert titles(shop, "ashmere") == []
    assert index_faults(shop) == ()


@pytest.mark.parametrize("serial", ["OS/40", "os40", "40/77", "4077", "os-40-77"])
def test_a_machine_is_found_by_either_end_of_its_serial(shop: Shift, serial: str) -> None:
    assert [hit.title for hit in find_machines(shop, serial)] == ["Chain saw, Osmarrow OS 40"]

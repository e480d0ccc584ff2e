"""The letter about all machines of an owner that upkeep falls due on."""

from dataclasses import replace

import pytest

from shopdesk.job.due_content import UpkeepMessage
from shopdesk.papers.upkeep_letter import draw_upkeep_letter
from tests.papers.reading import page_texts, text_of
from tests.papers.samples import SHOP_A4, WORDS
from tests.papers.upkeep_samples import AGAIN, ONE, THREE


@pytest.mark.parametrize(
    ("content", "items"),
    [
        (
            ONE,
            [
                "Upkeep that falls due",
                "Dear Zoë Łukaszewicz-Đặng,",
                "Upkeep for your string trimmer, Tarnbeck TB-26 falls due about Wed 1 Mar 2028",
                "Here is what it needs",
                "You can do these yourself",
                "Better left to us",
                "Each time you use it Look at the line head",
                "Caution: Fuel only when the engine is off",
                "local codes and licensed practice come first",
                "Call 555-0142 to bring it in",
                "A word to 555-0142, and we put it right",
            ],
        ),
        (
            THREE,
            [
                "your string trimmer, Tarnbeck TB-26; chain saw, Osmarrow OS 40 and push mower,",
                "Here is what each of them needs",
                "In the week of Mon 6 Mar 2028 we have room on the bench",
                "Serial number OS/40/77",
                "Sharpen the chain",
                "Caution: Wear gloves when you handle the chain",
            ],
        ),
        (AGAIN, ["a friendly second word", "Some weeks ago we wrote to you"]),
    ],
    ids=["one", "three", "again"],
)
def test_the_letter_says(content: UpkeepMessage, items: list[str]) -> None:
    text = text_of(draw_upkeep_letter(content, WORDS))
    for item in items:
        assert item in text


def test_one_machine_is_not_named_over_its_own_list() -> None:
    text = text_of(draw_upkeep_letter(ONE, WORDS))
    assert "Serial number" not in text
    assert "week of" not in text


@pytest.mark.parametrize("paper", ["letter", "A4"])
@pytest.mark.parametrize("before", range(0, 6))
def test_a_machines_name_does_not_stand_alone_at_the_foot(paper: str, before: int) -> None:
    rows = THREE.machines[0].rows
    filled = replace(THREE.machines[0], rows=rows + rows[:1] * before)
    machines = (filled, *THREE.machines[1:])
    content = replace(THREE, shop=replace(SHOP_A4, paper=paper), machines=machines)
    for text in page_texts(draw_upkeep_letter(content, WORDS)):
        for name in ("Serial number OS/40/77", "Serial number TM46-77"):
            if name in text:
                assert text.partition(name)[2].strip().startswith("You can do these yourself Thu")

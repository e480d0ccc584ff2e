"""The table of useful life: what it refuses, and a spoilt file."""

from pathlib import Path

import pytest

from shopdesk.places import shared_folder
from shopdesk.upkeep.tasks import UpkeepDataError
from shopdesk.upkeep.useful_life import EngineClass, UseCategory, load_useful_life


def test_a_category_of_another_class_is_refused_naming_the_right_ones() -> None:
    table = load_useful_life(shared_folder())
    with pytest.raises(ValueError, match="choose one of: light, medium, heavy"):
        table.useful_life(EngineClass.HANDHELD, UseCategory.COMMERCIAL)
    with pytest.raises(ValueError, match="choose one of: residential, extended, commercial"):
        table.useful_life(EngineClass.CLASS_1, UseCategory.LIGHT)


@pytest.mark.parametrize(
    "text",
    [
        "years = 5\n",
        'years = 5\nsource = "x"\nhandheld = 1\n',
        'years = 5\nsource = "x"\n[handheld]\nsometimes = 50\n[class-1]\n[class-2]\n',
        'years = 5\nsource = "x"\n[handheld]\nlight = "long"\n[class-1]\n[class-2]\n',
        "years = \n",
    ],
)
def test_a_spoilt_table_names_its_file(tmp_path: Path, text: str) -> None:
    (tmp_path / "useful_life.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UpkeepDataError, match=r"useful_life\.toml"):
        load_useful_life(tmp_path)

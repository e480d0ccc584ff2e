"""A Python that is too old is told so, by code that it can read."""

import ast

import pytest

from shopdesk import bootstrap
from tests.setup.trial_project import ROOT


@pytest.mark.parametrize("name", ["__init__.py", "__main__.py", "bootstrap/__init__.py"])
def test_an_old_python_can_read_the_way_in(name: str) -> None:
    source = (ROOT / "shopdesk" / name).read_text(encoding="utf-8")
    assert ast.parse(source, feature_version=(3, 4)).body


def test_an_old_python_can_read_the_way_into_the_tests() -> None:
    source = (ROOT / "tests/__main__.py").read_text(encoding="utf-8")
    assert ast.parse(source, feature_version=(3, 4)).body


@pytest.mark.parametrize("version", [(3, 4, 10), (3, 6, 15), (3, 10, 13)])
def test_too_old(version: tuple[int, ...]) -> None:
    sentence = bootstrap.too_old(version)
    assert sentence.startswith("shopdesk needs Python 3.11 or newer, and this is 3.")
    assert ".".join(map(str, version)) in sentence


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 1), (4, 0, 0)])
def test_new_enough(version: tuple[int, ...]) -> None:
    assert bootstrap.too_old(version) == ""

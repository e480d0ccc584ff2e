"""shopdesk finds its own files and the shop's records."""

from pathlib import Path

import pytest

from shopdesk import places
from tests.setup.trial_project import ROOT


def test_its_own_files_in_a_checkout() -> None:
    assert places.shared_folder() == ROOT / "shared"
    assert places.templates_folder() == ROOT / "templates"
    assert places.demo_folder() == ROOT / "demo_db"


def test_the_records_go_into_the_user_s_own_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SHOPDESK_DATA")
    assert places.data_folder().name == "shopdesk"
    assert places.records_file() == places.data_folder() / "shop.db"
    assert not places.data_folder().exists()


def test_another_folder_may_be_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHOPDESK_DATA", str(tmp_path / "shop"))
    assert places.records_file() == tmp_path / "shop/shop.db"
    monkeypatch.setenv("SHOPDESK_DATA", "shop")
    monkeypatch.chdir(tmp_path)
    assert places.data_folder() == tmp_path / "shop"
    monkeypatch.setenv("SHOPDESK_DATA", "~/shop")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert places.data_folder() == tmp_path / "shop"

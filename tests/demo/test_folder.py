"""The demo's folder: made anew or made over, and nothing of anybody's is ever touched."""

from pathlib import Path

import pytest

from shopdesk import places
from shopdesk.demo.folder import PAPERS, RECORDS, SIGN, claim_folder, usual_folder
from shopdesk.errors import JobError


def test_a_new_folder_is_made_and_signed(tmp_path: Path) -> None:
    folder = claim_folder(tmp_path / "deep" / "demo")
    assert [path.name for path in folder.iterdir()] == [SIGN]
    assert "invented" in (folder / SIGN).read_text(encoding="utf-8")


def test_an_empty_folder_will_do(tmp_path: Path) -> None:
    assert claim_folder(tmp_path) == tmp_path


def test_an_earlier_demo_is_made_over_and_a_stranger_in_it_stays(tmp_path: Path) -> None:
    claim_folder(tmp_path)
    (tmp_path / RECORDS).write_text("old")
    (tmp_path / PAPERS).mkdir()
    (tmp_path / PAPERS / "old.pdf").write_text("old")
    (tmp_path / "mine.txt").write_text("mine")
    claim_folder(tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {SIGN, "mine.txt"}


def test_a_folder_of_something_else_is_refused_untouched(tmp_path: Path) -> None:
    (tmp_path / RECORDS).write_text("a real shop")
    with pytest.raises(
        JobError, match="is no demo, and is left alone: name a new or an empty folder"
    ) as error:
        claim_folder(tmp_path)
    assert error.value.field == "folder"
    assert (tmp_path / RECORDS).read_text() == "a real shop"
    assert not (tmp_path / SIGN).exists()


def test_a_sign_with_other_words_is_no_sign(tmp_path: Path) -> None:
    (tmp_path / SIGN).write_text("my notes")
    with pytest.raises(JobError, match="left alone"):
        claim_folder(tmp_path)
    assert (tmp_path / SIGN).read_text() == "my notes"


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(JobError, match="is a file: name a folder"):
        claim_folder(tmp_path / "file")


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(JobError, match=r"can't be written into .*demo \(Not a directory\)"):
        claim_folder(tmp_path / "file" / "demo")


def test_a_link_in_an_earlier_demo_is_not_followed(tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()
    (kept / "photo.jpg").write_text("mine")
    folder = claim_folder(tmp_path / "demo")
    (folder / PAPERS).symlink_to(kept)
    claim_folder(folder)
    assert (kept / "photo.jpg").exists()


def test_the_usual_folder_lies_in_the_users_data() -> None:
    assert usual_folder() == places.data_folder() / "shopdesk-demo"

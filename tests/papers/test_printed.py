from pathlib import Path

import pytest

from shopdesk.papers.printed import Printed, save_paper

PRINTED = Printed(b"%PDF-1", 1, ())


def test_a_paper_is_written_whole_and_replaces_the_old(tmp_path: Path) -> None:
    folder = tmp_path / "papers" / "2027"
    first = save_paper(folder, "T1043 invoice", PRINTED)
    second = save_paper(folder, "T1043 invoice", Printed(b"%PDF-2", 1, ()))
    assert first == second == folder / "T1043 invoice.pdf"
    assert second.read_bytes() == b"%PDF-2"
    assert list(folder.iterdir()) == [second]


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("../../etc/passwd", "etc passwd.pdf"),
        ("C:\\x:y|z?", "C x y z.pdf"),
        ("Zoë Łuk\x00\n", "Zoe uk.pdf"),
        ("山", "paper.pdf"),
        ("..", "paper.pdf"),
        ("invoice.pdf", "invoice.pdf"),
        ("n" * 400, "n" * 100 + ".pdf"),
    ],
)
def test_a_name_never_leaves_the_folder(tmp_path: Path, name: str, file: str) -> None:
    assert save_paper(tmp_path, name, PRINTED) == tmp_path / file


def test_nothing_is_left_behind_when_it_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "tag.pdf").mkdir()
    with pytest.raises(OSError, match=r"tag\.pdf"):
        save_paper(tmp_path, "tag", PRINTED)
    assert [path.name for path in tmp_path.iterdir()] == ["tag.pdf"]

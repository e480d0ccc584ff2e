"""``shopdesk pictures``: what it is asked for is checked before a shop is built for it."""

import pytest

from shopdesk.cli import main


@pytest.mark.parametrize("size", ["10x10", "wide", "1280", "1280x", "99999x800"])
def test_a_size_that_no_window_has_is_refused(
    size: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["pictures", "somewhere", "--size", size])
    assert ended.value.code == 2
    assert "say it" in capsys.readouterr().err


def test_a_text_size_that_there_is_not_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["pictures", "somewhere", "--text", "400"])
    assert "150" in capsys.readouterr().err

from pathlib import Path

import pytest

from shopdesk.papers.invoice import draw_invoice
from shopdesk.papers.words import WordsError, load_words
from shopdesk.places import templates_folder
from tests.papers.reading import text_of
from tests.papers.samples import INVOICE


def own(folder: Path, name: str, text: str) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_the_shipped_sentences_are_whole() -> None:
    words = load_words(templates_folder())
    assert set(words.papers) == {file.stem for file in templates_folder().glob("*.toml")}
    assert all(words.papers.values())
    assert "placeholders" not in words.papers["invoice"]


def test_a_shops_own_sentence_wins_and_the_rest_stays(tmp_path: Path) -> None:
    folder = own(tmp_path / "own", "invoice.toml", '\ufefftitle = "Bill {number} of {shop}"\n')
    words = load_words(templates_folder(), folder)
    text = text_of(draw_invoice(INVOICE, words))
    assert "Bill 2027-0031 of Fernhollow Small Engines" in text
    assert "Balance due" in text


def test_an_empty_sentence_is_left_out(tmp_path: Path) -> None:
    folder = own(tmp_path, "invoice.toml", 'storage = ""\n')
    text = text_of(draw_invoice(INVOICE, load_words(templates_folder(), folder)))
    assert "Storage" not in text


def test_a_shop_without_a_folder_gets_the_shipped_sentences(tmp_path: Path) -> None:
    assert load_words(templates_folder(), tmp_path / "none").papers == (
        load_words(templates_folder()).papers
    )


def test_a_shop_may_add_trade_words(tmp_path: Path) -> None:
    folder = own(tmp_path, "terms.toml", '"reed valve" = "a flap that lets mixture in."\n')
    assert load_words(templates_folder(), folder).terms()["reed valve"].startswith("a flap")


def test_values_are_put_in_as_they_are(tmp_path: Path) -> None:
    say = load_words(templates_folder()).on("invoice", number="{shop} {{x}} %s")
    assert say("title") == "Invoice {shop} {{x}} %s"


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("invoice.toml", 'title = "Bill {nummer}"', r"“title” names \{nummer\}"),
        ("invoice.toml", 'title = "Bill {number.x}"', r"“title” has a brace"),
        ("invoice.toml", 'title = "Bill {0}"', r"“title” has a brace"),
        ("invoice.toml", 'title = "Bill {number"', r"“title” has a brace"),
        ("invoice.toml", "title = 7", r"“title” must be a sentence"),
        ("invoice.toml", f'title = "{"x" * 4001}"', r"“title” is over 4000"),
        ("invoice.toml", 'titel = "Bill"', r"no sentence “titel”"),
        ("invoice.toml", 'placeholders = "{secret}"', r"no sentence “placeholders”"),
        ("invoice.toml", 'title = "Bill', r"can't be read"),
        ("invoce.toml", 'title = "Bill"', r"belongs to no paper: name it like one of bench, c"),
        ("terms.toml", '"reed valve" = "{shop}"', r"names \{shop\}, which nothing fills"),
    ],
)
def test_a_broken_file_is_named_with_what_to_mend(
    tmp_path: Path, name: str, text: str, said: str
) -> None:
    with pytest.raises(WordsError, match=said) as caught:
        load_words(templates_folder(), own(tmp_path, name, text))
    assert str(tmp_path / name) in str(caught.value)


def test_a_file_in_another_encoding_is_named(tmp_path: Path) -> None:
    (tmp_path / "invoice.toml").write_bytes('title = "Fällig"'.encode("latin-1"))
    with pytest.raises(WordsError, match="can't be read"):
        load_words(templates_folder(), tmp_path)


def test_shipped_sentences_that_are_gone_are_said_to_be(tmp_path: Path) -> None:
    with pytest.raises(WordsError, match="install them anew"):
        load_words(tmp_path)

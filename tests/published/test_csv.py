"""CSV files against RFC 4180, OWASP's page on CSV injection and ASVS 5.0, requirement 1.2.10."""

import csv
from io import StringIO

import pytest

from shopdesk.job.csv_out import csv_bytes, csv_text


def test_rfc_4180_section_2() -> None:
    """Rules 1 to 7: CR LF, a head, as many fields in each line, quotes round what needs them."""
    text = csv_text(
        ["field_name", "field_name", "field_name"],
        [["aaa", "b \r\nbb", "ccc"], ["zzz", "y,y", "xxx"], ["aaa", 'b"bb', " ccc "]],
    )
    assert text == (
        "field_name,field_name,field_name\r\n"
        'aaa,"b \r\nbb",ccc\r\n'
        'zzz,"y,y",xxx\r\n'
        'aaa,"b""bb", ccc \r\n'
    )


@pytest.mark.parametrize(
    "first",
    [
        *("=", "+", "-", "@", "\t", "\r", "\n"),
        *("\N{FULLWIDTH EQUALS SIGN}", "\N{FULLWIDTH PLUS SIGN}"),
        *("\N{FULLWIDTH HYPHEN-MINUS}", "\N{FULLWIDTH COMMERCIAL AT}"),
        "\0",
    ],
)
def test_no_text_begins_like_a_formula(first: str) -> None:
    """owasp.org/www-community/attacks/CSV_Injection lists = + - @ TAB CR LF and the full-width
    signs; ASVS 5.0, 1.2.10, adds NUL and asks for an apostrophe before it.
    """
    (row,) = csv.reader(StringIO(csv_text([f"{first}HYPERLINK"], []), newline=""))
    assert row == [f"'{first}HYPERLINK"]


def test_rfc_3629_utf_8_with_a_mark() -> None:
    """RFC 4180, section 3, leaves the charset open; the byte order mark is RFC 3629, section 6."""
    assert csv_bytes(["Łukasz"], []) == b"\xef\xbb\xbf\xc5\x81ukasz\r\n"

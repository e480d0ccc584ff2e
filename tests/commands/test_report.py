"""``shopdesk report``: to read, for a spreadsheet, on paper, for another program."""

import csv
import json
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.cli import main
from shopdesk.job.reports.book import REPORTS
from tests.job.reports.season import season
from tests.job.workshop import Clock, open_shop

NAMES = [kept.name for kept in REPORTS]
SPRING = ("--from", "2025-01-01", "--to", "2025-04-07")


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The records of a shop with a season behind it."""
    clock = Clock()
    shift = open_shop(tmp_path_factory.mktemp("shop"), clock)
    season(shift, clock, jobs=12, year=2025)
    shift.records.close()
    return shift.records.file


@pytest.fixture
def run(
    records: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> "Run":
    return Run(records, capsys)


class Run:
    """Runs the command on those records."""

    def __init__(self, records: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self._records = records
        self._capsys = capsys

    def __call__(self, *arguments: str) -> tuple[int, str, str]:
        code = main(("report", *arguments, "--records", str(self._records)))
        said = self._capsys.readouterr()
        return code, said.out, said.err


def test_without_a_name_it_lists_them(run: Run) -> None:
    code, out, err = run()
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == NAMES


def test_without_a_name_the_list_is_for_another_program_too(run: Run) -> None:
    code, out, err = run("--json")
    assert (code, err) == (0, "")
    listed = json.loads(out)
    assert [one["report"] for one in listed] == NAMES
    assert set(listed[0]) == {"report", "title", "tells", "usual"}


@pytest.mark.parametrize("name", NAMES)
def test_each_can_be_read(run: Run, name: str) -> None:
    code, out, err = run(name, "--period", "last year")
    assert (code, err) == (0, "")
    assert re.match(r".+, .+\n", out)
    assert "Traceback" not in out


def test_to_read(run: Run) -> None:
    code, out, err = run("tax", *SPRING)
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "Tax, Wed 1 Jan 2025 to Mon 7 Apr 2025"
    assert lines[3] == "By rate"
    assert lines[4].split() == [
        *("Rate", "Invoiced", "before", "tax", "Credited", "before", "tax", "Net", "Tax"),
    ]
    assert "Sales tax 8%" in lines[5]
    assert len({len(line) for line in lines[4:9]}) == 1, "the columns stand under each other"


def test_for_a_spreadsheet(run: Run, tmp_path: Path) -> None:
    code, out, err = run("tax", *SPRING, "--csv", str(tmp_path / "tax.csv"))
    assert (code, err) == (0, "")
    files = [Path(line) for line in out.splitlines()]
    assert [file.name for file in files][:2] == ["tax.csv", "tax-by-month-and-rate.csv"]
    with files[0].open(encoding="utf-8-sig", newline="") as opened:
        rows = list(csv.DictReader(opened))
    assert rows[0]["Rate"] == "Sales tax 8%"


def test_on_paper(run: Run, tmp_path: Path) -> None:
    code, out, _ = run("income", *SPRING, "--pdf", str(tmp_path / "income.pdf"))
    assert code == 0
    (file,) = map(Path, out.splitlines())
    assert file == tmp_path / "income.pdf"
    assert "Month by month" in PdfReader(file).pages[0].extract_text()


def test_for_another_program(run: Run) -> None:
    code, out, _ = run("open-balances", "--json", "--period", "today")
    assert code == 0
    told = json.loads(out)
    assert told["report"] == "open-balances"
    assert [table["title"] for table in told["tables"]] == [
        *("By age", "Whom to call", "Owners' money that we hold"),
    ]


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("profit",), "There is no report “profit”: ask for one of day-close,"),
        (("--pdf", "/dev/null/x.pdf"), "Which report? Name one of day-close,"),
        (("--csv", "/dev/null/x.csv"), "Which report?"),
        (("--period", "last month"), "Which report?"),
        (("--json", "--from", "1 jan"), "Which report?"),
        (("tax", "--period", "someday"), "The period can't be “someday”"),
        (("tax", "--from", "smarch"), "“smarch” is not a date."),
        (("tax", "--to", "2026-01-01"), "Type from which day."),
        (("tax", "--period", "today", "--from", "1 jan"), "Give either --period, or --from"),
        (("tax", "--csv", "/dev/null/x.csv"), "can't be written"),
        (("tax", "--pdf", "/dev/null/x.pdf"), "can't be written"),
    ],
)
def test_what_cannot_be_done_is_said(run: Run, arguments: tuple[str, ...], sentence: str) -> None:
    code, out, err = run(*arguments)
    assert (code, out) == (1, "")
    assert sentence in err
    assert err.count("\n") == 1


def test_one_way_at_a_time(run: Run) -> None:
    with pytest.raises(SystemExit) as ended:
        run("tax", "--csv", "a.csv", "--json")
    assert ended.value.code == 2

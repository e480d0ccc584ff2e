"""Lists for the tests: written into a file, read, matched and tried."""

from dataclasses import replace
from pathlib import Path

from shopdesk.job.importing.entries import Wrong
from shopdesk.job.importing.keeping import Brought, bring_in
from shopdesk.job.importing.listing import read_list
from shopdesk.job.importing.plan import Plan, Will, Work, dry_run, prepared
from shopdesk.job.shift import Shift


def work_of(
    folder: Path,
    *texts: str,
    known: Will = Will.ADD,
    wrong: Wrong = Wrong.STOP,
    choices: dict[int, Will] | None = None,
) -> Work:
    """Return lists with these words, matched by guess."""
    files = [folder / f"list{number}.csv" for number in range(len(texts))]
    for file, text in zip(files, texts, strict=True):
        file.write_text(text, "utf-8")
    work = prepared(*map(read_list, files), known=known, wrong=wrong)
    return replace(work, choices=choices or {})


def tried(shift: Shift, work: Work) -> Plan:
    """Return the plan."""
    return dry_run(shift, work)


def kept(shift: Shift, work: Work) -> Brought:
    """Bring the lists in."""
    return bring_in(shift, work, dry_run(shift, work))

"""Pictures of the window, made in a process of their own: one root window to a process."""

import subprocess
import sys
from pathlib import Path

from PIL import Image

from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView

PROGRAM = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from shopdesk.desk.screenshots import Shot, make_screenshots
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
shift = Shift(open_records(Path(sys.argv[1]), datetime.now(UTC)))
for file in make_screenshots(shift, Path(sys.argv[2]), Shot(dark=True, text=125)):
    print(file)
"""
SOME = ("start", "intake", "diagnosis", "pickup", "options", "new-ticket", "settings", "owner")


def test_a_picture_is_made_of_every_page_sheet_and_card(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    made = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(shift.records.file), str(tmp_path / "pictures")],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    assert {str(tmp_path / "pictures" / f"{name}.png") for name in SOME} <= set(made)
    assert len(made) == len(set(made))
    for file in made:
        with Image.open(file) as picture:
            assert picture.size == (1280, 800)
            assert len(picture.convert("L").getcolors() or []) > 20, "it is not empty"

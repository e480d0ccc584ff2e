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
from shopdesk.desk.screenshots import make_screenshots
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
shift = Shift(open_records(Path(sys.argv[1]), datetime.now(UTC)))
for file in make_screenshots(shift, Path(sys.argv[2])):
    print(file)
"""


def test_a_picture_is_made_of_a_ticket_in_each_stage(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    made = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(shift.records.file), str(tmp_path / "pictures")],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    assert made == [str(tmp_path / "pictures" / "intake.png")]
    with Image.open(made[0]) as picture:
        assert picture.size == (1280, 800)
        assert len(picture.convert("L").getcolors() or []) > 20, "it is not empty"

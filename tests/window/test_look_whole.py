"""Nothing is cut off: every page, sheet and card of the demo shop, light and dark, at all sizes."""

import subprocess
import sys
from pathlib import Path

from PIL import Image

SHOTS = (
    (False, 100, 1280, 800),
    (True, 150, 1280, 800),
    (True, 100, 1920, 1080),
    (False, 150, 1920, 1080),
)
PROGRAM = """
import sys
from datetime import date
from pathlib import Path
from shopdesk.demo.build import build_demo
from shopdesk.desk.screenshots import Shot, make_screenshots
from tests.window.cut_off import cut_off

folder = Path(sys.argv[1])
shift = build_demo(folder / "shop", date(2027, 3, 15)).shift
for shot in [Shot(*one) for one in eval(sys.argv[2], {})]:
    files = make_screenshots(
        shift,
        folder / f"{'dark' if shot.dark else 'light'}-{shot.text}-{shot.width}",
        shot,
        lambda name, app: [print("cut", shot, name, one) for one in cut_off(app.root)],
    )
    print("seen", len(files))
shift.records.close()
"""


def test_nothing_is_cut_off_on_any_page_at_any_size(tmp_path: Path) -> None:
    said = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(tmp_path), repr(SHOTS)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    assert [line for line in said if line.startswith("cut")] == []
    seen = [int(line.split()[1]) for line in said]
    assert len(seen) == len(SHOTS)
    assert len(set(seen)) == 1
    assert seen[0] >= 28, "all that there was when the walk was written"
    for dark, text, width, height in SHOTS:
        folder = tmp_path / f"{'dark' if dark else 'light'}-{text}-{width}"
        with Image.open(folder / "diagnosis.png") as picture:
            assert picture.size == (width, height)
            middle = picture.convert("L").resize((1, 1)).getpixel((0, 0))
            assert isinstance(middle, int)
            assert (middle < 90) == dark

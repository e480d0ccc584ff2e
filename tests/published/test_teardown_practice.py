"""What the trade minds as a machine goes back together: common practice, no published source.

Cross pattern and a light hand for screws into plastic; bolts of different lengths to their own
holes; the starter pulled before its cover is tightened; a drive shaft to its mark; the throttle
linkage tried before closing up; the plug lead not pinched; a new fuel line cut at 45 degrees; the
tank cap loosened before a fuel line is pulled. The fuel vapour caution rests on 29 CFR
1910.266(e)(2)(iv), the hot exhaust on USDA Forest Service Tech Tip 0351-1305.
"""

from pathlib import Path

import pytest

from shopdesk.bench.care import load_cares
from shopdesk.bench.fasteners import parse_all_fasteners
from shopdesk.bench.reassembly import reassembly
from shopdesk.bench.teardown import TeardownStep

SHARED = Path(__file__).parents[2] / "shared"


@pytest.mark.parametrize(
    ("off", "fasteners", "words"),
    [
        ("air filter cover", "4 4 x 16 into plastic", "cross pattern, never over-tight"),
        ("crankcase half", "4 M5 x 20\n2 M5 x 35", "into the hole it came from"),
        ("starter cover", "4 M4 x 16", "a few pulls so that the pawls seat"),
        ("drive shaft", "", "to its mark"),
        ("throttle cable", "", "through its whole travel before closing up"),
        ("engine cover", "3 M5 x 20", "Don't pinch the plug lead"),
        ("fuel line", "", "45°"),
    ],
)
def test_the_care_that_the_trade_takes(off: str, fasteners: str, words: str) -> None:
    step = TeardownStep("1", off, fasteners=parse_all_fasteners(fasteners))
    (back,) = reassembly([step], load_cares(SHARED))
    assert words in " ".join(back.care)


@pytest.mark.parametrize(
    ("off", "caution"),
    [
        ("fuel line", "tank-pressure"),
        ("carburettor", "fuel-vapour"),
        ("muffler", "hot-exhaust"),
        ("starter housing", "recoil-spring"),
        ("blade", "spark-lead-off"),
    ],
)
def test_the_caution_stands_at_the_step(off: str, caution: str) -> None:
    (back,) = reassembly([TeardownStep("1", off)], load_cares(SHARED))
    assert caution in back.cautions

"""Words in the window stand out from their ground.

Source: Web Content Accessibility Guidelines 2.2 (W3C Recommendation), success criteria 1.4.3 (text
at least 4.5 : 1, inactive controls excepted) and 1.4.11 (signs and what shows the focus at least
3 : 1); relative luminance and contrast ratio as its glossary defines them.
"""

import subprocess
import sys
from pathlib import Path

import pytest

TEXT, SIGN = 4.5, 3.0
MEASURE = """
import sys
import ttkbootstrap as ttk
from shopdesk.desk import look

root = look.make_root(dark=sys.argv[1] == "dark")
kept = [
    ttk.Label(root, bootstyle="secondary"), ttk.Button(root), ttk.Button(root, bootstyle="primary"),
    ttk.Button(root, bootstyle="link"), ttk.Entry(root), ttk.Combobox(root), ttk.Notebook(root),
    ttk.Treeview(root), ttk.Checkbutton(root),
]
style = root.style

def pair(name, ink, ground):
    inks = root.winfo_rgb(ink)
    print(name, *inks, *root.winfo_rgb(ground), sep="\\t")

ground = look.colour("bg")
for role in ("fg", "secondary", "danger", "warning", "success", "primary", "info"):
    pair(f"text {role}", look.colour(role), ground)
for role in ("danger", "warning", "success", "primary"):
    pair(f"sign {role}", look.colour(role), ground)
    pair(f"text {role} on a chosen row", look.colour(role), look.chosen_colour())
pair("text on a chosen row", look.colour("fg"), look.chosen_colour())
for kind in ("TButton", "primary.TButton", "link.TButton", "Link.TButton", "TEntry", "TCombobox"):
    ink, under = style.lookup(kind, "foreground"), style.lookup(kind, "background")
    under = style.lookup(kind, "fieldbackground") or under
    if ink and under:
        pair(f"text {kind}", ink, under)
for state in ((), ("selected",)):
    pair(
        f"text TNotebook.Tab {state}",
        style.lookup("TNotebook.Tab", "foreground", state),
        style.lookup("TNotebook.Tab", "background", state),
    )
pair("sign focus", style.lookup("TEntry", "bordercolor", ("focus",)), ground)
"""


def relative_luminance(rgb: tuple[int, int, int]) -> float:
    """Of 16-bit sRGB values."""
    linear = [
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
        for share in (value / 65535 for value in rgb)
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    """The ratio, from 1 to 21."""
    lighter, darker = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_measure_itself() -> None:
    white, black, grey = (65535,) * 3, (0,) * 3, (0x7676,) * 3
    assert contrast(white, black) == pytest.approx(21)
    assert contrast(white, grey) == pytest.approx(4.54, abs=0.01), "#767676 is the known 4.54 : 1"


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_words_and_signs_stand_out(mode: str) -> None:
    measured = subprocess.run(
        [sys.executable, "-c", MEASURE, mode],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    rows = [line.split("\t") for line in measured.splitlines()]
    found = {}
    for name, *numbers in rows:
        red, green, blue, *ground = (int(number) for number in numbers)
        found[name] = contrast((red, green, blue), (ground[0], ground[1], ground[2]))
    assert len(found) > 20
    print("\n".join(f"{mode} {name}: {ratio:.2f}" for name, ratio in found.items()))
    poor = {
        name: round(ratio, 2)
        for name, ratio in found.items()
        if ratio < (SIGN if name.startswith("sign") else TEXT)
    }
    assert poor == {}

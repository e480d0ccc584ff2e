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

dark, text = sys.argv[1] == "dark", int(sys.argv[2])
root = look.make_root(dark=not dark)
look.wear(root, dark=dark, text=text)
style = root.style

def pair(name, ink, ground):
    print(name, *root.winfo_rgb(ink), *root.winfo_rgb(ground), sep="\\t")

page, chosen = look.colour("bg"), look.chosen_colour()
grounds = {"the page": page, "a chosen row": chosen, "a field": look.colour("inputbg")}
for role in ("fg", "secondary", "danger", "warning", "success", "primary", "info"):
    for where, ground in grounds.items():
        pair(f"text {role} on {where}", look.colour(role), ground)
for role in ("danger", "warning", "success", "primary"):
    pair(f"sign {role}", look.colour(role), page)
pair("sign bar and line of a chart", look.colour("primary"), page)
pair("sign bar under a chosen cause", look.colour("primary"), chosen)
pair("sign axis of a plot", look.colour("secondary"), page)
pair("sign edge of a field beside the page", look.edge_colour(), page)
pair("sign edge of a field beside the field", look.edge_colour(), look.colour("inputbg"))
pair("sign ring around the board", look.colour("primary"), page)
pair("text in the list of what is known", look.colour("inputfg"), look.colour("inputbg"))
pair("text chosen in that list", look.colour("selectfg"), look.colour("primary"))

STATES = ((), ("active",), ("pressed",), ("disabled",), ("focus",), ("selected",), ("readonly",))
for name, make in {
    "label": ttk.Label,
    "secondary label": lambda: ttk.Label(bootstyle="secondary"),
    "danger label": lambda: ttk.Label(bootstyle="danger"),
    "warning label": lambda: ttk.Label(bootstyle="warning"),
    "success label": lambda: ttk.Label(bootstyle="success"),
    "primary label": lambda: ttk.Label(bootstyle="primary"),
    "button": ttk.Button,
    "main button": lambda: ttk.Button(bootstyle="primary"),
    "link": lambda: ttk.Button(bootstyle="link"),
    "danger button": lambda: ttk.Button(bootstyle="danger"),
    "field": ttk.Entry,
    "choice": ttk.Combobox,
    "tick": ttk.Checkbutton,
    "radio": ttk.Radiobutton,
    "tab": ttk.Notebook,
    "list": ttk.Treeview,
    "heading of a list": ttk.Treeview,
}.items():
    widget = make()
    kind = str(widget.cget("style")) or widget.winfo_class()
    kind += {"tab": ".Tab", "heading of a list": ".Heading"}.get(name, "")
    for state in STATES:
        if state == ("disabled",) and name not in ("button", "main button", "link", "tab"):
            continue
        ink = style.lookup(kind, "foreground", state)
        ground = style.lookup(kind, "fieldbackground", state) or style.lookup(
            kind, "background", state
        )
        pair(f"text {name} {' '.join(state)}", str(ink), str(ground) or page)
for kind in ("TEntry", "TCombobox"):
    pair(f"sign focus of {kind}", str(style.lookup(kind, "bordercolor", ("focus",))), page)
for kind in ("TButton", "primary.TButton", "TCheckbutton", "TRadiobutton"):
    ground = page if kind[:2] in ("TC", "TR") else str(style.lookup(kind, "background", ("focus",)))
    pair(f"sign focus of {kind}", str(style.lookup(kind, "focuscolor", ("focus",))), ground)
text = ttk.Text()
pair("text in several lines", str(text.cget("foreground")), str(text.cget("background")))
pair("text marked there", str(text.cget("selectforeground")), str(text.cget("selectbackground")))
pair("sign focus of a text", str(text.cget("highlightcolor")), page)
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


@pytest.mark.parametrize("text", ["100", "150"])
@pytest.mark.parametrize("mode", ["light", "dark"])
def test_words_and_signs_stand_out(mode: str, text: str) -> None:
    measured = subprocess.run(
        [sys.executable, "-c", MEASURE, mode, text],
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
    assert len(found) > 100
    print("\n".join(f"{mode} {name}: {ratio:.2f}" for name, ratio in found.items()))
    poor = {
        name: round(ratio, 2)
        for name, ratio in found.items()
        if ratio < (SIGN if name.startswith("sign") else TEXT)
    }
    assert poor == {}

"""What can't be pressed can still be read.

Contrast by the formula and the least ratio for text of WCAG 2.2 (W3C Recommendation, success
criterion 1.4.3; relative luminance as defined there). The criterion exempts what is disabled; here
the words beside a way that is shut have to be read all the same.
"""

import pytest
import ttkbootstrap as ttk

LEAST = 4.5


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize("bootstyle", ["default", "primary", "link", "danger"])
def test_words_on_a_button_are_legible_and_a_shut_one_looks_shut(
    root: ttk.App, bootstyle: str
) -> None:
    button = ttk.Button(root, bootstyle=bootstyle)
    looked_up = {
        state: [
            str(root.style.lookup(button.cget("style"), option, [state]))
            for option in ("foreground", "background")
        ]
        for state in ("!disabled", "disabled")
    }
    assert contrast(*looked_up["!disabled"]) >= LEAST
    assert contrast(*looked_up["disabled"]) >= LEAST
    assert looked_up["disabled"][0] != looked_up["!disabled"][0]
    assert looked_up["disabled"][1] == str(root.style.colors.get("bg")), "no fill: not for pressing"
    button.destroy()


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#ffffff", "#000000", 21.0), ("#777777", "#ffffff", 4.48), ("#767676", "#ffffff", 4.54)],
)
def test_the_formula_gives_the_published_ratios(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)

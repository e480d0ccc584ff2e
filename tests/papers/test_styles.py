import pytest
from reportlab.lib.colors import Color
from reportlab.lib.styles import ParagraphStyle

from shopdesk.papers import styles

SHOWN = [style for style in vars(styles).values() if isinstance(style, ParagraphStyle)]


def contrast_on_white(colour: Color) -> float:
    """Contrast ratio as the Web Content Accessibility Guidelines 2.1 (W3C) reckon it."""
    parts = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in colour.rgb()
    ]
    luminance = sum(
        weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), parts, strict=True)
    )
    return 1.05 / (luminance + 0.05)


def test_contrast_is_reckoned_right() -> None:
    assert contrast_on_white(Color(0, 0, 0)) == pytest.approx(21)
    assert contrast_on_white(Color(1, 1, 1)) == pytest.approx(1)


@pytest.mark.parametrize("style", SHOWN, ids=lambda style: style.name)
def test_nothing_is_printed_small_or_pale(style: ParagraphStyle) -> None:
    """Contrast 7:1 is level AAA, success criterion 1.4.6."""
    assert style.fontSize >= 9
    assert contrast_on_white(style.textColor) >= 7

"""Draws the policy study on one page: what a cure costs by each policy, and what ours saves."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import pypdfium2
from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from tests.benchmarks.policy_figures import WIDTH, Standing

if TYPE_CHECKING:
    from tests.benchmarks.policy_study import MachineStudy

PAGE = (792, 612)
LEFT, RIGHT = 170, 560
LONGEST = 300.0
"""The end of the scale in shop money; a longer bar is cut, and says so by its figure."""
BAR, ROW, PANEL = 11, 15, 118
OURS, RIGHT_FIX, OTHERS = HexColor("#1f6f8b"), HexColor("#5b5b5b"), HexColor("#b9c4ca")
INK = HexColor("#1c1c1c")


def draw_chart(found: Sequence[MachineStudy], folder: Path) -> Path:
    """Draw the study as policy-study.pdf and .png into a folder, and return the picture's path."""
    pdf = folder / "policy-study.pdf"
    canvas = Canvas(str(pdf), pagesize=PAGE, invariant=1)
    canvas.setFillColor(INK)
    canvas.setFont("Helvetica-Bold", 15)
    canvas.drawString(36, 576, "What it costs until the machine is cured")
    canvas.setFont("Helvetica", 9)
    canvas.drawString(
        36,
        560,
        "Mean of the same drawn machines, in shop money, with 95 % intervals. Dark line: the fix "
        "of the true cause alone. Right: what our next step costs as a part of it.",
    )
    for place, each in enumerate(found):
        _panel(canvas, each, 536 - place * PANEL)
    canvas.setFont("Helvetica", 9)
    canvas.drawString(36, 40, "Bars over 300 are cut. Against the best there is, on small models:")
    canvas.drawString(36, 26, ";   ".join(_against_best(each) for each in found) + ".")
    canvas.save()
    picture = pdf.with_suffix(".png")
    pypdfium2.PdfDocument(pdf)[0].render(scale=1.6).to_pil().save(picture)
    return picture


def _panel(canvas: Canvas, found: MachineStudy, top: float) -> None:
    canvas.setFillColor(INK)
    canvas.setFont("Helvetica-Bold", 10.5)
    canvas.drawString(36, top, f"{found.name}, {found.machines} machines")
    for place, each in enumerate(found.standings):
        _bar(canvas, each, top - 18 - place * ROW, ours=place == 0)
    x = _across(found.right_fix.value)
    canvas.setStrokeColor(RIGHT_FIX)
    canvas.setLineWidth(1.4)
    canvas.line(x, top - 8, x, top - 18 - len(found.standings) * ROW + 9)


def _bar(canvas: Canvas, each: Standing, y: float, *, ours: bool) -> None:
    canvas.setFont("Helvetica-Bold" if ours else "Helvetica", 9)
    canvas.setFillColor(INK)
    canvas.drawRightString(LEFT - 8, y + 2, each.policy)
    canvas.setFillColor(OURS if ours else OTHERS)
    canvas.rect(LEFT, y, _across(each.cost.value) - LEFT, BAR, stroke=0, fill=1)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.8)
    if each.cost.high <= LONGEST:
        canvas.line(_across(each.cost.low), y + BAR / 2, _across(each.cost.high), y + BAR / 2)
    canvas.setFillColor(INK)
    canvas.drawString(RIGHT + 10, y + 2, f"{each.cost.value:.0f}")
    if not ours:
        ratio = each.ours_to_it
        canvas.drawString(
            RIGHT + 60, y + 2, f"{ratio.value * 100:.0f} % ± {WIDTH * ratio.error * 100:.1f}"
        )


def _across(cost: float) -> float:
    return LEFT + (RIGHT - LEFT) * min(cost, LONGEST) / LONGEST


def _against_best(found: MachineStudy) -> str:
    ratio = found.ours_to_best
    return f"{found.name} {ratio.value * 100:.1f} % ± {WIDTH * ratio.error * 100:.1f}"

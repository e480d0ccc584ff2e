"""Draws the demo's photos: plain sketches that nobody takes for a real photo."""

from collections.abc import Callable
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

WIDTH, HEIGHT = 900, 600
PAPER, INK, SOFT, RED, FUEL, METAL = (
    "#f4f0e6",
    "#2b2b2b",
    "#b9b2a3",
    "#b03a2e",
    "#d9a441",
    "#8d99a6",
)
Pen = ImageDraw.ImageDraw


def draw_picture(folder: Path, name: str) -> Path:
    """Draw the picture of that name into ``folder``, unless it is there, and return its file.

    Raises ``KeyError`` for a name that there is no picture of.
    """
    file = folder / f"{name}.png"
    if not file.exists():
        draw, words = SKETCHES[name]
        image = Image.new("RGB", (WIDTH, HEIGHT), PAPER)
        pen = ImageDraw.Draw(image)
        draw(pen)
        pen.text(
            (30, HEIGHT - 60), f"sketch: {words}", fill=INK, font=ImageFont.load_default(size=30)
        )
        image.save(file)
    return file


def _mark(pen: Pen, x: int, y: int, radius: int = 70) -> None:
    """Ring what the picture is about."""
    pen.ellipse((x - radius, y - radius, x + radius, y + radius), outline=RED, width=7)


def _split_line(pen: Pen) -> None:
    pen.rounded_rectangle((90, 300, 430, 480), 40, fill=FUEL, outline=INK, width=6)
    pen.line((400, 330, 560, 210, 800, 190), fill=INK, width=34, joint="curve")
    pen.line((400, 330, 560, 210, 800, 190), fill=SOFT, width=20, joint="curve")
    for start in range(3):
        pen.line((470 + 16 * start, 250, 500 + 16 * start, 295), fill=INK, width=6)
    pen.ellipse((470, 340, 492, 372), fill=FUEL)
    _mark(pen, 490, 275, 85)


def _choked_screen(pen: Pen) -> None:
    pen.ellipse((250, 60, 650, 460), fill=METAL, outline=INK, width=8)
    for column in range(11):
        for row in range(11):
            x, y = 300 + 30 * column, 110 + 30 * row
            if (x - 450) ** 2 + (y - 260) ** 2 < 175**2:
                fill = PAPER if (column * 7 + row * 5) % 10 == 0 else INK
                pen.ellipse((x - 9, y - 9, x + 9, y + 9), fill=fill)
    pen.ellipse((250, 60, 650, 460), outline=RED, width=7)


def _scored_piston(pen: Pen) -> None:
    pen.rectangle((300, 90, 600, 460), fill=METAL, outline=INK, width=8)
    for y in (130, 165):
        pen.line((300, y, 600, y), fill=INK, width=8)
    for x in range(400, 540, 17):
        pen.line((x, 185, x + (x % 5) - 2, 455), fill=INK, width=5)
    pen.ellipse((325, 300, 375, 350), outline=INK, width=6)
    _mark(pen, 468, 320, 120)


def _torn_boot(pen: Pen) -> None:
    pen.rectangle((120, 160, 330, 400), fill=METAL, outline=INK, width=8)
    pen.rectangle((330, 200, 600, 360), fill="#4a4a4a", outline=INK, width=8)
    pen.rectangle((600, 140, 790, 420), fill=SOFT, outline=INK, width=8)
    pen.rectangle((350, 190, 385, 370), fill=METAL, outline=INK, width=4)
    pen.polygon((420, 200, 450, 270, 430, 310, 475, 360, 440, 300, 465, 262), fill=PAPER)
    _mark(pen, 448, 280, 95)


def _bent_blade(pen: Pen) -> None:
    pen.line((100, 290, 640, 290), fill=METAL, width=46)
    pen.line((640, 290, 810, 410), fill=METAL, width=46)
    pen.line((640, 290, 830, 290), fill=SOFT, width=4)
    pen.ellipse((430, 270, 470, 310), fill=PAPER, outline=INK, width=6)
    _mark(pen, 700, 335, 100)


def _oily_filter(pen: Pen) -> None:
    pen.rounded_rectangle((220, 90, 680, 460), 30, fill="#d8cfa8", outline=INK, width=8)
    for x in range(250, 670, 30):
        pen.line((x, 110, x, 440), fill=SOFT, width=6)
    pen.polygon(
        (230, 300, 330, 250, 430, 310, 560, 230, 670, 300, 670, 450, 230, 450), fill="#3d3220"
    )
    _mark(pen, 450, 360, 110)


def _cut_cord(pen: Pen) -> None:
    pen.line((60, 330, 300, 250, 420, 270), fill=INK, width=38, joint="curve")
    pen.line((500, 290, 640, 330, 850, 240), fill=INK, width=38, joint="curve")
    for shift, colour in ((-12, RED), (0, FUEL), (12, METAL)):
        pen.line((410, 270 + shift, 445, 276 + 2 * shift), fill=colour, width=7)
        pen.line((475, 284 + 2 * shift, 510, 290 + shift), fill=colour, width=7)
    _mark(pen, 460, 280, 80)


def _wire_in_tines(pen: Pen) -> None:
    pen.line((140, 270, 760, 270), fill=METAL, width=40)
    for x in (220, 360, 500, 640):
        pen.polygon((x, 250, x + 40, 250, x + 80, 430, x + 30, 430), fill=METAL, outline=INK)
        pen.polygon((x, 290, x + 40, 290, x - 40, 110, x - 80, 110), fill=METAL, outline=INK)
    for step in range(9):
        pen.arc((330 + 22 * step, 215, 370 + 22 * step, 325), 0, 300, fill=RED, width=7)


def _gummed_jet(pen: Pen) -> None:
    pen.rounded_rectangle((220, 140, 680, 460), 60, fill=METAL, outline=INK, width=8)
    pen.rounded_rectangle((260, 300, 640, 440), 40, fill="#7a8f4a")
    pen.rectangle((425, 150, 475, 400), fill=FUEL, outline=INK, width=6)
    pen.ellipse((440, 380, 460, 400), fill="#e9e4cf", outline=INK, width=3)
    _mark(pen, 450, 380, 75)


SKETCHES: dict[str, tuple[Callable[[Pen], None], str]] = {
    "split-line": (_split_line, "fuel line split at the grommet"),
    "choked-screen": (_choked_screen, "arrester screen choked with carbon"),
    "scored-piston": (_scored_piston, "piston scored"),
    "torn-boot": (_torn_boot, "intake boot torn"),
    "bent-blade": (_bent_blade, "blade bent at one tip"),
    "oily-filter": (_oily_filter, "air filter soaked with oil"),
    "cut-cord": (_cut_cord, "cord cut through"),
    "wire-in-tines": (_wire_in_tines, "wire wound into the tines"),
    "gummed-jet": (_gummed_jet, "jet closed by old fuel"),
}
"""Each picture with the words under it."""

"""The ticket's number as bars that a hand scanner reads: Code 128 (ISO/IEC 15417)."""

from reportlab.graphics.barcode.code128 import Code128
from reportlab.lib.units import mm

_NARROW_BAR = 0.38 * mm
_QUIET_MODULES = 10


def ticket_bars(ticket: str, height: float = 13 * mm, narrow_bar: float = _NARROW_BAR) -> Code128:
    """Return the bars for `ticket`, with the quiet zones that the standard asks for.

    Raises:
        ValueError: `ticket` is empty or holds anything but printable ASCII.
    """
    if not ticket or not ticket.isascii() or not ticket.isprintable():
        raise ValueError(f"{ticket!r} can't be printed as bars: use plain letters and digits.")
    return Code128(
        ticket,
        barWidth=narrow_bar,
        barHeight=height,
        lquiet=_QUIET_MODULES * narrow_bar,
        rquiet=_QUIET_MODULES * narrow_bar,
    )

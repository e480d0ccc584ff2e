"""How much thinner the outside air is where the shop stands, for gauge readings that depend on it.

US Standard Atmosphere 1976 (the same as ISO 2533 below 11 km), lowest layer.
"""

from __future__ import annotations

from decimal import Decimal

LOWEST_M = Decimal(-430)
HIGHEST_M = Decimal(5500)

_EARTH_RADIUS_M = Decimal(6356766)
_SEA_LEVEL_K = Decimal("288.15")
_LAPSE_K_PER_M = Decimal("0.0065")
_GRAVITY = Decimal("9.80665")
_AIR_MOLAR_MASS = Decimal("0.0289644")
_GAS_CONSTANT = Decimal("8.31432")
_EXPONENT = _GRAVITY * _AIR_MOLAR_MASS / (_GAS_CONSTANT * _LAPSE_K_PER_M)


class AltitudeError(ValueError):
    """No workshop stands at this altitude; the message says what to do."""


def pressure_ratio(altitude_m: Decimal) -> Decimal:
    """Return outside pressure at `altitude_m` (metres above sea level) over that at sea level.

    Weather moves the true pressure by a few per cent either way. Raises AltitudeError.
    """
    if not (altitude_m.is_finite() and LOWEST_M <= altitude_m <= HIGHEST_M):
        raise AltitudeError(
            f"{altitude_m} m is no altitude of a workshop: "
            f"type metres above the sea, {LOWEST_M} to {HIGHEST_M}."
        )
    geopotential = _EARTH_RADIUS_M * altitude_m / (_EARTH_RADIUS_M + altitude_m)
    return (1 - _LAPSE_K_PER_M * geopotential / _SEA_LEVEL_K) ** _EXPONENT

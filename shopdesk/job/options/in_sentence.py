"""Names of parts as they stand within a sentence."""

from collections.abc import Sequence

_MOST_NAMED = 3


def lowered(name: str) -> str:
    """Return a name as it stands within a sentence; initials stay as they are."""
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


def listed(names: Sequence[str]) -> str:
    """Return names in one breath: ``the fuel line, the fuel filter and 2 more``."""
    said = [f"the {lowered(name)}" for name in names]
    if len(said) > _MOST_NAMED:
        said = [*said[: _MOST_NAMED - 1], f"{len(said) - _MOST_NAMED + 1} more"]
    *first, last = said
    return f"{', '.join(first)} and {last}" if first else last

"""What is set as a step goes back: a check of the catalogue, a plug's torque, or other words."""

from shopdesk.bench.checks import Check
from shopdesk.bench.limits import Limit
from shopdesk.bench.typed_limits import TypedLimit, parse_limit
from shopdesk.bench.units import Quantity
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.diagnosis import setting_checks_for
from shopdesk.job.reference import plug_torques
from shopdesk.job.teardown_log import KeptSetting
from shopdesk.job.units import unit_view
from shopdesk.records.tables import Unit

SOURCE = "as noted at the teardown; the maker's manual governs"


def kept_setting(title: str, limit: str, unit: Unit) -> KeptSetting | None:
    """Return what was typed as a setting, or None for nothing. Raises ``JobError`` at the field."""
    words = typed.line(title, "setting", "The setting")
    written = typed.line(limit, "setting_limit", "The setting's limit")
    if not words and not written:
        return None
    if not words:
        raise JobError("Say what is set, such as plug torque or air gap.", "setting")
    check = _catalogue_check(words, unit)
    limited = _limit(written) if written else None
    if check is not None:
        _refuse_other_quantity(check, limited)
        own = limited.limit if limited else None
        return KeptSetting(check.title, check.key, "", "", written, own)
    if limited is None:
        raise JobError(
            f"Type the limit of {words}, such as 11 to 13 N·m, or only the unit it is read in.",
            "setting_limit",
        )
    return KeptSetting(words, "", limited.quantity, limited.unit, written, limited.limit)


def _catalogue_check(words: str, unit: Unit) -> Check | None:
    wanted = words.casefold()
    for check in setting_checks_for(unit_view(unit)):
        if wanted in (check.key.casefold(), check.title.casefold()):
            return check
    return None


def _limit(written: str) -> TypedLimit:
    plug = _plug_torque(written)
    if plug is not None:
        return TypedLimit(Quantity.TORQUE, plug.unit, plug)
    with typed.at_field("setting_limit"):
        return parse_limit(written, SOURCE)


def _plug_torque(written: str) -> Limit | None:
    """Return the torque of a plug whose thread and seat were typed: ``M14 gasket``."""
    words = set(written.casefold().split())
    for (thread, seat), limit in plug_torques().items():
        if {thread.casefold(), str(seat)} <= words:
            return limit
    return None


def _refuse_other_quantity(check: Check, limited: TypedLimit | None) -> None:
    if limited is not None and limited.quantity is not check.quantity:
        raise JobError(
            f"“{check.title}” is read in {check.usual_unit}, not in {limited.unit}: "
            "type its limit in such a unit.",
            "setting_limit",
        )

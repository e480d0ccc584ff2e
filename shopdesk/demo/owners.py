"""The demo's owners and their machines, as its files tell of them."""

from shopdesk.demo.record import Record


class Machine(Record, frozen=True):
    """A machine of an owner; ``years`` is its age today."""

    key: str
    kind: str
    engine: str
    make: str
    model: str
    serial: str
    years: int
    hours_per_week: str
    first_month: str
    last_month: str
    severe_use: bool = False
    meter_hours: str = ""
    """What its hour meter reads today."""


class Owner(Record, frozen=True):
    """An owner with the machines that are theirs at first."""

    name: str
    phones: tuple[str, ...]
    email: str = ""
    address: str = ""
    notes: str = ""
    tax_exempt_number: str = ""
    may_remind: bool = True
    shared_phone: bool = False
    preferred_way: str = ""
    units: tuple[Machine, ...] = ()

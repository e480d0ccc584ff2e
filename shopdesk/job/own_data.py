"""What we keep about one owner, to hand it to them: as JSON, with their photos."""

import json
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shopdesk.errors import JobError
from shopdesk.files import write_whole
from shopdesk.job.customers import customer_view, find_customer
from shopdesk.job.export_tables import OUT, Value
from shopdesk.job.exporting import as_text
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.views import CustomerView

FORMAT = "shopdesk owner"
FORMAT_VERSION = 1
_BY_OWNER = ("ownerships", "tickets", "messages", "reminders")
_BY_TICKET = (
    *("findings", "lines", "estimates", "approvals", "invoices", "payments", "write_offs"),
    *("own_options", "teardown_steps", "photos"),
)
_BY_MACHINE = ("upkeep_done", "meter_readings")
_OURS = frozenset({"cost", "seal", "previous_hash", "folded_name"})
"""What is the shop's own business and says nothing of the owner."""
_OWNED = "t.{column} IN (SELECT unit_id FROM ownership WHERE customer_id = ? AND until IS NULL)"
_EVER_OWNED = "t.id IN (SELECT unit_id FROM ownership WHERE customer_id = ?)"
_OF_TICKETS = "t.ticket_id IN (SELECT id FROM ticket WHERE customer_id = ?)"
_TODAY_ONLY = frozenset({"machine_notes", "owner_id", "owner_name", "owner_phones", "owner_email"})
"""Of a machine that has another owner now, these are that owner's business."""


@dataclass(frozen=True, slots=True)
class OwnerData:
    """All of it: ``content`` by table, as in ``exporting``; photos as they lie beside the records.

    ``tickets`` are the ids of their tickets, oldest first.
    """

    owner: CustomerView
    content: dict[str, Any]
    tickets: tuple[int, ...]
    photos: tuple[Path, ...]


def owner_data(shift: Shift, customer_id: int) -> OwnerData:
    """Return what is kept about an owner. Raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        owner = customer_view(find_customer(customer_id))
        shop = load_shop()
        content: dict[str, Any] = {
            "format": FORMAT,
            "version": FORMAT_VERSION,
            "written_at": shift.now().isoformat(),
            "shop": {"name": shop.name, "address": shop.address, "phone": shop.phone},
            "owner": _rows("owners", "t.id = ?", customer_id)[0],
            "machines": _machines(customer_id),
        }
        for name in _BY_OWNER:
            content[name] = _rows(name, "t.customer_id = ?", customer_id)
        for name in _BY_TICKET:
            content[name] = _rows(name, _OF_TICKETS, customer_id)
        for name in _BY_MACHINE:
            content[name] = _rows(name, _OWNED.format(column="unit_id"), customer_id)
    folder = shift.records.photo_folder
    return OwnerData(
        owner,
        content,
        tuple(ticket["id"] for ticket in content["tickets"]),
        tuple(folder / photo["file"] for photo in content["photos"]),
    )


def write_owner_data(data: OwnerData, folder: Path) -> Path:
    """Write the JSON and the photos into a folder; return the file. ``JobError`` if it can't."""
    text = json.dumps(data.content, ensure_ascii=False, indent=2, default=as_text)
    try:
        file = write_whole(folder / "owner.json", f"{text}\n".encode())
        for photo in data.photos:
            if photo.is_file():
                (folder / "photos").mkdir(exist_ok=True)
                shutil.copy2(photo, folder / "photos" / photo.name)
    except OSError as error:
        raise JobError(
            f"{folder} can't be written ({error.strerror}): name another place."
        ) from error
    return file


def _machines(customer_id: int) -> list[dict[str, Value]]:
    rows = _rows("machines", _EVER_OWNED, customer_id)
    for row in rows:
        if row["owner_id"] != customer_id:
            for column in _TODAY_ONLY:
                del row[column]
    return rows


def _rows(name: str, where: str, owner_id: int) -> list[dict[str, Value]]:
    table = next(one for one in OUT if one.name == name)
    return [
        {
            column: value
            for column, value in zip(table.columns, row, strict=True)
            if column not in _OURS
        }
        for row in table.rows(where, owner_id)
    ]

"""``shopdesk check``: prove that the records are whole and the invoices add up."""

from argparse import Namespace

from shopdesk.commands import FAILED
from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, json_option, records_option
from shopdesk.commands.saying import say, say_json
from shopdesk.errors import JobError

INDEX_PROVED = "every owner, machine and ticket is found by its words"


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "check", help="prove that the records are whole and the invoices add up"
    )
    parser.add_argument(
        "--find-anew", action="store_true", help="make the index that things are found by anew"
    )
    json_option(parser)
    records_option(parser)
    parser.set_defaults(command=_check_records)


def _check_records(asked: Namespace) -> int:
    from shopdesk.job.audit import audit
    from shopdesk.job.find import index_faults, make_index_anew
    from shopdesk.records.examine import Examination, examine

    with opened(asked) as shift:
        file = examine(shift.records)
        books = Examination((), ()) if file.faults else audit(shift)
        if asked.find_anew and not file.faults:
            make_index_anew(shift)
        index = () if file.faults else index_faults(shift)
    faults = file.faults + books.faults + index
    proved = () if faults else (*file.proved, *books.proved, INDEX_PROVED)
    if asked.json:
        where = {"records": str(shift.records.file), "sound": not faults}
        found = {"proved": proved, "not_proved": books.not_proved, "faults": faults}
        say_json(where | found)
        return FAILED if faults else 0
    if index and faults == index:
        raise JobError(
            f"The rows are sound, but not everything is found: {'; '.join(index)}. "
            "Type “shopdesk check --find-anew” to make the index anew."
        )
    if faults:
        raise JobError(
            f"{shift.records.file} is not sound: {'; '.join(faults)}. "
            "Leave it as it is and restore the newest good backup."
        )
    say(*(f"proved: {one}" for one in proved))
    say(*(f"not proved: {one}" for one in books.not_proved))
    return 0

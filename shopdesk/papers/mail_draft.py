"""An e-mail about upkeep, ready in the owner's mail program, the letter with it as a PDF.

The file is a message as RFC 5322 has it; ``X-Unsent`` lets mail programs open it for sending.
"""

from datetime import datetime
from email.errors import MessageError
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP

from shopdesk.dates import show_date
from shopdesk.errors import JobError
from shopdesk.files import safe_name
from shopdesk.job.due_content import UpkeepMessage
from shopdesk.papers.upkeep_letter import upkeep_words
from shopdesk.papers.words import Words


def mail_draft(content: UpkeepMessage, letter: bytes, words: Words, made_at: datetime) -> bytes:
    """Return the draft as a file; ``letter`` is the PDF that goes with it.

    Raises ``JobError`` for an owner's address that no mail can go to.
    """
    say = upkeep_words(content, words, "mail")
    ending = "_again" if content.again else ""
    draft = EmailMessage(policy=SMTP)
    draft["X-Unsent"] = "1"
    draft["Date"] = made_at
    draft["To"] = _address(content.owner.name, content.owner.email)
    if content.shop.email:
        draft["From"] = _address(content.shop.name, content.shop.email)
    draft["Subject"] = " ".join(say("subject" + ending).split())
    draft.set_content(_text(content, words), charset="utf-8")
    draft.add_attachment(
        letter,
        maintype="application",
        subtype="pdf",
        filename=f"{safe_name(say('attachment', date=content.on.isoformat()))}.pdf",
    )
    return draft.as_bytes()


def _text(content: UpkeepMessage, words: Words) -> str:
    say = upkeep_words(content, words, "mail")
    lines = [say("greeting"), "", say("opening_again" if content.again else "opening")]
    for one in content.machines:
        lines += ["", f"{one.machine.title}:"]
        lines += [say("task", task=row.title, date=show_date(row.on)) for row in one.rows]
    lines += ["", say("letter")]
    if content.invited_for:
        lines += ["", say("invited", week=show_date(content.invited_for))]
    lines += ["", say("call"), "", say("stop"), "", say("closing"), content.shop.name]
    lines += [*content.shop.address, content.shop.phone]
    return "\n".join(lines).strip() + "\n"


def _address(name: str, typed: str) -> Address:
    """Return a name with its address; what is typed by people is not always one for mail."""
    local, at, domain = typed.rpartition("@")
    try:
        plain = f"{local}{at}{domain.encode('idna').decode()}"
        return Address(display_name=name, addr_spec=plain)
    except (MessageError, ValueError, IndexError) as error:
        raise JobError(
            f"“{typed}” ({name}) is no address that an e-mail can go to: put it right first.",
            "email",
        ) from error

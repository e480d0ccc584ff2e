"""The invoice, which says why on every line, and the credit note that puts one right."""

from dataclasses import replace
from datetime import timedelta

from shopdesk.dates import show_date
from shopdesk.job.paper_content import InvoiceContent, PaymentRow
from shopdesk.papers import styles
from shopdesk.papers.charges import Charges
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import parties
from shopdesk.papers.words import Sentences, Words
from shopdesk.pricing.money import show_money


def draw_invoice(content: InvoiceContent, words: Words) -> Printed:
    """Draw an invoice, or a credit note where `content.credits` names the invoice it takes back.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "invoice",
        shop=content.shop.name,
        phone=content.shop.phone,
        ticket=content.ticket,
        owner=content.owner.name,
        machine=content.machine.title,
        number=content.number,
    )
    title = say("credit_title" if content.credits else "title")
    paper = Paper(content.shop, say, content.ticket, title)
    paper.letterhead()
    paper.headline(
        say("on", date=show_date(content.on)),
        _credits_words(content, say),
    )
    parties(paper, content.owner, content.machine)
    paper.labelled(say("you_told_us"), content.complaint, styles.QUOTED)
    paper.labelled(say("reason"), content.reason)
    if content.returned_as_is:
        paper.section(say("returned_label"))
        paper.caution(say("returned_as_is"))
    paper.gap(2)
    _charges(paper, content)
    if not content.credits:
        with paper.together():
            _approvals(paper, content)
            _promises(paper, content)
    if content.e_invoice:
        paper.gap(4)
        paper.text(say("e_invoice"), styles.SMALL)
    printed = paper.printed()
    if not content.e_invoice:
        return printed
    return replace(printed, pdf=_hybrid(printed.pdf, content))


def _hybrid(pdf: bytes, content: InvoiceContent) -> bytes:
    """Put the XML inside. What does it is read only by shops that ask for it."""
    from shopdesk.papers.e_invoice import e_invoice_xml
    from shopdesk.papers.hybrid import with_xml

    return with_xml(pdf, e_invoice_xml(content), content.on)


def _credits_words(content: InvoiceContent, say: Sentences) -> str:
    if not content.credits:
        return ""
    key = f"credits_{content.credits_how}" if content.credits_how else "credits"
    return say(key, credits=content.credits)


def _charges(paper: Paper, content: InvoiceContent) -> None:
    say, totals = paper.say, content.totals
    charges = Charges(paper)
    charges.lines(content.rows)
    charges.sums(totals)
    for payment in content.payments:
        charges.sum(_payment_words(paper, payment), -payment.amount)
    if totals.due < 0:
        key = "credit_to_give" if content.credits else "owed_to_owner"
        charges.strong_sum(say(key), -totals.due)
    elif totals.due == 0:
        charges.strong_sum(say("given_back" if content.credits else "paid_in_full"), totals.due)
    else:
        charges.strong_sum(say("balance_due"), totals.due)
    paper.story.append(charges.table())
    paper.gap(8)
    if content.tax_exempt_number:
        number = say("tax_exempt", number=content.tax_exempt_number)
        paper.labelled(say("tax_exempt_label"), number)


def _payment_words(paper: Paper, payment: PaymentRow) -> str:
    key = "refund" if payment.amount < 0 else "deposit" if payment.deposit else "payment"
    return paper.say(key, method=payment.method, date=show_date(payment.on))


def _approvals(paper: Paper, content: InvoiceContent) -> None:
    say, currency = paper.say, content.shop.currency
    if not content.approvals:
        paper.labelled(say("approved_label"), say("no_approval"), styles.PROMISE)
        return
    sentences = []
    if content.approved and [row.amount for row in content.approvals] != [content.approved]:
        sentences.append(say("approved", amount=show_money(content.approved, currency)))
    for row in content.approvals:
        key = "approval_yes" if row.yes else "approval_no"
        said = {"who": row.who, "how": row.how, "when": row.when, "option": row.option}
        said["amount"] = show_money(row.amount, currency)
        sentences.append(say(f"{key}_to" if row.option else key, **said))
    paper.labelled(say("approved_label"), "\n".join(sentences), styles.PROMISE)


def _promises(paper: Paper, content: InvoiceContent) -> None:
    say, days = paper.say, content.warranty_days
    warranty = say("no_warranty")
    if days > 0 and not content.returned_as_is:
        until = show_date(content.on + timedelta(days=days))
        warranty = say("warranty", days=str(days), until=until)
        on_parts = content.part_warranty_days
        if on_parts is not None and on_parts != days:
            until_parts = show_date(content.on + timedelta(days=on_parts))
            warranty = say(
                "warranty_apart",
                days=str(days),
                until=until,
                part_days=str(on_parts),
                part_until=until_parts,
            )
    paper.labelled(say("warranty_label"), warranty, styles.PROMISE)
    if not content.returned_as_is:
        old = "old_parts_back" if content.old_parts_back else "old_parts_kept"
        paper.labelled(say("old_parts_label"), say(old), styles.PROMISE)
    storage = say("storage")
    if content.storage_per_day:
        amount = show_money(content.storage_per_day, content.shop.currency)
        storage = say("storage_asked", amount=amount, days=str(content.storage_after_days))
    paper.labelled(say("storage_label"), storage, styles.PROMISE)

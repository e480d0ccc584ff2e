"""Why a line stands on the bill: every part and every hour has one of these reasons."""

from enum import StrEnum


class Reason(StrEnum):
    """The reason of a line, as kept."""

    FAILED = "failed"
    WORN = "worn"
    KIT = "kit"
    PREVENTIVE = "preventive"
    ASKED = "asked"
    COMEBACK = "comeback"
    WARRANTY = "warranty"
    GOODWILL = "goodwill"
    DIAGNOSIS = "diagnosis"
    WITH_IT = "with it"
    TERMS = "terms"


WORDS = {
    Reason.FAILED: "failed",
    Reason.WORN: "worn",
    Reason.KIT: "came with the kit",
    Reason.PREVENTIVE: "renewed ahead of failure",
    Reason.ASKED: "asked for by the owner",
    Reason.COMEBACK: "our comeback, no charge",
    Reason.WARRANTY: "under warranty, no charge",
    Reason.GOODWILL: "our goodwill, no charge",
    Reason.DIAGNOSIS: "finding the cause",
    Reason.WITH_IT: "goes with the repair",
    Reason.TERMS: "by the terms on the claim tag",
}
FREE = frozenset({Reason.COMEBACK, Reason.WARRANTY, Reason.GOODWILL})
"""Reasons for which the owner pays nothing: the line shows what it would have cost."""
NEEDS_FINDING = frozenset({Reason.FAILED, Reason.WORN})
"""Reasons that say something about the machine's state: a finding should bear them out."""
NO_FINDING = "no finding recorded for this"

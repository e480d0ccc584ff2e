"""What people write for a kind of machine and for its engine, in the words of the cards.

Which engine a kind usually has is common practice, no published source: it is said where it is
guessed.
"""

from shopdesk.bench.machines import Engine, Kind
from shopdesk.text import fold, letters_and_digits

_KINDS = {
    **{letters_and_digits(kind.value): kind.value for kind in Kind},
    **dict.fromkeys(("trimmer", "grasstrimmer", "linetrimmer", "brushcutter"), Kind.STRING_TRIMMER),
    **dict.fromkeys(("saw", "chainsaws"), Kind.CHAIN_SAW),
    **dict.fromkeys(("blower", "backpackblower"), Kind.LEAF_BLOWER),
    **dict.fromkeys(("hedgecutter",), Kind.HEDGE_TRIMMER),
    **dict.fromkeys(("cultivator", "rotarytiller"), Kind.TILLER),
    **dict.fromkeys(("mower", "pushmower", "walkbehindmower"), Kind.LAWN_MOWER),
    **dict.fromkeys(("washer", "powerwasher"), Kind.PRESSURE_WASHER),
    **dict.fromkeys(("portablegenerator",), Kind.GENERATOR),
    **dict.fromkeys(("snowblower",), Kind.SNOW_THROWER),
}
_TWO = ("2stroke", "twostroke", "2cycle", "twocycle", "2t")
_FOUR = ("4stroke", "fourstroke", "4cycle", "fourcycle", "4t")
_CORDLESS = ("cordless", "battery")
_CORDED = ("corded", "electric", "mains")
_USUAL = {
    **dict.fromkeys(
        (Kind.STRING_TRIMMER, Kind.CHAIN_SAW, Kind.LEAF_BLOWER, Kind.HEDGE_TRIMMER),
        Engine.TWO_STROKE,
    ),
    **dict.fromkeys(
        (
            *(Kind.TILLER, Kind.LAWN_MOWER, Kind.PRESSURE_WASHER),
            *(Kind.GENERATOR, Kind.SNOW_THROWER),
        ),
        Engine.FOUR_STROKE,
    ),
}


def kind_said(words: str) -> str:
    """Return the kind that the checks and the upkeep know by these words, or empty."""
    return str(_KINDS.get(letters_and_digits(words), ""))


def engine_said(words: str) -> str:
    """Return the engine that these words mean, or empty."""
    said = letters_and_digits(fold(words))
    for engine, signs in (
        (Engine.TWO_STROKE, _TWO),
        (Engine.FOUR_STROKE, _FOUR),
        (Engine.CORDLESS, _CORDLESS),
        (Engine.CORDED, _CORDED),
    ):
        if any(sign == said or (len(sign) > 2 and sign in said) for sign in signs):
            return engine.value
    return ""


def usual_engine(kind: str) -> str:
    """Return the engine that this kind of machine usually has, or empty for an unknown kind."""
    known = next((one for one in Kind if one.value == kind), None)
    return _USUAL[known].value if known is not None else ""

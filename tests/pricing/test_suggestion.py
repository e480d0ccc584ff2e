from decimal import Decimal

from shopdesk.pricing.suggestion import Kind, Way, suggested

FAIR = Decimal("0.5")


def way(key: str, kind: Kind, chance: str, cost: str, hour: str | None, now: str = "0") -> Way:
    return Way(
        key, kind, Decimal(chance), Decimal(now), Decimal(cost), Decimal(hour) if hour else None
    )


SINGLE = way("failed", Kind.REPAIR, "0.61", "88.00", "1.33")
KIT = way("kit", Kind.REPAIR, "0.92", "72.00", "1.09")
NEW = way("another", Kind.ANOTHER, "1", "234.00", "1.87")
LEAVE = way("leave", Kind.LEAVE, "0", "35.00", None)


def test_the_lowest_cost_for_an_hour_of_life_is_suggested() -> None:
    assert suggested([SINGLE, KIT, NEW, LEAVE], FAIR) == "kit"
    assert suggested([way("failed", Kind.REPAIR, "0.93", "40", "0.61"), KIT, NEW], FAIR) == "failed"


def test_another_machine_is_when_its_hours_are_cheaper() -> None:
    past = [
        way("failed", Kind.REPAIR, "0.9", "140", "14.00"),
        way("kit", Kind.REPAIR, "0.9", "150", "15"),
    ]
    assert suggested([*past, NEW, LEAVE], FAIR) == "another"


def test_a_way_without_a_fair_chance_is_left_aside_however_cheap() -> None:
    gamble = way("failed", Kind.REPAIR, "0.49", "10", "0.10")
    assert suggested([gamble, KIT, NEW], FAIR) == "kit"


def test_an_even_chance_is_fair() -> None:
    assert suggested([way("failed", Kind.REPAIR, "0.5", "10", "0.10"), KIT], FAIR) == "failed"


def test_with_no_fair_chance_nothing_is_suggested() -> None:
    gambles = [
        way("failed", Kind.REPAIR, "0.2", "60", "0.90"),
        way("kit", Kind.REPAIR, "0.4", "60", "0.9"),
    ]
    assert suggested([*gambles, NEW, LEAVE], FAIR) is None


def test_unless_another_machine_beats_every_repair() -> None:
    gambles = [
        way("failed", Kind.REPAIR, "0.2", "260", "3.90"),
        way("kit", Kind.REPAIR, "0.4", "280", "4"),
    ]
    assert suggested([*gambles, NEW], FAIR) == "another"


def test_where_life_is_not_known_the_cost_decides_between_repairs() -> None:
    single = way("failed", Kind.REPAIR, "0.8", "88", None)
    kit = way("kit", Kind.REPAIR, "0.9", "72", None)
    assert suggested([single, kit, NEW, LEAVE], FAIR) == "kit"


def test_of_two_alike_the_one_with_the_lower_price_now() -> None:
    kit = way("kit", Kind.REPAIR, "0.9", "72", "1.09", now="70")
    single = way("failed", Kind.REPAIR, "0.9", "72", "1.09", now="60")
    assert suggested([kit, single], FAIR) == "failed"


def test_leaving_it_is_never_suggested() -> None:
    assert suggested([LEAVE], FAIR) is None
    assert suggested([LEAVE, NEW], FAIR) is None

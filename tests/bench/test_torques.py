from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.bench.checks import Catalogue, CatalogueError, Verdict
from shopdesk.bench.judging import judge
from shopdesk.bench.machines import Machine, Place
from shopdesk.bench.torques import Seat, load_plug_torques


def test_another_thread_is_judged_by_its_own_torque(
    shared: Path, catalogue: Catalogue, trimmer: Machine, sea_level: Place
) -> None:
    limit = load_plug_torques(shared)[("M10", Seat.GASKET)]
    check = catalogue.check("plug-torque")
    judged = judge(check, "8 ft lb", trimmer, sea_level, {"plug-torque": limit})
    assert judged.verdict is Verdict.PASS
    assert judge(check, "8 ft lb", trimmer, sea_level).verdict is Verdict.FAIL


def test_the_check_uses_the_same_figures_as_the_table(
    shared: Path, catalogue: Catalogue, trimmer: Machine
) -> None:
    m14 = load_plug_torques(shared)[("M14", Seat.GASKET)]
    limit = catalogue.check("plug-torque").limit_for(trimmer)
    assert limit is not None
    assert (limit.pass_from, limit.pass_to) == (m14.pass_from, m14.pass_to)
    assert m14.pass_from == Decimal("18.0")


def test_a_thread_written_twice_is_refused(tmp_path: Path) -> None:
    entry = (
        '[[plug]]\nthread="M14"\nseat="taper"\nunit="N·m"\npass_from=10\npass_to=20\nsource="x"\n'
    )
    (tmp_path / "torques.toml").write_text(entry * 2, encoding="utf-8")
    with pytest.raises(CatalogueError, match="stands here twice"):
        load_plug_torques(tmp_path)

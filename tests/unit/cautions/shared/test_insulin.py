"""Insulin by vein, told from insulin under the skin."""

from datetime import UTC, datetime

import pytest

from app.cautions.shared.insulin import insulin_runs
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.snapshot import Snapshot, Words

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


@pytest.mark.parametrize(
    ("written", "runs"),
    [
        ("insulin glargine 20 units at night", False),
        ("insulin 3 units/h", True),
        ("variable rate insulin", True),
    ],
)
def test_the_drug_chart_tells_an_infusion_from_a_dose_under_the_skin(
    written: str, runs: bool
) -> None:
    words = Words(frozenset({"insulin"}), detail={"insulin": written})
    assert insulin_runs(Case(Snapshot(NOW, medications=words))) is runs


def test_insulin_beside_the_fluids_or_in_a_bag_runs() -> None:
    beside = CoInfusion("insulin 3 units/h", "drug", key="insulin")
    assert insulin_runs(Case(Snapshot(NOW), (), (beside,)))
    dose = AdditiveDose("insulin", Composition(), "10 units")
    assert insulin_runs(
        Case(Snapshot(NOW), (Order("o1", "10% dextrose", None, additives=(dose,)),))
    )
    assert not insulin_runs(Case(Snapshot(NOW)))

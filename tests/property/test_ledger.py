"""Whatever is written beside the orders, the ledger adds up, and more never makes it less."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.intake.read import read_case
from app.review.ledger.amounts import COLUMNS
from app.review.ledger.ledger import Ledger, ledger_of
from app.storage.seed_files import read_fluids, read_vehicles, read_vocabulary
from tests.conftest import NOW

WHAT = (
    "meropenem", "piperacillin-tazobactam", "insulin", "red cells", "TPN", "albumin 20%",
    "potassium chloride 20 mmol", "norepinephrine", "0.9% sodium chloride", "moonlight", "",
)  # fmt: skip
HOW = (
    "", "1 g", "50 mg/kg", "in 100 mL", "in 50 mL 5% glucose", "2 units", "at 5 mL/h", "q8h",
    "q0h", "0 times a day", "continuous", "over 30 min", "over 24 h", "sodium 80 mmol",
)  # fmt: skip
CATALOGUE = read_fluids()[0]
VOCABULARY = read_vocabulary()
VEHICLES = read_vehicles(CATALOGUE)
NAMES = st.builds(
    lambda what, how: " ".join((what, *how)).strip(),
    st.sampled_from(WHAT), st.lists(st.sampled_from(HOW), max_size=4),
)  # fmt: skip
PATIENTS = st.sampled_from(
    ({}, {"age_years": 60, "weight_kg": 70}, {"age_years": 4}, {"age_years": 0.01, "weight_kg": 3})
)


@settings(deadline=None)
@given(names=st.lists(NAMES.filter(bool), min_size=1, max_size=4), patient=PATIENTS)
def test_the_sum_never_falls_when_one_more_thing_runs(
    names: list[str], patient: dict[str, float]
) -> None:
    def ledger(running: list[str]) -> Ledger:
        request = {"patient": patient, "co_infusions": [{"name": name} for name in running]}
        case = read_case(request, catalogue=CATALOGUE, vocabulary=VOCABULARY, now=NOW)
        return ledger_of(case, VEHICLES)

    less, more = ledger(names[:-1]), ledger(names)
    for column in COLUMNS:
        assert more.totals.of(column) >= less.totals.of(column) - 1e-9
        assert more.totals.of(column) == pytest.approx(
            sum(row.amounts.of(column) for row in more.rows)
        )
    assert more.at_least >= less.at_least

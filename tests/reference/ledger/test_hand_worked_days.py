"""Days of patients worked by hand, each with its arithmetic in patients/*.toml.

The share in intensive care is that of Van Regenmortel N, Verbrugghe W, Roelant E and others,
"Maintenance fluid therapy and fluid creep impose more significant fluid, sodium, and chloride
burdens than resuscitation fluids in critically ill patients", Intensive Care Med 2018;44:409-417,
abstract (seen): 32.6% of the mean daily volume. The patients are of our own invention.
"""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.review.ledger.amounts import MAIN
from app.review.ledger.ledger import Ledger, ledger_of
from tests.conftest import NOW

FILES = sorted((Path(__file__).parent / "patients").glob("*.toml"))
# One mL and one mmol are asked for; the sums are held to half of that.
WITHIN = 0.5


@pytest.fixture(params=FILES, ids=lambda path: path.stem)
def patient(request: pytest.FixtureRequest) -> dict[str, Any]:
    return tomllib.loads(request.param.read_text(encoding="utf-8"))


@pytest.fixture
def ledger(
    patient: dict[str, Any], catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> Ledger:
    case = read_case(patient["request"], catalogue=catalogue, vocabulary=vocabulary, now=NOW)
    return ledger_of(case, vehicles)


def test_the_sum_is_that_worked_by_hand(patient: dict[str, Any], ledger: Ledger) -> None:
    found = {column: ledger.totals.of(column) for column in MAIN}
    assert found == pytest.approx(patient["totals"], abs=WITHIN)


def test_what_could_not_be_counted_is_said(patient: dict[str, Any], ledger: Ledger) -> None:
    assert ledger.at_least & set(MAIN) == set(patient["at_least"])


def test_the_sum_is_that_of_its_rows(ledger: Ledger) -> None:
    for column in MAIN:
        assert sum(row.amounts.of(column) for row in ledger.rows) == pytest.approx(
            ledger.totals.of(column)
        )


def test_shares_make_a_whole(ledger: Ledger) -> None:
    shares = [ledger.share(row, "water_ml") or 0.0 for row in ledger.rows]
    assert sum(shares) == pytest.approx(1)


def day_of(
    name: str, catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> tuple[dict[str, Any], Ledger]:
    path = Path(__file__).parent / "patients" / f"{name}.toml"
    patient = tomllib.loads(path.read_text(encoding="utf-8"))
    case = read_case(patient["request"], catalogue=catalogue, vocabulary=vocabulary, now=NOW)
    return patient, ledger_of(case, vehicles)


def test_the_need_of_a_newborn_goes_by_the_day_of_life(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> None:
    patient, ledger = day_of("newborn-day-four", catalogue, vocabulary, vehicles)
    for column, low_high in patient["need"].items():
        assert ledger.need.by_column[column] == pytest.approx(tuple(low_high))


def test_in_intensive_care_a_third_of_the_water_was_not_ordered_as_fluid(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> None:
    patient, ledger = day_of("icu-septic-shock", catalogue, vocabulary, vehicles)
    hidden = ledger.hidden_share("water_ml")
    assert hidden == pytest.approx(patient["hidden_water_share"], abs=0.001)

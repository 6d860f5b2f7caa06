from pathlib import Path

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.review.ledger.ledger import ledger_of
from app.review.running.loads import running_loads
from app.storage.demo_files import DEMO, read_bed_file, read_unit_file
from tests.conftest import NOW
from tests.unit.review.running.conftest import RunningIn, brought_ml

SALINE = {
    "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 50, "purpose": "maintenance",
}  # fmt: skip
BEDS = sorted((DEMO / "patients").glob("*.toml"))
# The request of the outside interface, as INTERFACES has it.
SAMPLE = {
    "now": "2031-03-04T07:00:00Z",
    "setting": "adult ward",
    "patient": {"age_years": 61, "sex": "female", "weight_kg": 70},
    "orders": [
        {
            "id": "o1",
            "fluid": "lactated Ringer's",
            "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            "volume_ml": 1000, "rate_ml_h": 125, "duration_h": 8, "purpose": "maintenance",
        }
    ],
    "co_infusions": [{"name": "ceftriaxone 2 g over 30 min", "kind": "drug", "lumen": "p1"}],
}  # fmt: skip


def test_nothing_runs_where_nothing_is_ordered(running_in: RunningIn) -> None:
    running = running_in()
    assert running.loads == running.words == running.not_counted == ()


def test_the_order_that_is_looked_at_is_left_out_with_the_drug_in_its_bag(
    running_in: RunningIn,
) -> None:
    text = "meropenem 1 g in 100 mL 0.9% sodium chloride over 30 min q8h"
    both = running_in({"order_text": text}, SALINE)
    alone = running_in({"order_text": text}, SALINE, leave_out="o1")
    assert len(both.loads) == 4 and len(alone.loads) == 1
    assert alone.words == both.words[1:]


def test_an_order_on_hold_gives_nothing_and_is_said(running_in: RunningIn) -> None:
    running = running_in({"order_text": "0.9% sodium chloride 1 L at 125 mL/h, on hold"})
    assert not running.loads and "it does not run" in running.not_counted[0]


def test_what_is_still_to_come_is_said(running_in: RunningIn) -> None:
    running = running_in(infusions=("meropenem 1 g due tomorrow",))
    assert not running.loads and "still to come" in running.not_counted[0]


def test_a_drug_of_the_list_is_said_not_to_be_counted(running_in: RunningIn) -> None:
    patient = {"age_years": 60, "weight_kg": 70, "medications": ["meropenem", "paracetamol"]}
    running = running_in(SALINE, patient=patient)
    said = "Meropenem: on the drug list, and nothing says how it is given"
    assert running.not_counted == (said,)


def test_without_the_usual_vehicles_only_what_is_written_is_counted(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    case = read_case(SAMPLE, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
    running = running_loads(case, leave_out=None, hours=24)
    assert brought_ml(running.loads) == pytest.approx(3000)


def test_of_the_outside_interface_s_sample_all_is_counted(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> None:
    case = read_case(SAMPLE, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
    running = running_loads(case, leave_out=None, hours=24, vehicles=vehicles)
    ledger = ledger_of(case, vehicles)
    assert brought_ml(running.loads) == pytest.approx(ledger.totals.water_ml)
    potassium = sum(load.composition.potassium_mmol_l * load.volume_l for load in running.loads)
    assert potassium == pytest.approx(ledger.totals.potassium_mmol)


@pytest.mark.parametrize("hours", [4, 24])
@pytest.mark.parametrize("path", BEDS, ids=lambda path: path.stem)
def test_everything_of_every_demo_patient_is_counted_or_said(
    path: Path,
    hours: float,
    catalogue: Catalogue,
    vocabulary: Vocabulary,
    vehicles: Vehicles,
) -> None:
    now = read_unit_file().fixed_now or NOW
    request = read_bed_file(path).bed.request
    case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=now)
    running = running_loads(case, leave_out=None, hours=hours, vehicles=vehicles)
    sources = len(case.orders) + sum(1 for o in case.co_infusions if not o.carried_by)
    assert len(running.words) + len(running.not_counted) >= sources
    ahead = hours * 60
    assert all(load.duration_min > 0 for load in running.loads)
    assert all(load.volume_l > 0 or load.insulin_units > 0 for load in running.loads)
    assert all(0 <= load.starts_min < ahead for load in running.loads)
    # Never more than the day's ledger, which counts every bag from its beginning.
    day = ledger_of(case, vehicles).totals.water_ml
    assert brought_ml(running.loads, ahead) <= day + 1e-6

"""A fluid on the ward finds the trials that stand for it, or none."""

import pytest

from app.review.trials.fluids import (
    BANDS,
    band_of,
    band_text,
    dose_of,
    kind_of,
    trial_fluids_from,
)
from app.storage.seed_files import read_fluids
from tests.trials.files import read_trial_fluids, read_trial_rows

CATALOGUE, _ = read_fluids()
KINDS = {
    "sodium-chloride-0.9": "saline",
    "lactated-ringers": "balanced",
    "acetate-malate-balanced": "balanced",
    "sodium-chloride-3": "hypertonic",
    "albumin-4": "albumin",
    "albumin-5": "albumin",
    "albumin-20": "strong_albumin",
    "hydroxyethyl-starch-6": "colloid",
    "gelatin-4": "colloid",
    "dextrose-5": "dextrose",
    "potassium-chloride-concentrate": "potassium",
    "sodium-bicarbonate-8.4": "bicarbonate",
    "mannitol-20": "mannitol",
    "sodium-bicarbonate-1.4": "bicarbonate",
    "sodium-lactate-sixth-molar": "lactate",
    "sodium-chloride-0.45": "hypotonic",
    "dextrose-5-sodium-chloride-0.45": "hypotonic",
    "glucose-4-sodium-chloride-0.18": "hypotonic",
    "dextrose-10": None,
    "dextrose-10-sodium-chloride-0.45": None,
    "dextrose-5-lactated-ringers": None,
    "sterile-water": None,
}


@pytest.mark.parametrize(("fluid_id", "kind"), KINDS.items())
def test_a_fluid_is_of_the_kind_that_was_tried(fluid_id: str, kind: str | None) -> None:
    fluid = CATALOGUE.get(fluid_id)
    assert fluid is not None
    assert kind_of(fluid.composition) == kind


def test_every_row_has_its_fluid_and_every_fluid_a_kind() -> None:
    fluids = trial_fluids_from(read_trial_fluids(), CATALOGUE)
    assert {table["fluid_id"] for table, _ in read_trial_rows()} <= set(fluids)
    assert all(kind_of(fluid.composition) for fluid in fluids.values())


def test_a_fluid_that_nobody_knows_is_refused() -> None:
    with pytest.raises(KeyError, match="nothing-such"):
        trial_fluids_from({"catalogue": {"x": "nothing-such"}, "made": {}}, CATALOGUE)


def test_the_dose_is_counted_in_what_acts() -> None:
    fluids = trial_fluids_from(read_trial_fluids(), CATALOGUE)

    def dose(key: str, litres: float) -> float:
        fluid = fluids[key].composition
        kind = kind_of(fluid)
        assert kind is not None
        return dose_of(fluid, kind, volume_l=litres, weight_kg=70)

    assert dose("saline_0_9", 2.1) == pytest.approx(30)
    assert dose("kcl_40_in_100ml_saline", 0.1) == pytest.approx(40)
    assert dose("sodium_bicarbonate_8_4", 0.14) == pytest.approx(2)
    assert dose("saline_7_5", 0.28) == pytest.approx(5.132)
    assert dose("mannitol_20", 0.35) == pytest.approx(1)
    assert dose("sodium_lactate_half_molar", 0.35) == pytest.approx(2.5)
    assert dose("albumin_20", 0.21) == pytest.approx(3)


def test_a_dose_on_an_edge_belongs_below_it() -> None:
    assert band_of("saline", 15.0) == 0
    assert band_of("saline", 15.1) == 1
    assert band_of("saline", 500.0) == len(BANDS["saline"])


def test_a_band_reads_as_words() -> None:
    assert band_text("saline", 0) == "up to 15 mL/kg"
    assert band_text("saline", 1) == "15 to 40 mL/kg"
    assert band_text("potassium", 2) == "above 50 mmol"

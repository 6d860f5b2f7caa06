"""Sodium of drugs as their labels state it, in mg, against our figures in mmol per gram.

Seen in stored copies of the labels: piperacillin/tazobactam 4 g/0.5 g, meropenem 1 g, metronidazole
500 mg/100 mL, cefuroxime 750 mg, aciclovir 25 mg/mL, foscarnet 24 mg/mL, acetylcysteine 200 mg/mL
(summaries of product characteristics, section 2); ceftriaxone (US label, as quoted); valproate
(US label, description: molar mass 166.2). Molar mass of sodium 22.99 g/mol.
"""

import pytest

from app.catalogue.vehicles.vehicle import Vehicles

SODIUM_MG_MMOL = 22.99
# drug, mg of sodium on the label, in how many grams of drug
LABELS = [
    ("piperacillin_tazobactam", 217, 4.5), ("meropenem", 90, 1), ("ceftriaxone", 83, 1),
    ("cefuroxime", 42, 0.75), ("aciclovir", 2.67, 0.025), ("foscarnet", 1375, 6),
    ("n_acetylcysteine", 322.6, 2), ("valproate", 1000 * SODIUM_MG_MMOL / 166.2, 1),
]  # fmt: skip


@pytest.mark.parametrize(("drug", "sodium_mg", "grams"), LABELS)
def test_the_sodium_of_a_drug_is_that_of_its_label(
    vehicles: Vehicles, drug: str, sodium_mg: float, grams: float
) -> None:
    vehicle = vehicles.get(drug)
    assert vehicle
    assert vehicle.sodium_mmol_per_g == pytest.approx(sodium_mg / SODIUM_MG_MMOL / grams, rel=0.02)


def test_ready_made_metronidazole_holds_what_its_label_says(vehicles: Vehicles) -> None:
    metronidazole = vehicles.get("metronidazole")
    assert metronidazole and metronidazole.volume_ml == 100
    assert metronidazole.holds.sodium_mmol_l / 10 == 14
    assert metronidazole.holds.chloride_mmol_l == 130


@pytest.mark.parametrize("drug", [label[0] for label in LABELS])
def test_a_figure_seen_on_a_label_says_so(vehicles: Vehicles, drug: str) -> None:
    vehicle = vehicles.get(drug)
    assert vehicle
    seen = [source for source in vehicle.sources if source.seen]
    assert any("sodium_mmol_per_g" in source.covers and source.place for source in seen)


def test_blood_units_are_as_large_as_a_national_service_measures(vehicles: Vehicles) -> None:
    # Canadian Blood Services, component characteristics (seen): mean mL of a unit.
    means = {"whole_blood": (496, 496), "red_cells": (287, 287), "plasma": (289, 289),
             "platelets": (181, 277)}  # fmt: skip
    for key, (low, high) in means.items():
        unit = vehicles.get(key)
        assert unit and unit.volume_ml is not None
        assert low * 0.94 <= unit.volume_ml <= high * 1.06

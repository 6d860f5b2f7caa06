"""Every fault of the seed data is told by file, field, value and what is accepted."""

import shutil
from pathlib import Path

import pytest

from app.storage.check_data import faults_of_seed_data
from app.storage.seed_files import SEED_DATA


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SEED_DATA, tmp_path / "seed_data"))


def told(folder: Path, file: str, was: str, becomes: str) -> list[str]:
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert was in text
    path.write_text(text.replace(was, becomes, 1), encoding="utf-8")
    return list(map(str, faults_of_seed_data(folder)))


def test_what_is_shipped_is_sound() -> None:
    assert faults_of_seed_data() == ()


@pytest.mark.parametrize(
    ("file", "was", "becomes", "said"),
    [
        (
            "fluids/sodium-chloride-0.9.toml", "sodium = 154", "sodium = -1",
            "sodium-chloride-0.9.toml: composition_mmol_l.sodium: -1 is not accepted; "
            "accepted: a number, 0 or more",
        ),
        ("fluids/sodium-chloride-0.9.toml", "sodium = 154", "sodium = 145", "charge"),
        (
            "vehicles/blood.toml", 'fluid = "albumin-20"', 'fluid = "albumin-99"',
            "vehicles: blood.toml: albumin.fluid: 'albumin-99' is not accepted",
        ),
        (
            "vehicles/blood.toml", "[vehicle.red_cells]", "[vehicle.green_cells]",
            "vehicles: 'green_cells' is not accepted; accepted: a drug of the vocabulary",
        ),
        ("plasma.toml", "typical = ", "typical = 9999 #", "plasma.toml: "),
        ("vocabulary/drugs.toml", "[drug", "[[drug", "vocabulary: drugs.toml: not readable"),
        ("rule_examples/potassium.toml", 'rule = "k-hyper"', 'rule = "k-hypo"', "'k-hypo'"),
        ("rule_examples/potassium.toml", 'expect = "critical"', 'expect = "loud"', "expect"),
        ("rule_examples/potassium.toml", "age_years = ", "age_years = 9999 #\n", "potassium.toml"),
        ("demo/unit.toml", "Europe/Lisbon", "Europe/Nowhere", "unit.toml: zone: 'Europe/Nowhere'"),
        ("demo/stock.toml", 'state = "short"', 'state = "few"', "stock.toml: told[5].state: 'few'"),
        (
            "demo/stock.toml", 'fluid = "albumin-20"', 'fluid = "albumin-99"',
            "stock.toml: told[4].fluid: 'albumin-99' is not accepted",
        ),
        (
            "demo/patients/bed-05.toml", 'fluid = "D5W"', 'fluid = "blue water"',
            "bed-05.toml: 'orders[0].fluid' is doubtful",
        ),
        (
            "demo/patients/bed-05.toml", '"dementia"', '"dementor"',
            "bed-05.toml: 'dementor' is doubtful; accepted: a word of seed_data/vocabulary",
        ),
        (
            "demo/patients/bed-05.toml", "weight_kg = 55", "weight_kg = 5500",
            "bed-05.toml: 'patient.weight_kg' is doubtful",
        ),
        (
            "demo/patients/bed-24.toml", "dextrose saline 1 L", "glucose 5% with saline 0.45% 1 L",
            "bed-24.toml: asked: 'orders[0].fluid' leaves no doubt",
        ),
    ],
)  # fmt: skip
def test_a_fault_is_told_where_it_is(
    folder: Path, file: str, was: str, becomes: str, said: str
) -> None:
    faults = told(folder, file, was, becomes)
    assert any(said in fault for fault in faults), faults


def test_one_faulty_file_does_not_hide_the_next(folder: Path) -> None:
    told(folder, "demo/patients/bed-05.toml", "weight_kg = 55", "weight_kg = 5500")
    faults = told(folder, "demo/patients/bed-06.toml", "weight_kg = 78", "weight_kg = 7800")
    assert [fault.split(":")[0] for fault in faults] == ["bed-05.toml", "bed-06.toml"]

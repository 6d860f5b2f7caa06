"""Seed files are read one by one; a faulty one is told and left out."""

import shutil
from pathlib import Path

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.storage.seed_files import (
    SEED_DATA,
    SeedFault,
    read_fluids,
    read_plasma,
    read_toml,
    read_vehicles,
    read_vocabulary,
)


def test_every_fluid_comes_in_the_order_of_its_id() -> None:
    catalogue, faults = read_fluids()
    ids = [fluid.id for fluid in catalogue]
    assert faults == ()
    assert ids == sorted(ids)
    assert len(ids) == len(list((SEED_DATA / "fluids").glob("*.toml")))


def test_a_faulty_fluid_is_left_out_and_told_by_field(tmp_path: Path) -> None:
    for name in ("dextrose-5", "sterile-water"):
        shutil.copy(SEED_DATA / "fluids" / f"{name}.toml", tmp_path)
    path = tmp_path / "dextrose-5.toml"
    path.write_text(path.read_text().replace('id = "dextrose-5"', 'id = "dextrose-6"'))
    catalogue, faults = read_fluids(tmp_path)
    assert [fluid.id for fluid in catalogue] == ["sterile-water"]
    assert [fault.file for fault in faults] == ["dextrose-5.toml"]
    assert str(faults[0]).startswith("dextrose-5.toml: id: 'dextrose-6' is not accepted")


def test_bad_toml_is_told_with_file_and_line(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text('name = "ok"\nvalue = = 3\n', encoding="utf-8")
    with pytest.raises(ValueError, match=r"bad\.toml: not readable as TOML: .*line 2"):
        read_toml(path)


def test_bad_toml_among_the_fluids_is_a_fault_and_no_crash(tmp_path: Path) -> None:
    (tmp_path / "bad.toml").write_text("=", encoding="utf-8")
    faults = read_fluids(tmp_path)[1]
    assert len(faults) == 1
    assert isinstance(faults[0], SeedFault)


def test_plasma_holds_what_fluids_are_compared_with() -> None:
    plasma = read_plasma()
    assert all(plasma.get(key) for key in ("sodium", "potassium", "chloride"))


def test_the_vocabulary_knows_words_of_every_kind() -> None:
    vocabulary = read_vocabulary()
    assert vocabulary.conditions.get("aki")
    assert vocabulary.drugs.get("ceftriaxone")
    assert vocabulary.analytes.get("potassium")


def test_a_vehicle_told_twice_is_refused_with_its_file(
    tmp_path: Path, catalogue: Catalogue
) -> None:
    for name in ("a", "b"):
        shutil.copy(SEED_DATA / "vehicles" / "blood.toml", tmp_path / f"{name}.toml")
    with pytest.raises(EntryError, match=r"b\.toml: red_cells.*told twice"):
        read_vehicles(catalogue, tmp_path)


def test_lines_are_flushed_with_a_fluid_of_the_catalogue(catalogue: Catalogue) -> None:
    flush = read_vehicles(catalogue).flush
    assert flush and flush.id == "sodium-chloride-0.9"

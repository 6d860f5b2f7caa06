"""A file of vehicles is told field by field what is wrong with it."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.vehicles.reading import vehicles_from

SOURCE = [{"work": "common practice, no source"}]
ENTRY: dict[str, Any] = {
    "dose": "500 mg", "doses_per_day": 3, "fluid": "sodium-chloride-0.9", "volume_ml": 100,
    "volume_range_ml": [50, 100], "flush_ml": 20, "sodium_mmol_per_g": 2.1,
}  # fmt: skip


def file(**changes: object) -> dict[str, Any]:
    entry = {name: value for name, value in {**ENTRY, **changes}.items() if value is not None}
    return {"source": SOURCE, "vehicle": {"meropenem": entry}}


def test_an_entry_is_read(catalogue: Catalogue) -> None:
    (vehicle,) = vehicles_from(file(), catalogue)
    assert (vehicle.dose_g, vehicle.doses_per_day, vehicle.volume_ml) == (0.5, 3, 100)
    assert vehicle.fluid and vehicle.fluid.id == "sodium-chloride-0.9"
    assert vehicle.sources[0].seen is False


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"fluid": "blue-water"}, "meropenem.fluid"), ({"fluid": None}, "meropenem.fluid"),
        ({"dose": "1 spoon"}, "meropenem.dose"), ({"volume_ml": -1}, "meropenem.volume_ml"),
        ({"volume_ml": None}, "meropenem.volume_ml"), ({"colour": "blue"}, "meropenem.colour"),
        ({"volume_range_ml": [200, 300]}, "meropenem.volume_range_ml"),
        ({"volume_range_ml": 100}, "meropenem.volume_range_ml"),
        ({"sodium_mmol_per_g": "much"}, "meropenem.sodium_mmol_per_g"),
        ({"holds_mmol_l": {"gold": 1}}, "composition_mmol_l.gold"),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named(
    catalogue: Catalogue, changes: dict[str, object], field: str
) -> None:
    with pytest.raises(EntryError) as refused:
        vehicles_from(file(**changes), catalogue)
    assert refused.value.field == field


def test_an_entry_without_any_source_is_refused(catalogue: Catalogue) -> None:
    with pytest.raises(EntryError, match="source"):
        vehicles_from({"vehicle": {"meropenem": ENTRY}}, catalogue)


def test_a_solution_that_is_its_own_vehicle_holds_what_its_label_says(
    catalogue: Catalogue,
) -> None:
    ready = file(fluid="itself", holds_mmol_l={"sodium": 140, "chloride": 130})
    (vehicle,) = vehicles_from(ready, catalogue)
    assert vehicle.fluid is None and vehicle.holds.sodium_mmol_l == 140


def test_an_infusion_that_runs_all_day_needs_no_volume(catalogue: Catalogue) -> None:
    running = file(runs_all_day=True, volume_ml=None, volume_range_ml=None)
    assert vehicles_from(running, catalogue)[0].volume_ml is None

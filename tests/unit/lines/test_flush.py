"""How a lumen is flushed."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.source import NO_SOURCE
from app.lines.flush import SALINE, SETTINGS, TIMES_FILLED, FlushFluid, FlushSetting, flush_of


@pytest.mark.parametrize("site", SETTINGS)
def test_a_flush_fills_the_lumen_twice_and_is_no_less_than_usual(site: str) -> None:
    flush = flush_of(site)  # type: ignore[arg-type]
    assert flush.volume_ml >= TIMES_FILLED * flush.dead_space_ml
    assert flush.source.work == NO_SOURCE


def test_a_long_lumen_takes_more_than_the_least() -> None:
    setting = {"central": FlushSetting(dead_space_ml=6, least_ml=10)}
    assert flush_of("central", settings=setting).volume_ml == 12  # type: ignore[arg-type]


def test_volume_fluid_and_rate_are_said() -> None:
    glucose = FlushFluid("dextrose-5", "5% glucose")
    assert flush_of("central", glucose).words == (
        "Flush with 10 mL of 5% glucose: the first 2 mL no faster than what ran before, the rest "
        "over about 1 min"
    )


def test_the_usual_flush_is_a_fluid_of_the_catalogue(catalogue: Catalogue) -> None:
    fluid = catalogue.get(SALINE.id)
    assert fluid is not None
    assert fluid.composition.sodium_mmol_l == 154

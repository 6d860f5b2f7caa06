import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.chemistry.composition import Composition
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose

KCL_20 = AdditiveDose(
    "potassium_chloride",
    Composition(potassium_mmol_l=20, chloride_mmol_l=20),
    "potassium chloride 20 mmol",
)


def saline(catalogue: Catalogue) -> Fluid:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid
    return fluid


def test_twenty_mmol_in_half_a_litre_is_forty_in_each_litre(catalogue: Catalogue) -> None:
    mix = mixture(saline(catalogue), [KCL_20], 500)
    assert mix
    assert mix.potassium_mmol_l == pytest.approx(40)
    assert mix.chloride_mmol_l == pytest.approx(194)


def test_an_amount_written_per_litre_needs_no_volume(catalogue: Catalogue) -> None:
    per_litre = AdditiveDose("potassium_chloride", KCL_20.added, "20 mmol/L", per_litre=True)
    mix = mixture(saline(catalogue), [per_litre], None)
    assert mix
    assert mix.potassium_mmol_l == pytest.approx(20)


def test_a_total_without_a_volume_cannot_be_spread(catalogue: Catalogue) -> None:
    assert mixture(saline(catalogue), [KCL_20], None) is None


def test_an_additive_that_was_not_read_leaves_the_mix_unknown(catalogue: Catalogue) -> None:
    unread = AdditiveDose("", Composition(), "one ampoule", unread="no amount")
    assert mixture(saline(catalogue), [unread], 1000) is None

"""A slip of the hand is asked about, with what was likely meant."""

from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.labels.slips import Slip, slips_of
from app.chemistry.composition import Composition
from app.chemistry.substances import IONS

RINGERS = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip


def only(typed: Composition, before: Composition | None = RINGERS) -> Slip:
    (slip,) = slips_of(typed, before)
    return slip


@pytest.mark.parametrize(
    ("changed", "instead", "why"),
    [
        ({"calcium_mmol_l": 2.7}, 1.35, "mEq/L typed for mmol/L"),
        ({"calcium_mmol_l": 0.675}, 1.35, "mmol/L taken for mEq/L"),
        ({"sodium_mmol_l": 13.0}, 130, "point slipped"),
        ({"potassium_mmol_l": 40.0}, 4, "point slipped"),
        ({"sodium_mmol_l": 65.0}, 130, "amount in 500 mL"),
        ({"chloride_mmol_l": 218.0}, 109, "amount in 2 L"),
        ({"sodium_mmol_l": 103.0}, 130, "digits exchanged"),
    ],
)
def test_the_usual_slips_are_asked_about(
    changed: dict[str, float], instead: float, why: str
) -> None:
    slip = only(replace(RINGERS, **changed))  # type: ignore[arg-type]
    assert slip.instead_mmol_l == instead
    assert why in str(slip)
    assert f"{instead:g} mmol/L" in str(slip)


def test_a_new_entry_is_asked_by_its_charges_alone() -> None:
    told = slips_of(Composition(sodium_mmol_l=145, chloride_mmol_l=154), None)
    assert [(slip.name, slip.instead_mmol_l) for slip in told] == [
        ("sodium", 154),
        ("chloride", 145),
    ]


def test_a_meant_change_is_not_asked_about() -> None:
    meant = replace(RINGERS, potassium_mmol_l=5.4, chloride_mmol_l=110.4)
    assert slips_of(meant, RINGERS) == ()
    assert slips_of(RINGERS, RINGERS) == ()


def test_no_label_in_the_catalogue_looks_slipped(catalogue: Catalogue) -> None:
    told = [(one.id, slip) for one in catalogue for slip in slips_of(one.composition, None)]
    assert told == []


def test_any_one_ion_with_its_point_slipped_is_asked_about(catalogue: Catalogue) -> None:
    for one in catalogue:
        for ion in IONS:
            amount = one.composition.ion_mmol_l(ion.key)
            if not amount:
                continue
            slipped = replace(one.composition, **{f"{ion.key}_mmol_l": amount * 10})
            fields = [slip.field for slip in slips_of(slipped, one.composition)]
            assert f"composition_mmol_l.{ion.key}" in fields, one.id


def test_chloride_on_no_label_closes_nothing() -> None:
    assert slips_of(Composition(sodium_mmol_l=145, chloride_mmol_l=None), None) == ()

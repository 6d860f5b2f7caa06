"""Ions and solutes."""

from app.chemistry.substances import ANIONS, CATIONS, ION_BY_KEY, IONS, PHOSPHATE


def test_phosphate_alone_has_no_fixed_charge() -> None:
    assert [ion.key for ion in IONS if ion.charge is None] == [PHOSPHATE.key]


def test_cations_are_positive_and_anions_negative() -> None:
    assert all((ion.charge or 0) > 0 for ion in CATIONS)
    assert all((ion.charge or -1) < 0 for ion in ANIONS)


def test_the_organic_anions_and_bicarbonate_itself_make_bicarbonate() -> None:
    yields = {ion.key for ion in IONS if ion.bicarbonate_yield}
    assert yields == {
        "lactate", "acetate", "gluconate", "malate", "bicarbonate", "citrate",
    }  # fmt: skip


def test_an_ion_is_found_by_its_key() -> None:
    assert ION_BY_KEY["calcium"].charge == 2

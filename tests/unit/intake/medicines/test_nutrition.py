"""What nutrition's words say of it."""

import pytest

from app.intake.medicines.nutrition import FREE_OF, free_of, osmolarity_in

ALL = {"calcium", "potassium", "phosphate", "magnesium"}


@pytest.mark.parametrize(
    ("written", "ions"),
    [("tpn (calcium-free)", {"calcium"}), ("pn (no ca)", {"calcium"}),
     ("k-free tpn", {"potassium"}), ("tpn w/o calcium 60 ml/h", {"calcium"}),
     ("pn nil potassium", {"potassium"}),
     ("tpn k 0 mmol", {"potassium"}), ("no added calcium", {"calcium"}),
     ("pn without electrolytes", ALL), ("tpn k 30 mmol/l, ca 0.5 mmol/l", set()),
     ("no cardiac history", set()), ("potassium chloride 0.3%", set()), ("500 mg 0", set())],
)  # fmt: skip
def test_an_ion_denied_is_not_in_the_bag(written: str, ions: set[str]) -> None:
    assert free_of(written) == ions
    assert free_of(FREE_OF.sub(" ", written)) == set()


@pytest.mark.parametrize(
    ("written", "mosm_l"),
    [("TPN 1,450 mosmol/l", 1450), ("PPN (osm 750) via hand", 750), ("PN 1250 mOsm/L", 1250),
     ("osmolarity approx 780", 780), ("PN 80 mL/h", None)],
)  # fmt: skip
def test_an_osmolarity_is_read_with_or_without_its_unit(written: str, mosm_l: float | None) -> None:
    assert osmolarity_in(written) == mosm_l

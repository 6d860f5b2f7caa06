"""Two teachings of acid-base: by hand, over the published groups, and against what was measured."""

from dataclasses import dataclass

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.physiology.acid_base_ways import (
    Way,
    by_bicarbonate,
    by_strong_ions,
    direction_of,
    disagree,
    why_they_differ,
)
from app.physiology.course.parameters import PARAMETERS
from app.review.trials.fluids import trial_fluids_from
from app.review.trials.group import groups_of
from app.review.trials.rows import Comparison, comparisons_of, row_from
from tests.trials.files import read_trial_fluids, read_trial_rows

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
RINGER = Composition(
    sodium_mmol_l=130,
    potassium_mmol_l=4,
    calcium_mmol_l=1.35,
    chloride_mmol_l=109,
    lactate_mmol_l=28,
)
GELATIN = Composition(
    sodium_mmol_l=154, chloride_mmol_l=120, gelatin_g_l=40, colloid_charge_meq_l=-34
)


def strong(fluid: Composition, bicarbonate: float = 24) -> Way | None:
    return by_strong_ions(fluid, volume_l=2, bicarbonate_mmol_l=bicarbonate, space_l=15)


def plain(fluid: Composition, bicarbonate: float = 24) -> Way:
    return by_bicarbonate(fluid, volume_l=2, bicarbonate_mmol_l=bicarbonate, space_l=15)


def test_two_litres_of_saline_by_hand() -> None:
    """Nothing brought, 48 mmol needed, over 17 L: −2.82 mmol/L."""
    for way in (strong(SALINE), plain(SALINE)):
        assert way is not None
        assert (way.brought_mmol, way.needed_mmol) == (0, 48)
        assert way.change_mmol_l == pytest.approx(-2.82, abs=0.005)
        assert way.direction == "down"


def test_two_litres_of_ringer_s_by_hand() -> None:
    """Difference 27.7: (55.4 − 48) / 17; bicarbonate of 28: (56 − 48) / 17. Too little to see."""
    one, two = strong(RINGER), plain(RINGER)
    assert one is not None
    assert one.change_mmol_l == pytest.approx(0.435, abs=0.001)
    assert two.change_mmol_l == pytest.approx(0.471, abs=0.001)
    assert one.direction == two.direction == "hardly"
    low = strong(RINGER, 10)
    assert low is not None
    assert low.direction == plain(RINGER, 10).direction == "up"


def test_a_colloid_s_own_charge_makes_them_disagree() -> None:
    assert disagree(strong(GELATIN), plain(GELATIN))
    assert why_they_differ(GELATIN) == (
        "its gelatin carries 34 mEq/L itself, which never becomes bicarbonate",
    )
    assert why_they_differ(SALINE) == ()


def test_phosphate_and_a_label_that_does_not_balance_are_named() -> None:
    fluid = Composition(sodium_mmol_l=20, phosphate_mmol_l=5)
    assert why_they_differ(fluid) == (
        "its phosphate carries 9 mEq/L, which stays", "the charges on its label differ by 11 mEq/L"
    )  # fmt: skip


def test_without_chloride_on_the_label_there_is_one_teaching_only() -> None:
    fluid = Composition(sodium_mmol_l=140, chloride_mmol_l=None)
    assert strong(fluid) is None
    assert not disagree(None, plain(fluid))


# Measured changes against both teachings, each with its reason.
AGAINST_BOTH = {
    "mcfarlane1994:AG@219": "from memory, under surgery; gluconate leaves unused, as the page says",
}
SHOWN = ("hco3_mmol_l", "sbe_mmol_l")


@dataclass(frozen=True)
class Taught:
    """One published row, which way both teachings send it, and the change that was measured."""

    row: str
    fluid: Composition
    strong: Way | None
    plain: Way
    measured: float | None


@pytest.fixture(scope="module")
def taught(catalogue: Catalogue) -> list[Taught]:
    """Every row but those that compare two fluids."""
    fluids = trial_fluids_from(read_trial_fluids(), catalogue)
    rows = [row_from(table, held_out=held_out) for table, held_out in read_trial_rows()]
    found = []
    for one in comparisons_of(rows):
        if one.row.kind != "difference":
            fluid = fluids[one.row.fluid_id].composition
            group = groups_of(one, fluid)[0]
            given = (group.load.volume_l, group.subject.bicarbonate_mmol_l, group.subject.water_l)
            found.append(Taught(one.row.id, fluid, *ways(fluid, *given), measured(one)))
    return found


def ways(
    fluid: Composition, volume_l: float, bicarbonate: float, water_l: float
) -> tuple[Way | None, Way]:
    given = {
        "volume_l": volume_l,
        "bicarbonate_mmol_l": bicarbonate,
        "space_l": PARAMETERS["ecf_share"].mid * water_l,
    }
    return by_strong_ions(fluid, **given), by_bicarbonate(fluid, **given)


def measured(one: Comparison) -> float | None:
    for column in SHOWN:
        if column not in one.row.values:
            continue
        value = one.row.values[column]
        if one.row.kind == "change":
            return value
        if column in one.baseline:
            return value - one.baseline[column]
    return None


def test_over_the_published_groups_both_name_one_direction_or_the_reason_is_said(
    taught: list[Taught],
) -> None:
    assert len(taught) > 50
    apart = [one for one in taught if disagree(one.strong, one.plain)]
    assert len(apart) < len(taught) / 10, [one.row for one in apart]
    for one in apart:
        assert why_they_differ(one.fluid), one.row


def test_what_both_name_is_what_was_measured(taught: list[Taught]) -> None:
    told = [one for one in taught if one.measured is not None and one.strong is not None]
    clear = [one for one in told if "hardly" not in (one.strong.direction, one.plain.direction)]  # type: ignore[union-attr]
    assert len(clear) > 10
    wrong = {
        one.row
        for one in clear
        if direction_of(one.measured or 0.0) not in (one.plain.direction, "hardly")
    }
    assert wrong == set(AGAINST_BOTH)

"""What each infusion is called in a plan."""

from app.cautions.shared.substances import infusions_of
from app.review.lines.bedside.naming import names_of
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, RED_CELLS, CaseOf


def test_things_go_by_their_plain_names(case_of: CaseOf) -> None:
    case = case_of(CALCIUM_FLUID, co=[RED_CELLS])
    assert names_of(infusions_of(case)) == ("compound sodium lactate", "red cells")


def test_what_is_not_one_fluid_goes_by_what_was_written(case_of: CaseOf) -> None:
    case = case_of(CALCIUM_FLUID | {"fluid": "dextrose saline"})
    assert names_of(infusions_of(case)) == ("“dextrose saline”",)


def test_two_of_one_name_are_told_apart(case_of: CaseOf) -> None:
    case = case_of(CALCIUM_FLUID, CALCIUM_FLUID | {"id": "o2", "rate_ml_h": 20})
    assert names_of(infusions_of(case)) == (
        "compound sodium lactate at 80 mL/h (1)", "compound sodium lactate at 20 mL/h (2)",
    )  # fmt: skip

"""Who has fewer lumens than infusions due: a count that needs no plan."""

from collections.abc import Mapping

from app.patient.case import Case
from app.review.lines.bedside.due import Due, due_of
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, CEFTRIAXONE, TWO, CaseOf


def test_what_runs_and_what_is_due_count_once_each(case_of: CaseOf, means: Means) -> None:
    often = {"name": "hydrocortisone 50 mg over 5 min q2h", "kind": "drug"}
    due = due_of(case_of(CALCIUM_FLUID, co=[often], access=TWO), means.vehicles)
    assert due == Due(infusions=2, lumens=2)
    assert not due.is_short


def test_what_comes_later_than_four_hours_does_not_count(case_of: CaseOf, means: Means) -> None:
    later = CALCIUM_FLUID | {"id": "o2", "starts_at": "2031-03-04T13:00:00Z"}
    assert due_of(case_of(CALCIUM_FLUID, later), means.vehicles) == Due(1, 1)


def test_an_order_without_a_rate_needs_a_lumen_all_the_same(case_of: CaseOf, means: Means) -> None:
    order = {"id": "o2", "fluid": "0.9% sodium chloride", "volume_ml": 1000}
    assert due_of(case_of(CALCIUM_FLUID, order), means.vehicles).is_short


def test_a_failed_lumen_carries_nothing(case_of: CaseOf, means: Means) -> None:
    case = case_of(CALCIUM_FLUID, co=[CEFTRIAXONE], access=TWO)
    assert due_of(case, means.vehicles, frozenset({"left hand"})) == Due(2, 1)


def test_the_demo_unit_has_some_who_are_short(demo: Mapping[str, Case], means: Means) -> None:
    short = {bed for bed, case in demo.items() if due_of(case, means.vehicles).is_short}
    assert short == {"03", "09", "11", "20", "25"}

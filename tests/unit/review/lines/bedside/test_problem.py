"""A case as a line problem: nothing is dropped without a word."""

from collections.abc import Mapping

import pytest

from app.cautions.shared.substances import infusions_of
from app.patient.case import Case
from app.review.lines.bedside.problem import Means, bedside_of
from tests.unit.review.lines.bedside.conftest import (
    CALCIUM_FLUID,
    CEFTRIAXONE,
    CENTRAL,
    ONE,
    PRESSOR,
    RED_CELLS,
    TWO,
    CaseOf,
)

SALINE = {"id": "o2", "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 40,
          "purpose": "maintenance"}  # fmt: skip


def test_a_mixed_case_has_kinds_names_and_where_it_runs(case_of: CaseOf, means: Means) -> None:
    case = case_of(CALCIUM_FLUID, co=[CEFTRIAXONE, RED_CELLS])
    fluid, drug, blood = bedside_of(case, means).problem.infusions
    assert (fluid.kind, fluid.name, fluid.stays_on) == (
        "continuous", "compound sodium lactate", "left hand",
    )  # fmt: skip
    assert (fluid.may_pause, fluid.max_pause_min) == (True, 240)
    assert (drug.kind, drug.duration_min) == ("intermittent", 30)
    assert (blood.kind, blood.exclusive) == ("blood", True)


def test_blood_may_run_beside_plain_salt_solution_alone(case_of: CaseOf, means: Means) -> None:
    salty = SALINE | {"id": "o3", "additives": [
        {"substance": "potassium chloride", "amount": 20, "unit": "mmol"},
    ]}  # fmt: skip
    case = case_of(CALCIUM_FLUID, SALINE, salty, co=[RED_CELLS])
    blood = bedside_of(case, means).problem.infusions[-1]
    assert blood.may_share_with_exclusive == {"o2"}


def test_pairs_are_kept_apart_for_every_dose_with_the_reason(case_of: CaseOf, means: Means) -> None:
    often = {"name": "ceftriaxone 1 g over 30 min q8h", "kind": "drug"}
    problem = bedside_of(case_of(CALCIUM_FLUID, co=[often]), means).problem
    pairs = {rule.pair for rule in problem.keep_apart}
    assert pairs == {("o1", "co_infusions[0] #1"), ("o1", "co_infusions[0] #2")}
    assert all("crystals" in rule.why for rule in problem.keep_apart)
    assert {one.order_id for one in problem.infusions[1:]} == {"co_infusions[0]"}
    assert problem.infusions[2].name == "ceftriaxone, dose 2"


def test_a_pair_barred_for_the_patient_is_told_as_such(
    demo: Mapping[str, Case], means: Means
) -> None:
    assert "patient" in {rule.scope for rule in bedside_of(demo["20"], means).problem.keep_apart}


def test_what_is_vasoactive_has_its_role_and_never_stops(case_of: CaseOf, means: Means) -> None:
    (drug,) = bedside_of(case_of(co=[PRESSOR]), means).problem.infusions
    assert (drug.role, drug.may_pause, drug.needs_central) == ("vasoactive", False, False)


def test_with_a_central_lumen_it_is_planned_there_and_that_is_said(
    case_of: CaseOf, means: Means
) -> None:
    bedside = bedside_of(case_of(co=[PRESSOR], access=(*ONE, CENTRAL)), means)
    assert bedside.problem.infusions[0].needs_central
    assert any("is planned by a central lumen" in note for note in bedside.notes)


@pytest.mark.parametrize(
    ("drug", "beside"), [("insulin 3 units/h", "c"), ("fentanyl 50 microg/h infusion", None)]
)
def test_a_drug_that_runs_stays_with_its_carrier_unless_the_two_are_kept_apart(
    case_of: CaseOf, means: Means, drug: str, beside: str | None
) -> None:
    carrier = SALINE | {"id": "c", "purpose": "carrier", "lumen": "neck", "rate_ml_h": 10}
    other = {"name": drug, "kind": "drug", "lumen": "neck"}
    bedside = bedside_of(case_of(carrier, co=[other], access=(*ONE, CENTRAL)), means)
    assert bedside.problem.infusions[1].beside == beside
    assert bool(bedside.problem.keep_apart) == (beside is None)


def test_what_cannot_be_planned_is_named_with_the_reason(case_of: CaseOf, means: Means) -> None:
    order = {"id": "o9", "fluid": "0.9% sodium chloride", "volume_ml": 1000}
    bedside = bedside_of(
        case_of(CALCIUM_FLUID, order, co=[{"name": "the blue one", "kind": "drug"}],
                medications=["benzylpenicillin"]),
        means,
    )  # fmt: skip
    told = dict(bedside.not_planned)
    assert told["0.9% sodium chloride"].startswith("no rate is written")
    assert told["The blue one"].startswith("how long it takes")
    assert "nothing says how it is given" in told["Benzylpenicillin"]


def test_a_name_that_is_not_understood_is_kept_apart_from_everything_and_said(
    case_of: CaseOf, means: Means
) -> None:
    strange = CALCIUM_FLUID | {"id": "o2", "fluid": "the green bag"}
    bedside = bedside_of(case_of(SALINE | {"id": "o1"}, strange), means)
    assert {rule.pair for rule in bedside.problem.keep_apart} == {("o1", "o2")}
    assert any("is kept apart from everything" in note for note in bedside.notes)


def test_blood_that_takes_longer_than_it_may_is_not_planned(case_of: CaseOf, means: Means) -> None:
    slow = {"name": "red cells 1 unit over 5 h", "kind": "blood"}
    bedside = bedside_of(case_of(co=[slow]), means)
    assert bedside.items == ()
    ((name, why),) = bedside.not_planned
    assert name == "Red cells"
    assert "longer than the 4 h" in why


def test_only_what_is_connected_now_stays_or_moves_in_the_steps(
    case_of: CaseOf, means: Means
) -> None:
    placed = CEFTRIAXONE | {"lumen": "right hand"}
    bedside = bedside_of(case_of(CALCIUM_FLUID, co=[placed], access=TWO), means)
    wished = [one.stays_on for one in bedside.problem.infusions]
    told = [one.stays_on for one in bedside.told.infusions]
    assert wished == ["left hand", "right hand"]
    assert told == ["left hand", None]


def test_what_runs_on_a_lumen_nobody_recorded_is_said(case_of: CaseOf, means: Means) -> None:
    bedside = bedside_of(
        case_of(CALCIUM_FLUID | {"lumen": None}), means, prefer={"o1": "left hand"}
    )
    assert bedside.problem.infusions[0].stays_on == "left hand"
    assert bedside.told.infusions[0].stays_on is None
    assert "Compound sodium lactate: which lumen it runs on is not recorded." in bedside.notes


def test_what_salt_solution_spoils_is_flushed_with_glucose(case_of: CaseOf, means: Means) -> None:
    case = case_of(CALCIUM_FLUID, co=[
        {"name": "amphotericin B 50 mg over 4 h", "kind": "drug"}, CEFTRIAXONE,
    ])  # fmt: skip
    bedside = bedside_of(case, means)
    assert {key: fluid.id for key, fluid in bedside.flush_with.items()} == {
        "co_infusions[0]": "dextrose-5"
    }


@pytest.mark.parametrize("bed", [f"{number:02}" for number in range(1, 26)])
def test_everything_of_a_demo_patient_is_planned_or_named(
    demo: Mapping[str, Case], means: Means, bed: str
) -> None:
    bedside = bedside_of(demo[bed], means)
    planned = {item.source for item in bedside.items}
    running = len(infusions_of(demo[bed]))
    listed = [why for _, why in bedside.not_planned if "on the drug list" not in why]
    assert len(planned) + len(listed) + len(bedside.later) == running

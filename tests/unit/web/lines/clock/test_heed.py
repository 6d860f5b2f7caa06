"""What to see to before the first step."""

from dataclasses import replace

from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from app.web.lines.clock.heed import NO_PLAN, heed_of
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, PRESSOR, TWO, CaseOf
from tests.unit.review.lines.bedside.conftest import case_of as case_of
from tests.unit.review.lines.bedside.conftest import knowledge as knowledge
from tests.unit.web.lines.conftest import BedOf, PageOf, PlanOf


def heed(plan_of: PlanOf, bed_of: BedOf, bed: str, *failed: str) -> tuple[str, ...]:
    return heed_of(plan_of(bed, *failed), bed_of(bed).review.case, ())


def test_a_drug_that_must_not_stop_comes_first(plan_of: PlanOf, bed_of: BedOf) -> None:
    first, *_ = heed(plan_of, bed_of, "25", "right elbow")
    assert first == "Norepinephrine must not stop: put it on left forearm before all else."
    first, *_ = heed(plan_of, bed_of, "03", "right forearm")
    assert first == (
        "Insulin must not stop and has no lumen until new cannula 1 is in: call for help now, and "
        "see to this before all else."
    )


def test_a_name_of_several_fluids_is_asked_about(plan_of: PlanOf, bed_of: BedOf) -> None:
    first, *_ = heed(plan_of, bed_of, "24")
    assert first.startswith("“dextrose saline” may mean 4% glucose in 0.18% sodium chloride (UK), ")
    assert first.endswith(", or 2 more: ask which it is before it goes on.")


def test_insulin_and_the_fluids_that_end_beside_it(plan_of: PlanOf, bed_of: BedOf) -> None:
    assert heed(plan_of, bed_of, "03")[:2] == (
        "Insulin runs on when 0.9% sodium chloride with potassium chloride ends at 11:12: ask what "
        "follows before then.",
        "Insulin must not run on when 10% glucose ends at 18:18: ask for glucose before.",
    )


def test_first_doses_are_looked_up(plan_of: PlanOf, bed_of: BedOf) -> None:
    assert heed(plan_of, bed_of, "25") == (
        "When ceftriaxone and metronidazole were last given is not written: the plan takes the "
        "first as due now. See the chart.",
    )


def test_without_a_plan_nothing_new_is_started(plan_of: PlanOf, bed_of: BedOf) -> None:
    assert heed(plan_of, bed_of, "20")[-1] == NO_PLAN


def test_an_unknown_age_is_told_where_something_is_flushed(plan_of: PlanOf, bed_of: BedOf) -> None:
    case = bed_of("25").review.case
    unknown = replace(case, patient=replace(case.patient, age_years=None, setting=None))
    assert "The age is not known" in heed_of(plan_of("25"), unknown, ())[-1]
    assert heed_of(plan_of("07"), unknown, ()) == ()


def test_lumens_nobody_looked_at_are_on_the_page(page_of: PageOf) -> None:
    assert "Look at both lumens first" in page_of("25").heed[0]


def test_a_failed_lumen_that_carried_what_burns_is_looked_at_for_a_leak(
    plan_of: PlanOf, bed_of: BedOf
) -> None:
    leak = "which harms beside the vein: look for a leak before the line comes out"
    _, second, *_ = heed(plan_of, bed_of, "25", "right elbow")
    assert second.startswith(f"Right elbow carried norepinephrine, {leak}")
    assert not any(leak in one for one in heed(plan_of, bed_of, "25", "left forearm"))
    assert (
        "Left forearm carried 0.9% sodium chloride with potassium chloride and 10% glucose, which "
        "harm beside the vein: look for a leak before the line comes out, and act by local policy."
    ) in heed(plan_of, bed_of, "03", "left forearm")


def test_no_first_dose_is_spoken_of_where_none_is_planned(plan_of: PlanOf, bed_of: BedOf) -> None:
    assert not any("due now" in one for one in heed(plan_of, bed_of, "20"))


def test_two_that_run_on_one_lumen_and_must_not_are_named(case_of: CaseOf, means: Means) -> None:
    case = case_of(CALCIUM_FLUID, co=[PRESSOR | {"lumen": "left hand"}], access=TWO)
    assert heed_of(plan_bedside(case, means), case, ()) == (
        "Compound sodium lactate and norepinephrine are both written on left hand now and are to "
        "be kept apart: nobody has told us of these two.",
    )


def test_insulin_whose_glucose_lost_its_lumen_is_asked_about_at_once(
    plan_of: PlanOf, bed_of: BedOf
) -> None:
    first, second, *_ = heed(plan_of, bed_of, "03", "left forearm")
    assert first.startswith("10% glucose must not stop and has no lumen until new cannula 1 is in")
    assert second == (
        "Until 10% glucose runs again insulin has no glucose beside it: ask at once whether it "
        "stops meanwhile, and measure glucose."
    )
    assert not any("measure glucose" in one for one in heed(plan_of, bed_of, "03"))


def test_where_no_plan_holds_what_lost_its_lumen_is_still_the_first_thing(
    case_of: CaseOf, means: Means
) -> None:
    nutrition = {"name": "parenteral nutrition 80 mL/h", "kind": "nutrition", "lumen": "neck"}
    access = (*TWO, {"id": "neck", "site": "central"})
    case = case_of(co=[nutrition], access=access)
    made = plan_bedside(case, means, frozenset({"neck"}))
    assert made.found.solution.plan is None
    first, *_, last = heed_of(made, case, ())
    assert first == (
        "Parenteral nutrition must not stop and has no lumen: call for help now, and see to this "
        "before all else."
    )
    assert last == NO_PLAN


def test_what_moves_for_the_better_is_no_emergency(case_of: CaseOf, means: Means) -> None:
    here = PRESSOR | {"lumen": "left hand"}
    case = case_of(co=[here], access=(*TWO, {"id": "neck", "site": "central"}))
    assert heed_of(plan_bedside(case, means), case, ()) == ()

"""Ways out in words, with the hour of the clock."""

from datetime import UTC, datetime

from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from app.web.lines.ways import ways_of
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, CaseOf
from tests.unit.review.lines.bedside.conftest import case_of as case_of
from tests.unit.review.lines.bedside.conftest import knowledge as knowledge
from tests.unit.web.lines.conftest import PlanOf

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def test_a_dose_to_be_moved_says_when_and_how_far_from_its_time(plan_of: PlanOf) -> None:
    changes = [way.change for way in ways_of(plan_of("09"), "bed-09", NOW)]
    assert (
        "Give red cells at 09:40, 1 h 5 min past its latest start, 08:35: ask the prescriber."
        in changes
    )


def test_resuscitation_that_runs_is_not_put_off(plan_of: PlanOf) -> None:
    changes = " ".join(way.change for way in ways_of(plan_of("09"), "bed-09", NOW))
    assert "Give lactated Ringer's at" not in changes
    assert "Hold lactated" not in changes


def test_another_fluid_leads_to_its_review_in_the_orders_place(plan_of: PlanOf) -> None:
    ways = ways_of(plan_of("09"), "bed-09", NOW)
    (other,) = (way for way in ways if "0.9% sodium chloride instead" in way.change)
    assert other.href.startswith("/orders/new?patient=bed-09&instead=o1&fluid=0.9%25+sodium")
    assert "finds nothing loud that is new" in other.more


def test_a_vasoactive_drug_is_never_to_be_left_out(plan_of: PlanOf) -> None:
    changes = " ".join(way.change for way in ways_of(plan_of("25", "left forearm"), "bed-25", NOW))
    assert "Place one more peripheral cannula" in changes
    assert "Leave out norepinephrine" not in changes


def test_a_pair_that_may_be_settled_leads_to_what_is_known_of_it(plan_of: PlanOf) -> None:
    *_, settled = ways_of(plan_of("03", "left forearm"), "bed-03", NOW)
    assert settled.change.startswith("10% glucose with insulin: a pharmacist may know")
    assert settled.href == "/co-infusion?thing=10%25+glucose&thing=insulin"
    assert settled.effect.startswith("Everything then runs;")


def test_a_newborn_barred_from_both_is_offered_no_cannula(plan_of: PlanOf) -> None:
    ways = ways_of(plan_of("20"), "bed-20", NOW)
    (one,) = ways
    assert one.change == (
        "Do not give ceftriaxone, by whatever way: ask the prescriber at once what to give."
    )
    assert one.effect == "Parenteral nutrition that was given bars it all the same."


def test_insulin_and_the_glucose_beside_it_are_neither_stopped_nor_left_out(
    plan_of: PlanOf,
) -> None:
    for failed in ("right forearm", "left forearm"):
        ways = ways_of(plan_of("03", failed), "bed-03", NOW)
        assert any(way.change == "Place one more peripheral cannula." for way in ways)
        said = " ".join(way.change for way in ways)
        assert not any(word in said for word in ("stand still", "Leave out", "Hold"))


def test_blood_is_not_called_off_for_want_of_a_lumen(plan_of: PlanOf) -> None:
    said = " ".join(way.change for way in ways_of(plan_of("09"), "bed-09", NOW))
    assert "Leave out red cells" not in said


def test_no_dose_is_moved_to_the_next_one(case_of: CaseOf, means: Means) -> None:
    """Phenytoin at 13:30 and again at 15:00 would be two doses at once."""
    drugs = [
        {"name": "amiodarone 900 mg in 500 mL 5% glucose over 24 h", "kind": "drug",
         "lumen": "neck"},
        {"name": "phenytoin 1 g over 60 min", "kind": "drug"},
        {"name": "vancomycin 1 g over 120 min 12-hourly", "kind": "drug"},
    ]  # fmt: skip
    access = ({"id": "left hand", "site": "peripheral"}, {"id": "neck", "site": "central"})
    made = plan_bedside(case_of(CALCIUM_FLUID, co=drugs, access=access), means)
    assert any(way.kind == "move" for way in made.found.ways)
    assert not any(way.change.startswith("Give") for way in ways_of(made, "x", NOW))


def test_what_may_be_left_out_is_one_sentence(case_of: CaseOf, means: Means) -> None:
    drugs = [{"name": f"{name} over 60 min once daily", "kind": "drug"} for name in (
        "gentamicin 300 mg", "vancomycin 1 g",
    )]  # fmt: skip
    made = plan_bedside(case_of(co=drugs), means)
    (one,) = (way for way in ways_of(made, "x", NOW) if way.change.startswith("Leave out"))
    assert one.change.startswith("Leave out gentamicin or vancomycin, or give")

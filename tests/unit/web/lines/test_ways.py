"""Ways out in words, with the hour of the clock."""

from datetime import UTC, datetime

from app.web.lines.ways import ways_of
from tests.unit.web.lines.conftest import PlanOf

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def test_a_dose_to_be_moved_says_when_and_how_far_from_its_time(plan_of: PlanOf) -> None:
    changes = [way.change for way in ways_of(plan_of("09"), "bed-09", NOW)]
    assert changes[0] == (
        "Give red cells at 09:40, 1 h 5 min after its time (start 07:05 to 08:35): ask the "
        "prescriber."
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
    assert [way.change.partition(",")[0] for way in ways] == [
        "Leave out ceftriaxone", "Leave out parenteral nutrition",
    ]  # fmt: skip

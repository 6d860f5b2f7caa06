"""A way out is judged by the whole review, never by nearness alone."""

from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import State, Stock, StockState
from app.cautions.assess import Found, Ruleset
from app.patient.mixture import mixture
from app.review.assess import Review, review
from app.review.way_out import Alternative, WaysOut, alternatives
from tests.unit.review.conftest import KCL_20, ReviewOf, loud, maintenance, result

ONE_LINE = [{"id": "p1", "site": "peripheral"}]
RED_CELLS = {"name": "red cells", "kind": "blood", "lumen": "p1"}
KNOWN = [result("potassium", 4.1), result("sodium", 139), result("creatinine", 80, "umol/L")]


SALINE = "sodium-chloride-0.9"


def stocked(fluid_id: str, state: State) -> Stock:
    """A ward that was told this of one fluid and nothing of the others."""
    return Stock({fluid_id: StockState(state)})


def found_in(reviewed: Review, rule_id: str) -> Found:
    return next(f for f in reviewed.all_found if f.rule.id == rule_id)


@pytest.fixture
def beside_blood(review_of: ReviewOf) -> Review:
    order = maintenance("lactated Ringer's", lumen="p1")
    return review_of(order, access=ONE_LINE, co_infusions=[RED_CELLS], observations=KNOWN)


def ways(
    reviewed: Review, rule_id: str, catalogue: Catalogue, ruleset: Ruleset
) -> tuple[Alternative, ...]:
    order = reviewed.case.orders[0]
    found = found_in(reviewed, rule_id)
    return alternatives(found, order, reviewed.case, catalogue, ruleset)


def test_beside_blood_calcium_free_fluids_are_offered(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    offered = ways(beside_blood, "blood-calcium", catalogue, ruleset)
    assert 1 <= len(offered) <= 3
    assert "sodium-chloride-0.9" in {way.fluid.id for way in offered}
    assert all(way.fluid.composition.calcium_mmol_l == 0 for way in offered)
    assert all("no calcium" in way.why for way in offered)


def test_an_offer_reviewed_again_brings_nothing_loud(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    order = beside_blood.case.orders[0]
    for way in ways(beside_blood, "blood-calcium", catalogue, ruleset):
        mix = mixture(way.fluid, order.additives, order.volume_ml)
        swapped = replace(order, fluid=way.fluid, mix=mix)
        case = replace(beside_blood.case, orders=(swapped,))
        assert not loud(review(case, ruleset)), way.fluid.id


def test_what_is_never_hung_is_never_offered(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    offered = ways(beside_blood, "blood-calcium", catalogue, ruleset)
    assert not [way for way in offered if way.fluid.never_hung]


def test_what_is_out_of_stock_is_never_offered(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    order = beside_blood.case.orders[0]
    asked = WaysOut(order, beside_blood.case, catalogue, ruleset, stock=stocked(SALINE, "out"))
    offered = asked.alternatives(found_in(beside_blood, "blood-calcium"))
    assert offered
    assert SALINE not in {way.fluid.id for way in offered}


def test_the_same_bag_without_its_potassium_is_not_offered_when_the_bag_is_withdrawn(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    high = [result("potassium", 5.9), result("creatinine", 80, "umol/L")]
    reviewed = review_of(
        maintenance("0.9% sodium chloride", additives=KCL_20), observations=high, sex="male"
    )
    stock = stocked(SALINE, "withdrawn")
    asked = WaysOut.of(reviewed, catalogue, ruleset, stock)[reviewed.case.orders[0].id]
    offered = asked.alternatives(found_in(reviewed, "k-hyper"))
    assert offered
    assert SALINE not in {way.fluid.id for way in offered}


def test_a_way_out_says_where_its_fluid_is(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    order = beside_blood.case.orders[0]
    stock = stocked(SALINE, "in pharmacy")
    asked = WaysOut(order, beside_blood.case, catalogue, ruleset, stock=stock)
    offered = asked.alternatives(found_in(beside_blood, "blood-calcium"))
    assert {way.fluid.id: way.stock.state for way in offered}[SALINE] == "in pharmacy"
    assert "not told" in {way.stock.state for way in offered}


def test_where_potassium_is_the_trouble_it_is_left_out(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    high = [result("potassium", 5.9), result("creatinine", 80, "umol/L")]
    reviewed = review_of(
        maintenance("0.9% sodium chloride", additives=KCL_20), observations=high, sex="male"
    )
    offered = ways(reviewed, "k-hyper", catalogue, ruleset)
    assert offered[0].fluid.id == "sodium-chloride-0.9"
    assert all(way.drops_potassium for way in offered)
    assert "without the added potassium" in offered[0].why


def test_a_hypotonic_fluid_in_hyponatraemia_has_an_isotonic_way_out(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    low = [result("sodium", 128), result("potassium", 4.1), result("creatinine", 80, "umol/L")]
    reviewed = review_of(maintenance("0.45% sodium chloride"), observations=low)
    offered = ways(reviewed, "na-hypotonic-low", catalogue, ruleset)
    assert offered
    assert all(way.fluid.tonicity_class == "isotonic" for way in offered)


def test_no_fluid_clears_a_missing_rate(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    reviewed = review_of({"fluid": "0.9% sodium chloride", "volume_ml": 1000})
    assert ways(reviewed, "ord-rate-missing", catalogue, ruleset) == ()


def test_information_needs_no_way_out(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    reviewed = review_of(maintenance("0.9% sodium chloride"))
    assert ways(reviewed, "ord-sodium-total", catalogue, ruleset) == ()


def test_glucose_is_not_offered_to_someone_who_was_given_none(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    offered = ways(beside_blood, "blood-calcium", catalogue, ruleset)
    assert all(way.fluid.composition.glucose_g_l == 0 for way in offered)


def test_one_composition_is_offered_once(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    offered = ways(beside_blood, "blood-calcium", catalogue, ruleset)
    assert len({way.fluid.composition for way in offered}) == len(offered)


def test_alkalosis_from_gastric_losses_is_offered_fluids_without_buffer(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    reviewed = review_of(
        {
            "fluid": "multiple electrolytes injection, type 1, pH 7.4",
            "rate_ml_h": 100,
            "volume_ml": 1000,
            "purpose": "replacement",
        },
        conditions=["vomiting"],
        observations=[result("bicarbonate", 37), result("ph", 7.55, "1"), result("chloride", 88)],
    )
    offered = ways(reviewed, "buf-alkalosis", catalogue, ruleset)
    assert offered
    assert not [way for way in offered if way.fluid.is_buffered]


def test_ketoacidosis_without_potassium_is_offered_premixed_potassium(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    saline = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "purpose": "replacement"}
    reviewed = review_of(
        {**saline, "rate_ml_h": 250},
        conditions=["diabetic ketoacidosis"],
        observations=[*KNOWN, result("glucose", 20), result("ph", 7.1, "1")],
        urine_ml_h=80,
        co_infusions=[{"name": "insulin 6 units/h", "kind": "drug"}],
    )
    offered = ways(reviewed, "k-dka-none", catalogue, ruleset)
    assert offered
    assert all(way.fluid.composition.potassium_mmol_l >= 20 for way in offered)
    assert all(way.fluid.composition.sodium_mmol_l == 154 for way in offered)


def test_a_childs_hypotonic_fluid_gives_way_to_one_near_plasma_with_glucose(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    order = maintenance("5% dextrose in 0.45% sodium chloride", 60, volume_ml=500)
    known = [result("sodium", 138), result("potassium", 4.0)]
    reviewed = review_of(order, age_years=6, weight_kg=20, observations=known)
    best = ways(reviewed, "na-hypotonic-child", catalogue, ruleset)[0].fluid
    assert best.composition.glucose_g_l > 0
    assert best.composition.sodium_mmol_l >= 131


def test_beside_ceftriaxone_no_weaker_fluid_is_offered_and_the_additive_is_told(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    drug = {"name": "ceftriaxone 2 g", "kind": "drug", "lumen": "p1"}
    order = maintenance("lactated Ringer's", additives=KCL_20, lumen="p1")
    reviewed = review_of(
        order, access=ONE_LINE, co_infusions=[drug], observations=KNOWN, sex="male"
    )
    offered = ways(reviewed, "cef-ca-sameline", catalogue, ruleset)
    assert offered[0].fluid.id == "sodium-chloride-0.9"
    assert all(way.fluid.tonicity_class == "isotonic" for way in offered)
    assert all("with 20 mmol potassium chloride as ordered" in way.why for way in offered)


def test_only_plain_isotonic_crystalloids_resuscitate(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    bolus = {"fluid": "5% dextrose", "volume_ml": 500, "rate_ml_h": 1000}
    reviewed = review_of({**bolus, "purpose": "resuscitation"}, conditions=["hypovolaemia"])
    offered = ways(reviewed, "res-hypotonic", catalogue, ruleset)
    assert offered
    for way in offered:
        assert way.fluid.tonicity_class == "isotonic"
        assert way.fluid.composition.glucose_g_l == 0
        assert "no glucose" in way.why.lower()


def test_premixed_potassium_gives_way_to_a_fluid_and_never_to_a_treatment(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    high = [result("potassium", 6.0), result("creatinine", 80, "umol/L")]
    reviewed = review_of(
        maintenance("potassium chloride 20 mmol/L in 0.9% sodium chloride"),
        observations=high,
        sex="male",
    )
    offered = ways(reviewed, "k-hyper", catalogue, ruleset)
    assert offered[0].fluid.id == "sodium-chloride-0.9"
    assert "sodium-lactate-sixth-molar" not in {way.fluid.id for way in offered}


def test_the_fluid_that_the_advice_names_comes_first(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    reviewed = review_of(
        maintenance("lactated Ringer's"),
        conditions=["traumatic brain injury"],
        observations=KNOWN,
    )
    assert ways(reviewed, "na-brain", catalogue, ruleset)[0].fluid.id == "sodium-chloride-0.9"


def test_asked_of_a_whole_review_the_offers_are_those_of_each_finding_alone(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    high = [result("potassium", 5.9), result("creatinine", 310, "umol/L"), result("sodium", 139)]
    order = maintenance("lactated Ringer's", additives=KCL_20, lumen="p1")
    reviewed = review_of(order, access=ONE_LINE, co_infusions=[RED_CELLS], observations=high)
    at_once = WaysOut.of(reviewed, catalogue, ruleset)[reviewed.orders[0].order.id]
    found = reviewed.orders[0].found
    assert len([f for f in found if at_once.alternatives(f)]) > 1
    for one in (*found, *reversed(found)):
        alone = alternatives(one, reviewed.case.orders[0], reviewed.case, catalogue, ruleset)
        assert at_once.alternatives(one) == alone, one.rule.id


def test_stand_ins_are_reviewed_in_the_orders_place(
    beside_blood: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    order = beside_blood.case.orders[0]
    ways_out = WaysOut(order, beside_blood.case, catalogue, ruleset)
    fluids = {fluid.id: fluid for fluid in ways_out.stand_ins()}
    assert order.fluid is not None
    assert order.fluid.id not in fluids
    assert ways_out.case_with(fluids[SALINE]).orders[0].fluid is fluids[SALINE]
    assert ways_out.brings_nothing(fluids[SALINE])
    for fluid in fluids.values():
        more = loud(review(ways_out.case_with(fluid), ruleset)) - loud(beside_blood)
        assert not (more and ways_out.brings_nothing(fluid)), fluid.id


def test_what_is_no_one_fluid_has_no_stand_in(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    reviewed = review_of(maintenance("the green bag"))
    ways_out = WaysOut(reviewed.case.orders[0], reviewed.case, catalogue, ruleset)
    assert ways_out.stand_ins() == ()

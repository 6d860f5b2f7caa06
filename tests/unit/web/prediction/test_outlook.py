"""A what-if answered: what runs, what is assumed, and what stands beside it."""

from dataclasses import replace
from types import MappingProxyType

import pytest
from fastapi import FastAPI

from app.review.running.loads import Running
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.prediction.asked import Asked, Bag, Then
from app.web.prediction.outlook import Outlook, outlook_of, step_min
from app.web.prediction.panels import QUANTITIES, Panel
from app.web.prediction.person import Person, person_of


def bag(app: FastAPI, mark: str, fluid_id: str, potassium_mmol: float = 0) -> Bag:
    fluid = app.state.knowledge.catalogue.get(fluid_id)
    assert fluid is not None
    return Bag(mark, fluid, potassium_mmol)


def outlook(app: FastAPI, person: Person, *bags: Bag, horizon_h: float = 8) -> Outlook:
    asked = Asked(bags, volume_ml=1000, minutes=240, horizon_h=horizon_h, patient="bed-04")
    found = outlook_of(asked, person, app.state.knowledge.ruleset.limits)
    assert found is not None
    return found


def end(panel: Panel, bag: int = 0) -> float:
    return float(str(panel.rows[-1].cells[bag].mid))


def panel(found: Outlook, name: str) -> Panel:
    return next(p for p in found.panels if p.name == name)


ADULT = Person(weight_kg=70, age_years=40, sex="male", results=MappingProxyType({"sodium": 140}))


def test_nothing_is_told_while_volume_or_time_is_wanting(app: FastAPI) -> None:
    saline = bag(app, "A", "sodium-chloride-0.9")
    asked = Asked((saline,), volume_ml=1000)
    assert outlook_of(asked, ADULT, app.state.knowledge.ruleset.limits) is None


def test_every_quantity_has_its_panel_with_a_band(app: FastAPI) -> None:
    found = outlook(app, ADULT, bag(app, "A", "sodium-chloride-0.9"))
    assert [p.key for p in found.panels] == [q.key for q in QUANTITIES]
    assert all(track.band for p in found.panels for track in p.plot.tracks)


def test_saline_raises_chloride_more_than_a_buffered_fluid(app: FastAPI) -> None:
    pair = bag(app, "A", "sodium-chloride-0.9"), bag(app, "B", "lactated-ringers")
    found = outlook(app, ADULT, *pair)
    chloride, bicarbonate = panel(found, "Chloride"), panel(found, "Bicarbonate")
    assert end(chloride, 0) > end(chloride, 1)
    assert end(bicarbonate, 0) < end(bicarbonate, 1)


def test_the_same_fluid_is_tried_with_and_without_potassium(app: FastAPI) -> None:
    pair = bag(app, "A", "sodium-chloride-0.9", 40), bag(app, "B", "sodium-chloride-0.9")
    found = outlook(app, ADULT, *pair, horizon_h=4)
    potassium = panel(found, "Potassium")
    assert end(potassium, 0) > end(potassium, 1)
    assert "potassium 10 mmol/h" in found.given[0].pace
    assert "potassium" not in found.given[1].pace


def test_limits_stand_in_the_picture_of_sodium_alone(app: FastAPI) -> None:
    low = replace(ADULT, results={"sodium": 118})
    found = outlook(app, low, bag(app, "A", "sodium-chloride-0.9"))
    assert {p.name for p in found.panels if p.plot.bounds} == {"Sodium"}
    normal = outlook(app, ADULT, bag(app, "A", "sodium-chloride-0.9"))
    assert {p.name for p in normal.panels if p.plot.bounds} == set()
    assert "under 130" in panel(normal, "Sodium").note


def test_what_is_assumed_is_told_with_its_reason(app: FastAPI) -> None:
    found = outlook(app, ADULT, bag(app, "A", "sodium-chloride-0.9"))
    assert "chloride 104 mmol/L (a usual value)" in found.assumed
    assert not any(one.startswith("sodium ") for one in found.assumed)
    assert found.not_modelled
    assert "Urine is not counted" in found.losses


def test_potassium_that_runs_fast_is_said_to_stand_higher_at_the_heart(app: FastAPI) -> None:
    fluid, limits = bag(app, "A", "sodium-chloride-0.9", 40), app.state.knowledge.ruleset.limits
    said = []
    for minutes in (30, 240):
        found = outlook_of(Asked((fluid,), volume_ml=100, minutes=minutes), ADULT, limits)
        assert found is not None
        said.append([text for text in found.not_modelled if "heart" in text])
    assert len(said[0]) == 1 and not said[1]


@pytest.fixture
def bed_04(app: FastAPI) -> Bedside:
    with reading(app.state.engine) as session:
        found = review_patient(session, app.state.knowledge, "bed-04")
    assert found is not None
    return found


def test_a_patient_s_urine_and_results_are_counted_and_an_order_can_be_checked(
    app: FastAPI, bed_04: Bedside
) -> None:
    found = outlook(app, person_of(Asked(), bed_04), bag(app, "A", "sodium-chloride-0.9", 20))
    assert found.losses.startswith("Urine is counted as 20 mL/h throughout, with sodium 100")
    check = found.given[0].check
    assert check.startswith("/orders/new?patient=bed-04&fluid=0.9%25+sodium+chloride&volume=1000")
    assert check.endswith("additive=potassium+chloride&amount=20&unit=mmol")
    assert panel(found, "Sodium").plot.dots


@pytest.mark.parametrize(("horizon_h", "step"), [(4, 5), (8, 10), (12, 10), (24, 20)])
def test_the_further_is_looked_the_coarser_it_is(horizon_h: float, step: float) -> None:
    assert step_min(horizon_h) == step


def test_the_end_of_the_bag_is_met_however_far_is_looked(app: FastAPI) -> None:
    fluid = bag(app, "A", "lactated-ringers")
    limits = app.state.knowledge.ruleset.limits
    peaks = []
    for horizon_h in (4, 24):
        asked = Asked((fluid,), volume_ml=500, minutes=7, horizon_h=horizon_h)
        found = outlook_of(asked, ADULT, limits)
        assert found is not None
        assert found.glance.still is not None
        peaks.append(int(str(found.glance.still.moments[0].cells[0].mid)))
    assert peaks[0] > 300
    assert abs(peaks[0] - peaks[1]) <= 10


def test_what_follows_runs_after_and_is_named(app: FastAPI) -> None:
    water = Then(bag(app, "", "glucose-5"), 1000, 240)
    asked = Asked((bag(app, "A", "sodium-chloride-0.9"),), volume_ml=1000, minutes=240, then=water)
    limits = app.state.knowledge.ruleset.limits
    with_water, without = (
        outlook_of(one, ADULT, limits) for one in (asked, replace(asked, then=None))
    )
    assert with_water is not None
    assert without is not None
    assert "over 4 h" in with_water.then
    assert without.then == ""
    before, after = (panel(with_water, "Sodium").rows, panel(without, "Sodium").rows)
    assert before[4].at == "4 h"
    assert str(before[4].cells[0].mid) == str(after[4].cells[0].mid)
    lowest = [min(float(str(row.cells[0].mid)) for row in rows) for rows in (before, after)]
    assert lowest[0] < lowest[1]


def test_what_else_runs_is_counted_and_named(app: FastAPI) -> None:
    water = bag(app, "", "glucose-5")
    beside = Running((water.load(2000, 480),), ("5% glucose at 250 mL/h",), ("a drug: not told",))
    asked = Asked((bag(app, "A", "sodium-chloride-0.9"),), volume_ml=1000, minutes=240)
    limits = app.state.knowledge.ruleset.limits
    with_it, without = outlook_of(asked, ADULT, limits, beside), outlook_of(asked, ADULT, limits)
    assert with_it is not None
    assert without is not None
    lowest = [
        min(float(str(row.cells[0].mid)) for row in panel(one, "Sodium").rows)
        for one in (with_it, without)
    ]
    assert lowest[0] < lowest[1]
    assert with_it.beside.words == ("5% glucose at 250 mL/h",)


def test_the_words_beside_the_pictures_are_of_both_bags(app: FastAPI) -> None:
    pair = bag(app, "A", "sodium-chloride-0.9", 20), bag(app, "B", "lactated-ringers")
    found = outlook(app, ADULT, *pair)
    assert [one.mark for one in found.acid_base] == ["A", "B"]
    assert [one.mark for one in found.vein] == ["A", "B"]
    assert found.potassium is not None
    assert found.glance.marks == ("A", "B")
    assert found.by_hand.rows

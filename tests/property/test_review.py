"""What must hold of every review, whoever the patient is."""

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.cautions.rule import LEVELS
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.reply import reply_of
from app.review.workflow import review_request
from tests.conftest import NOW

KNOWN = Knowledge.from_seed()
FLUIDS = [fluid.name for fluid in KNOWN.catalogue]
CALCIUM_FREE = [f.name for f in KNOWN.catalogue if not f.composition.calcium_mmol_l]
CONDITIONS = [
    "AKI stage 3", "CKD 5", "heart failure", "SIADH", "DKA", "traumatic brain injury",
    "cirrhosis", "sepsis", "post-op day 1", "burns 30%", "no kidney disease", "SAH",
]  # fmt: skip
CO_INFUSIONS = [
    "red cells 1 unit", "ceftriaxone 2 g", "insulin 50 units in 50 mL", "norepinephrine 5 mL/h",
    "parenteral nutrition", "furosemide 40 mg", "platelets",
]  # fmt: skip
QUICK = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)

results = st.fixed_dictionaries(
    {},
    optional={
        "potassium": st.floats(2, 7.5),
        "sodium": st.floats(105, 170),
        "creatinine": st.floats(30, 900),
        "bicarbonate": st.floats(8, 45),
        "glucose": st.floats(2, 40),
    },
)
orders = st.fixed_dictionaries(
    {"fluid": st.sampled_from(FLUIDS)},
    optional={
        "volume_ml": st.sampled_from([100, 250, 500, 1000]),
        "rate_ml_h": st.floats(5, 999).map(lambda x: round(x, 1)),
        "purpose": st.sampled_from(["maintenance", "resuscitation", "replacement", "carrier"]),
        "lumen": st.sampled_from(["p1", "c1"]),
    },
)


def observation(name: str, value: float) -> dict[str, Any]:
    unit = "umol/L" if name == "creatinine" else "mmol/L"
    taken = "2031-03-04T06:00:00Z"
    return {"name": name, "value": round(value, 1), "unit": unit, "taken_at": taken}


@st.composite
def requests(draw: st.DrawFn) -> dict[str, Any]:
    """A request as a ward might send it, with anything left out."""
    age, weight = draw(st.sampled_from([(0.02, 3.4), (6, 20), (40, 70), (82, 55)]))
    patient: dict[str, Any] = {
        "age_years": age,
        "conditions": draw(st.lists(st.sampled_from(CONDITIONS), max_size=3, unique=True)),
        "observations": [observation(n, v) for n, v in draw(results).items()],
        "access": [{"id": "p1", "site": "peripheral"}, {"id": "c1", "site": "central"}],
    }
    if draw(st.booleans()):
        patient["weight_kg"] = weight
    running = draw(st.lists(st.sampled_from(CO_INFUSIONS), max_size=2, unique=True))
    return {
        "patient": patient,
        "orders": [{"id": f"o{n}", **o} for n, o in enumerate(draw(st.lists(orders, max_size=3)))],
        "co_infusions": [{"name": name, "lumen": "p1"} for name in running],
    }


def reviewed(request: dict[str, Any]) -> Review:
    return review_request(request, KNOWN, now=NOW)


@QUICK
@given(requests())
def test_every_review_can_be_told_and_every_sentence_is_short(request: dict[str, Any]) -> None:
    review = reviewed(request)
    reply = reply_of(review, KNOWN.catalogue, KNOWN.ruleset, KNOWN.vehicles)
    assert [order["id"] for order in reply["orders"]] == [o["id"] for o in request["orders"]]
    for found in review.all_found:
        assert 0 < len(found.finding.summary) <= 139
        assert found.finding.summary.endswith((".", "?"))
        assert found.rule.sources


@QUICK
@given(requests())
def test_the_same_request_gives_the_same_review(request: dict[str, Any]) -> None:
    assert reviewed(request).all_found == reviewed(request).all_found


@QUICK
@given(requests())
def test_nothing_that_could_not_run_is_passed_over_in_silence(request: dict[str, Any]) -> None:
    for order in reviewed(request).orders:
        for lack in order.not_assessed:
            assert lack.needs
            assert lack.why in ("missing", "stale", "suspect")


@QUICK
@given(requests())
def test_loads_are_never_below_nothing(request: dict[str, Any]) -> None:
    for order in reviewed(request).orders:
        assert all(value is None or value >= 0 for value in order.loads.values())


def potassium_level(value: float) -> int:
    """Rank of what is said of 40 mmol potassium in a litre, at a potassium result."""
    request = {
        "setting": "adult ward",
        "patient": {
            "age_years": 60, "sex": "male", "weight_kg": 70, "urine_ml_h": 60,
            "observations": [observation("potassium", value), observation("creatinine", 80)],
        },
        "orders": [{
            "id": "o1", "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100,
            "purpose": "maintenance",
            "additives": [{"substance": "potassium chloride", "amount": 40, "unit": "mmol"}],
        }],
    }  # fmt: skip
    found = [f for f in reviewed(request).all_found if f.rule.id == "k-hyper"]
    return min((LEVELS.index(f.finding.level) for f in found), default=len(LEVELS))


@pytest.mark.parametrize("step", range(30))
def test_a_higher_potassium_is_never_taken_more_lightly(step: int) -> None:
    low = 3.5 + step / 10
    assert potassium_level(low + 0.1) <= potassium_level(low)


@QUICK
@given(st.sampled_from(CALCIUM_FREE), st.sampled_from([60, 125, 500]))
def test_a_fluid_without_calcium_is_never_said_to_clot_blood(fluid: str, rate: int) -> None:
    request = {
        "patient": {"age_years": 60, "access": [{"id": "p1", "site": "peripheral"}]},
        "orders": [
            {"id": "o1", "fluid": fluid, "volume_ml": 500, "rate_ml_h": rate, "lumen": "p1"}
        ],
        "co_infusions": [{"name": "red cells 1 unit", "kind": "blood", "lumen": "p1"}],
    }
    assert "blood-calcium" not in {found.rule.id for found in reviewed(request).all_found}

import pytest

from app.cautions.example import blanked, examples_of, request_of, without_patient

SHORT = {
    "rule": "k-hyper",
    "title": "A title",
    "expect": "critical",
    "needs": ["potassium"],
    "order": {"fluid": "0.9% sodium chloride", "rate_ml_h": 125, "lumen": "p1"},
    "patient": {
        "weight_kg": 70,
        "results": {"potassium": 5.9, "creatinine": 200},
        "hours_old": {"creatinine": 30},
    },
    "co_infusions": [{"name": "red cells", "lumen": "p1"}],
    "setting": "ICU",
}


def test_a_short_example_becomes_a_whole_request() -> None:
    request = request_of(SHORT)
    assert request["now"] == "2031-03-04T07:00:00Z"
    assert request["orders"] == [{"id": "o1", **SHORT["order"]}]  # type: ignore[dict-item]
    assert request["setting"] == "ICU"
    potassium, creatinine = request["patient"]["observations"]
    assert potassium == {
        "name": "potassium",
        "value": 5.9,
        "unit": "mmol/L",
        "taken_at": "2031-03-04T06:00:00Z",
    }
    assert (creatinine["unit"], creatinine["taken_at"]) == ("umol/L", "2031-03-03T01:00:00Z")
    assert "results" not in request["patient"]


def test_several_orders_are_numbered_and_keep_their_own_ids() -> None:
    request = request_of({"orders": [{"fluid": "a"}, {"id": "night", "fluid": "b"}]})
    assert [order["id"] for order in request["orders"]] == ["o1", "night"]


def test_observations_written_out_are_kept_beside_results() -> None:
    written = {"name": "sodium", "value": 130, "unit": "mmol/L"}
    request = request_of({"patient": {"observations": [written], "results": {"potassium": 4}}})
    assert [o["name"] for o in request["patient"]["observations"]] == ["sodium", "potassium"]


def test_a_blanked_need_is_gone_wherever_it_stood() -> None:
    request = request_of(SHORT)
    names = [o["name"] for o in blanked(request, "potassium")["patient"]["observations"]]
    assert names == ["creatinine"]
    assert "weight_kg" not in blanked(request, "weight_kg")["patient"]
    assert "rate_ml_h" not in blanked(request, "rate_ml_h")["orders"][0]
    without_lumen = blanked(request, "lumen")
    assert "lumen" not in without_lumen["orders"][0]
    assert "lumen" not in without_lumen["co_infusions"][0]
    assert "setting" not in blanked(request, "setting")


def test_with_the_patient_taken_away_what_is_ordered_stays() -> None:
    bare = without_patient(request_of(SHORT))
    assert bare["patient"] == {}
    assert "setting" not in bare
    assert bare["orders"] == [{"id": "o1", "fluid": "0.9% sodium chloride", "rate_ml_h": 125}]
    assert bare["co_infusions"] == [{"name": "red cells"}]


def test_an_example_knows_whether_it_fires() -> None:
    (critical,) = examples_of({"example": [SHORT]})
    (silent,) = examples_of({"example": [{**SHORT, "expect": "not assessed"}]})
    assert critical.fires
    assert not silent.fires
    assert critical.needs == ("potassium",)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [({"expected": "critical"}, "unknown key 'expected'"), ({"expect": "loud"}, "must be one of")],
)
def test_a_slip_in_an_example_is_told(wrong: dict[str, str], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        examples_of({"example": [{**SHORT, **wrong}]})

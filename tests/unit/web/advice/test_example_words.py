"""An example is told as one would tell a colleague."""

from app.cautions.example import examples_of
from app.web.advice.example_words import example_view, order_line, who

BAG = {
    "fluid": "0.9% sodium chloride",
    "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
    "volume_ml": 1000,
    "rate_ml_h": 125,
}


def test_an_order_is_one_line() -> None:
    assert order_line(BAG) == (
        "0.9% sodium chloride with 20 mmol potassium chloride, 1,000 mL, 125 mL/h"
    )


def test_additives_as_words_stay_as_they_are() -> None:
    assert order_line({"fluid": "glucose 5%", "additives": ["KCl 20 mmol"]}) == (
        "glucose 5% with KCl 20 mmol"
    )


def test_a_fluid_that_is_not_named_is_said() -> None:
    assert order_line({"rate_text": "slow drip"}) == "a fluid that is not named, slow drip"


def test_nothing_known_of_a_patient_is_said() -> None:
    assert who({}) == "nothing is known of the patient"


def test_an_old_result_has_its_age() -> None:
    request = {
        "now": "2031-03-04T07:00:00Z",
        "patient": {
            "age_years": 61,
            "conditions": "heart failure",
            "observations": [
                {"name": "potassium", "value": 4.1, "unit": "mmol/L",
                 "taken_at": "2031-03-03T00:00:00Z"},
                {"name": "ph", "value": 7.31, "unit": "1", "taken_at": "2031-03-04T06:00:00Z"},
                {"name": "sodium", "value": "high", "unit": "mmol/L"},
            ],
        },
    }  # fmt: skip
    assert who(request) == (
        "61 y, heart failure, potassium 4.1 mmol/L, 31 h old, pH 7.31, sodium high mmol/L"
    )


def test_an_example_says_what_is_said_of_it() -> None:
    (example,) = examples_of(
        {"example": [{"rule": "k-hyper", "title": "A title", "expect": "nothing", "order": BAG,
                      "co_infusions": [{"name": "red cells"}]}]}
    )  # fmt: skip
    view = example_view(example)
    assert (view.said, view.expect) == ("nothing found", "nothing")
    assert view.others == ("red cells",)
    assert len(view.orders) == 1

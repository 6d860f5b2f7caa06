"""Potassium each hour from everything that runs, twenty orders as written, each summed by hand.

Formula: shared formulas, potassium by the hour (mL/h x mmol/L / 1000, every source added). Molar
mass of potassium chloride 74.55 g/mol (any table of elements): 1 g is 13.41 mmol, 15% is
2.01 mmol/mL. Potassium of fluids: their labels.
"""

from typing import Any

import pytest

from app.physiology.potassium import peak_mmol_h, sources_of_potassium
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

KNOWN = Knowledge.from_seed()
SALINE = "0.9% sodium chloride"


def bag(fluid: str, volume: float | None, **more: Any) -> dict[str, Any]:  # noqa: ANN401
    """One order; kcl=(amount, unit) is an additive for the whole bag."""
    order: dict[str, Any] = {"fluid": fluid, "purpose": "maintenance"}
    if volume:
        order["volume_ml"] = volume
    if kcl := more.pop("kcl", None):
        order["additives"] = [
            {"substance": "potassium chloride", "amount": kcl[0], "unit": kcl[1]},
        ]
    return order | more


def mmol_h(orders: list[dict[str, Any]], beside: tuple[str, ...] = ()) -> float:
    """What runs at the most, mmol/h, of orders and drugs as written."""
    request = {
        "now": "2031-03-04T07:00:00Z",
        "patient": {"age_years": 60, "weight_kg": 70},
        "orders": [{"id": f"o{n}"} | order for n, order in enumerate(orders)],
        "co_infusions": [{"name": name} for name in beside],
    }
    case = review_request(request, KNOWN).case
    return peak_mmol_h(sources_of_potassium(case))[0]


WORKED = [
    # one bag
    ([bag(SALINE, 1000, kcl=(40, "mmol"), rate_ml_h=125)], (), 5.0),
    ([bag(SALINE, 1000, kcl=(20, "mmol"), rate_ml_h=83)], (), 1.66),
    ([bag(SALINE, 500, kcl=(40, "mmol"), rate_ml_h=125)], (), 10.0),
    ([bag(SALINE, 100, kcl=(20, "mmol"), rate_ml_h=100)], (), 20.0),
    ([bag(SALINE, 1000, kcl=(40, "mEq"), duration_h=8)], (), 5.0),
    ([bag(SALINE, 1000, kcl=(3, "g"), rate_ml_h=100)], (), 4.02),
    ([bag("5% dextrose", 500, kcl=(20, "mmol"), duration_h=4)], (), 5.0),
    # named in the bag
    ([bag("0.9% sodium chloride with potassium chloride 40 mmol/L", 1000, rate_ml_h=150)], (), 6.0),
    ([bag("0.9% sodium chloride with potassium chloride 0.3%", 500, rate_ml_h=100)], (), 4.0),
    ([bag("D5 1/2NS with 20 mEq KCl/L", 1000, rate_ml_h=75)], (), 1.5),
    # a balanced fluid's own counts beside what is added
    ([bag("lactated Ringer's injection", 1000, kcl=(20, "mmol"), rate_ml_h=100)], (), 2.4),
    ([bag("compound sodium lactate", 1000, kcl=(30, "mmol"), rate_ml_h=120)], (), 4.2),
    # two bags
    (
        [
            bag(SALINE, 1000, kcl=(40, "mmol"), rate_ml_h=83),
            bag(SALINE, 100, kcl=(20, "mmol"), rate_ml_h=100, purpose="correction"),
        ],
        (),
        23.3,
    ),
    (
        [
            bag(SALINE, 1000, kcl=(40, "mmol"), rate_ml_h=100),
            bag("5% dextrose", 1000, kcl=(20, "mmol"), rate_ml_h=50),
        ],
        (),
        5.0,
    ),
    (
        [
            bag(SALINE, 1000, kcl=(20, "mmol"), rate_ml_h=100),
            bag("lactated Ringer's injection", 1000, rate_ml_h=100, purpose="replacement"),
        ],
        (),
        2.4,
    ),
    # beside drugs and nutrition
    (
        [bag(SALINE, 1000, kcl=(40, "mmol"), rate_ml_h=125)],
        ("potassium chloride 10 mmol in 100 mL over 1 h",),
        15.0,
    ),
    (
        [bag(SALINE, 1000, kcl=(20, "mmol"), rate_ml_h=50)],
        ("parenteral nutrition 80 mL/h, potassium 40 mmol/L",),
        4.2,
    ),
    ([bag(SALINE, 1000, rate_ml_h=100)], ("KCl 20 mmol in 50 mL over 1 h",), 20.0),
    # amounts each litre and a rate each minute
    (
        [
            bag(
                SALINE,
                1000,
                rate_text="2 mL/min",
                additives=[{"substance": "KCl", "amount": 40, "unit": "mmol/L"}],
            )
        ],
        (),
        4.8,
    ),
    ([bag(SALINE, 1000, kcl=(20, "mmol"), rate_text="over 6 hours")], (), 3.33),
]


@pytest.mark.parametrize(("orders", "beside", "worked"), WORKED)
def test_potassium_by_the_hour_is_the_sum_by_hand(
    orders: list[dict[str, Any]], beside: tuple[str, ...], worked: float
) -> None:
    assert mmol_h(orders, beside) == pytest.approx(worked, rel=0.005)

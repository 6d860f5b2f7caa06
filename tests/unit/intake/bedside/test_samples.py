"""Remarks on a sample among the conditions."""

from datetime import datetime

import pytest

from app.intake.bedside.samples import in_doubt, remarks_on_samples, without_sample_remarks
from app.patient.observation import Observation

NAMES = ("potassium", "sodium", "glucose", "lactate", "weight")


def doubted(now: datetime, *texts: str) -> set[str]:
    results = {name: (Observation(name, 5.0, "", now, "5"),) for name in NAMES}
    after = in_doubt(results, remarks_on_samples(texts))
    return {name for name, group in after.items() if group[0].value is None}


@pytest.mark.parametrize(
    ("written", "names"),
    [
        ("sample haemolysed", {"potassium"}), ("K likely spurious", {"potassium"}),
        ("bloods taken from drip arm", {"potassium", "sodium", "glucose", "lactate"}),
        ("lactate drawn from the cannula carrying the fluid", {"lactate"}),
        ("EDTA contamination queried by lab", {"potassium"}), ("pseudohyponatraemia", {"sodium"}),
        ("not haemolysed", set()), ("haemolytic anaemia", set()), ("autoimmune haemolysis", set()),
        ("bloods from arterial line, good sample", set()), ("CKD 4", set()),
    ],
)  # fmt: skip
def test_what_a_remark_puts_in_doubt(now: datetime, written: str, names: set[str]) -> None:
    assert doubted(now, written) == names


def test_a_remark_is_no_condition() -> None:
    assert without_sample_remarks("ckd 4; sample haemolysed") == "ckd 4"


@pytest.mark.parametrize(
    "words", ["01:00 bloods haemolysed - repeated", "first sample haemolysed, repeated"]
)
def test_a_remark_on_an_earlier_sample_leaves_the_repeat_alone(now: datetime, words: str) -> None:
    late, early = (
        Observation("potassium", value, "mmol/L", now.replace(hour=hour, minute=0), f"{value}")
        for value, hour in ((4.2, 5), (6.4, 1))
    )
    (kept,) = in_doubt({"potassium": (late, early)}, remarks_on_samples([words]))["potassium"]
    assert kept.value == 4.2

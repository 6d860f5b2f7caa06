"""Names written out in whole words."""

import pytest

from app.intake.wording.shorthand import written_out


@pytest.mark.parametrize(
    ("written", "whole"),
    [
        ("D51/2NS", "d5 1/2 ns"), ("D5.45", "d5 .45"), ("D-5-W", "d5w"),
        ("NS c 40K", "ns c 40 k"), ("NS kcl20", "ns kcl 20"), ("1,000 mL", "1000 ml"),
        ("sod chlor 0.9%", "sodium chloride 0.9%"), ("mag sulph", "mag sulfate"),
        ("HAS 20% 2 x 100ml", "has 20% 100ml"), ("Ringer's lactate", "ringers lactate"),
    ],
)  # fmt: skip
def test_what_is_run_together_or_cut_short_is_written_out(written: str, whole: str) -> None:
    assert " ".join(written_out(written).split()) == whole


@pytest.mark.parametrize("written", ["D12.5W", "D 12.5%", "d12.5 w"])
def test_a_strength_of_glucose_between_those_with_a_name_is_said_in_percent(written: str) -> None:
    assert written_out(written).split() == ["12.5", "%", "dextrose"]


@pytest.mark.parametrize("written", ["K2HPO4 10 mmol", "d4 of five", "glucose 50 g"])
def test_what_only_looks_like_shorthand_stays(written: str) -> None:
    assert written_out(written) == written.lower()

"""Short forms, signs, and organs said to be well."""

import pytest

from app.intake.problems.shorthand import written_out
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("↑ICP", "high icp"), ("#NOF", "fracture nof"), ("CKD4", "ckd 4"),
        ("bHCG -ve", "no pregnancy"),
        ("sepsis w/o shock", "sepsis without shock"), ("Met. acidosis", "met acidosis"),
        ("decomp CLD", "decompensated cld"), ("nondiabetic", "non diabetic"),
        ("renal: NAD", "no kidney disease"), ("kidneys fine", "no kidney disease"),
        ("nil renal", "no kidney disease"), ("ECG NAD", "no ecg changes"),
        ("no renal, cardiac or liver disease",
         "no renal disease & cardiac disease & liver disease"),
        ("abnormal renal function", "abnormal renal function"),
        ("renal function not normal", "renal function not normal"),
    ],
)  # fmt: skip
def test_it_is_written_out(vocabulary: Vocabulary, written: str, plain: str) -> None:
    assert " ".join(written_out(written, vocabulary).split()) == plain


def test_a_long_list_without_its_noun_is_read_at_once(vocabulary: Vocabulary) -> None:
    """Each organ more must not double the work."""
    listed = "renal, " * 200 + "asthma"
    assert written_out(listed, vocabulary) == listed

"""What was taken, and what cannot be."""

from app.physiology.course.baseline.known import BaselineError


def test_a_start_that_cannot_be_says_what_and_what_could() -> None:
    wrong = BaselineError("patient.observations", "pH 2", "a pH of the living")
    assert (wrong.field, wrong.value, wrong.accepted) == (
        "patient.observations", "pH 2", "a pH of the living",
    )  # fmt: skip
    assert "pH 2" in str(wrong)

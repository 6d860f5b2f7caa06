"""What a clause says of how its drug stands."""

import pytest

from app.intake.medicines.standing import is_doubted, statement


@pytest.mark.parametrize(
    ("written", "stands"),
    [("ceftriaxone held", "ended"), ("ceftriaxone stopped 2 days ago", "ended"),
     ("weaned off", "ended"), ("off since 04:00", "ended"), ("done", "ended"),
     ("not yet started", "later"), ("to start tomorrow", "later"), ("if k < 3.5", "later"),
     ("on standby", "later"), ("allergy: ceftriaxone", "never"), ("no nsaids", "never"),
     ("not needed", "never"), ("vancomycin 125 mg po", "elsewhere"), ("nebulised", "elsewhere"),
     ("insulin s/c", "elsewhere"), ("restarted", "runs"), ("not stopped", "runs"),
     ("started yesterday", "runs"), ("increased yesterday", "runs"), ("now 2 ml/h", "runs")],
)  # fmt: skip
def test_held_to_come_denied_by_mouth_and_running_again_are_told_apart(
    written: str, stands: str
) -> None:
    said = statement(written, whole=written, blood=False)
    assert said is not None and said.stands == stands


@pytest.mark.parametrize(
    "written",
    ["norad 3 ml/h", "hold if map > 80", "to be stopped at 18:00", "if needed", "over 30 min",
     "via r sc line", "10 ng/kg/min", "given over 30 min", "no change"],
)  # fmt: skip
def test_what_runs_and_what_is_to_be_done_with_it_say_nothing_else(written: str) -> None:
    assert statement(written, whole=written, blood=False) is None


def test_blood_that_is_ordered_is_not_yet_running_and_a_drug_ordered_may_be() -> None:
    blood = statement("2 units ordered", whole="2 units ordered", blood=True)
    assert blood is not None and blood.stands == "later"
    assert statement("ceftriaxone ordered", whole="ceftriaxone ordered", blood=False) is None
    running = "cross-matched, 1 unit over 3 h"
    assert statement(running, whole=running, blood=True) is None


def test_a_dose_given_has_ended_unless_the_next_is_written() -> None:
    given = statement("phenytoin load given", whole="phenytoin load given", blood=False)
    assert given is not None and given.stands == "ended"
    whole = "ceftriaxone bd, given at 6"
    assert statement("given at 6", whole=whole, blood=False) is None


@pytest.mark.parametrize(
    ("written", "doubted"),
    [("? ceftriaxone", True), ("on digoxin? - patient unsure", True), ("ceftriaxone", False),
     ("same line ? flush", False)],
)  # fmt: skip
def test_a_drug_that_may_not_be_given_is_told(written: str, doubted: bool) -> None:
    assert is_doubted(written) is doubted

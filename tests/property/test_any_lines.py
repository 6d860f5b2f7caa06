"""Whatever is asked of a line plan, it gets an answer or a clear refusal: never a fault."""

import json
from random import Random

import pytest

from app.intake.errors import InputError, InputErrors
from app.lines.check import faults
from app.lines.model import KeepApart
from app.review.lines.as_text import lines_of
from app.review.lines.planned import plan_lines
from app.review.lines.reply import reply_of
from tests.property.test_any_input import spoilt
from tests.unit.review.lines.shift import REQUEST

TRIES = 60


def no_pairs(names: object) -> tuple[KeepApart, ...]:
    return ()


@pytest.mark.parametrize("seed", range(10))
def test_a_spoilt_request_is_planned_or_refused_by_field(seed: int) -> None:
    chance = Random(seed)
    planned = 0
    for _ in range(TRIES):
        request = spoilt(REQUEST, chance)
        try:
            plan = plan_lines(request, keep_apart_of=no_pairs)
        except (InputError, InputErrors) as problem:
            errors = problem.errors if isinstance(problem, InputErrors) else (problem,)
            assert all(error.field and error.accepted for error in errors), request
            continue
        planned += 1
        json.dumps(reply_of(plan), allow_nan=False)
        assert list(lines_of(plan))
        assert not plan.withheld, request
        assert plan.solution.plan is None or not faults(plan.problem, plan.solution.plan)
    assert planned

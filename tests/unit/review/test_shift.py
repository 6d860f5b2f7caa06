"""A shift's list: the worst first, and honest counts."""

from app.review.shift import MOST_OPEN, shift_of
from tests.unit.review.conftest import KCL_20, ReviewOf, maintenance, result

QUIET = {"fluid": "lactated Ringer's", "rate_ml_h": 60, "volume_ml": 500, "purpose": "carrier"}
POTASSIUM_BAG = maintenance("0.9% sodium chloride", additives=KCL_20)
CREATININE = result("creatinine", 80, "umol/L")


def critical(review_of: ReviewOf, taken_at: str = "2031-03-04T05:00:00Z") -> object:
    high = [result("potassium", 6.1, taken_at=taken_at), CREATININE]
    return review_of(POTASSIUM_BAG, observations=high, sex="male")


def test_critical_stands_before_warning_before_the_rest(review_of: ReviewOf) -> None:
    shift = shift_of(
        [
            ("quiet", review_of(QUIET)),
            ("warning", review_of(POTASSIUM_BAG)),
            ("critical", critical(review_of)),
        ]
    )
    assert [row.key for row in shift.rows] == ["critical", "warning", "quiet"]
    assert (shift.to_call, shift.to_check) == (1, 1)
    assert shift.nothing_found + shift.could_not_assess == 1


def test_of_two_alike_the_fresher_result_comes_first(review_of: ReviewOf) -> None:
    old, new = "2031-03-03T20:00:00Z", "2031-03-04T06:00:00Z"
    pairs = [("old", critical(review_of, old)), ("new", critical(review_of, new))]
    for given in (pairs, pairs[::-1]):
        assert [row.key for row in shift_of(given).rows] == ["new", "old"]


def test_quiet_and_not_assessed_is_never_nothing_found(review_of: ReviewOf) -> None:
    review = review_of(maintenance("lactated Ringer's", 55), weight_kg=None)
    shift = shift_of([("bed", review)])
    assert not shift.rows[0].is_loud
    assert shift.rows[0].not_assessed > 0
    assert (shift.could_not_assess, shift.nothing_found) == (1, 0)


def test_at_most_ten_rows_are_open(review_of: ReviewOf) -> None:
    loud = critical(review_of)
    shift = shift_of([(n, loud) for n in range(14)])
    assert len(shift.open) == MOST_OPEN
    assert shift.to_call == 14


def test_quiet_patients_are_never_open(review_of: ReviewOf) -> None:
    assert shift_of([("bed", review_of(QUIET))]).open == ()


def test_an_empty_unit_has_an_empty_list() -> None:
    shift = shift_of([])
    assert (shift.rows, shift.to_call, shift.to_check, shift.nothing_found) == ((), 0, 0, 0)

"""What a line plan starts from: which two may not share a lumen, how far that reaches, and why."""

import pytest

from app.catalogue.pairs.answer import PairBook
from app.review.pairs.apart import AGE_NOT_TOLD, Apart, is_newborn, keep_apart, keep_apart_in
from tests.unit.review.pairs.conftest import CaseOf, ThingOf, signed, with_notes

LR = {"fluid": "LR", "rate_ml_h": 100}
CEFTRIAXONE = {"name": "ceftriaxone 1 g over 1 h", "kind": "drug"}


def only(apart: tuple[Apart, ...]) -> Apart:
    (one,) = apart
    return one


def test_no_data_keeps_apart_and_says_so(book: PairBook, thing: ThingOf) -> None:
    apart = only(keep_apart([thing("meropenem"), thing("furosemide")], book))
    assert apart == Apart("meropenem", "furosemide", "lumen", "nobody has told us of these two")


def test_what_may_run_together_is_not_listed(book: PairBook, thing: ThingOf) -> None:
    assert keep_apart([thing("saline"), thing("meropenem"), thing("LR")], book) == (
        Apart("meropenem", "LR", "lumen", "nobody has told us of these two"),
    )


def test_a_condition_that_nobody_here_has_confirmed_keeps_apart_until_a_note_is_signed(
    book: PairBook, thing: ThingOf
) -> None:
    pair = [thing("norepinephrine"), thing("saline")]
    apart = only(keep_apart(pair, book))
    assert apart.why.startswith("may run together only if the product is labelled in saline")
    assert apart.why.endswith("which nobody here has confirmed")
    assert keep_apart(pair, with_notes(book, signed("norepinephrine", "sodium-chloride-0.9"))) == ()


@pytest.mark.parametrize(
    ("one", "other", "why"),
    [
        ("red cells", "LR", "calcium overcomes the citrate, and blood clots"),
        ("ceftriaxone", "LR", "only one after the other: stop"),
        ("amphotericin", "saline", "amphotericin B precipitates"),
    ],
)
def test_the_reason_is_in_words_and_ends_without_a_dot(
    book: PairBook, thing: ThingOf, one: str, other: str, why: str
) -> None:
    apart = only(keep_apart([thing(one), thing(other)], book))
    assert apart.why.startswith(why)
    assert not apart.why.endswith(".")
    assert apart.scope == "lumen"


def test_what_is_not_understood_stays_apart_from_everything(book: PairBook, thing: ThingOf) -> None:
    apart = keep_apart([thing("moon juice"), thing("saline"), thing("LR")], book)
    assert [each[:2] for each in apart] == [("moon juice", "saline"), ("moon juice", "LR")]
    assert apart[0].why == "“moon juice” is not understood, so nothing is known of it"


def test_a_newborn_is_barred_from_ceftriaxone_with_calcium_for_the_whole_patient(
    book: PairBook, case_of: CaseOf
) -> None:
    for age_years, setting in ((5 / 365.25, "ICU"), (None, "neonate")):
        case = case_of(LR, beside=(CEFTRIAXONE,), age_years=age_years, setting=setting)
        apart = only(keep_apart_in(case, book))
        assert (apart.a_id, apart.b_id, apart.scope) == ("o1", "co_infusions[0]", "patient")
        assert "fatal crystals" in apart.why


def test_past_28_days_it_is_a_matter_of_turn(book: PairBook, case_of: CaseOf) -> None:
    case = case_of(LR, beside=(CEFTRIAXONE,), age_years=60)
    assert only(keep_apart_in(case, book)).scope == "lumen"
    assert is_newborn(case) is False


def test_with_no_age_the_reason_says_what_would_hold_in_a_newborn(
    book: PairBook, case_of: CaseOf
) -> None:
    case = case_of(LR, beside=(CEFTRIAXONE,), age_years=None, setting=None)
    assert is_newborn(case) is None
    apart = only(keep_apart_in(case, book))
    assert apart.scope == "lumen"
    assert apart.why.endswith(AGE_NOT_TOLD)


def test_with_no_age_other_reasons_are_left_alone(book: PairBook, case_of: CaseOf) -> None:
    blood = {"name": "red cells 1 unit", "kind": "blood"}
    case = case_of(LR, beside=(blood,), age_years=None, setting=None)
    assert AGE_NOT_TOLD not in only(keep_apart_in(case, book)).why

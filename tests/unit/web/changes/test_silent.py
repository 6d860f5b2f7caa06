from app.review.workflow import review_request
from app.web.changes.silent import silent_of
from tests.unit.review.changes.test_silent import off, request


def test_the_order_it_would_have_spoken_of_says_so_and_the_other_does_not() -> None:
    review = review_request(request(), off())
    (told,) = silent_of(review)
    assert told.title == "Potassium added in hyperkalaemia"
    assert told.sentence.startswith("Switched off here since 1 Feb 2026, ")
    assert silent_of(review, "salted") == (told,)
    assert silent_of(review, "plain") == ()

"""What is otherwise than in a kept plan, as sentences."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.registry import ALL_RULES
from app.review.shortage.kept.comparing import Difference
from app.web.shortage.difference_words import Said, difference_words

BEDS = {"p": "3"}
RULE = ALL_RULES[0]


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (Difference("order", ("p", "o1"), "standing", "affected", None),
         Said("Bed 3, order o1", "affected", "not concerned")),
        (Difference("order", ("gone", "o1"), "standing", "affected", None),
         Said("A patient who is here no more, order o1", "affected", "not concerned")),
        (Difference("order", ("p", "o1"), "to", "lactated-ringers", ""),
         Said("Bed 3, order o1, turns to", "lactated Ringer's (US)", "no substitute")),
        (Difference("order", ("p", "o1"), "to", "no-such-id", ""),
         Said("Bed 3, order o1, turns to", "no-such-id", "no substitute")),
        (Difference("order", ("p", "o1"), "new", [], [[RULE.id, "info"], ["old-rule", "critical"]]),
         Said("Bed 3, order o1, new cautions", "nothing new",
              f"info: {RULE.title}; critical: old-rule")),
        (Difference("use", ("sodium-chloride-0.9",), "ml_day", 9500.0, None),
         Said("0.9% sodium chloride, use a day", "9.5 L", "none")),
        (Difference("days", ("sodium-chloride-0.9",), "days", 6.0, None),
         Said("0.9% sodium chloride, days left", "6 days", "not known or not used")),
        (Difference("second", ("sodium-chloride-0.9",), "days", None, 1.0),
         Said("0.9% sodium chloride, which orders turn to, days left",
              "not known or not used", "1 day")),
        (Difference("knowledge", (), "version", "v1", "v2"),
         Said("Rules, limits or catalogue have changed since.", "v1", "v2")),
    ],
)  # fmt: skip
def test_each_sort_of_difference_is_said(catalogue: Catalogue, one: Difference, said: Said) -> None:
    assert difference_words(one, catalogue, BEDS) == said

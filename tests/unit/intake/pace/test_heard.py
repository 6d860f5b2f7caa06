"""What the words of one step say, figure by figure."""

import pytest

from app.intake.pace.heard import Heard, factor_of, figures, highest, hours_behind, shown
from app.intake.pace.tokens import line_of


def test_a_range_is_judged_at_its_highest_and_said_softly() -> None:
    heard = Heard()
    assert highest(line_of("50-150").tokens, heard, "mL/h") == 150
    assert heard.notes == ["50 to 150 mL/h is judged at 150 mL/h."] and not heard.asks


def test_a_very_wide_range_may_be_a_slip_and_is_asked_about() -> None:
    heard = Heard()
    assert highest(line_of("100-1000").tokens, heard, "mL/h") == 1000 and heard.asks


@pytest.mark.parametrize(
    ("said", "per"), [("l/24 h", 24), ("l daily", 24), ("ml hourly", 1), ("ml/min", 1 / 60)]
)
def test_what_a_rate_is_per_is_its_last_words(said: str, per: float) -> None:
    assert hours_behind(line_of(said).tokens)[0] == pytest.approx(per)


def test_figures_factors_and_words_of_a_stretch_are_had_from_its_tokens() -> None:
    tokens = line_of("1.5 l/24 h").tokens
    assert figures(tokens) == [1.5, 24]
    assert factor_of(tokens, "V") == 1000 and factor_of(tokens, "K", 2.0) == 2
    assert shown(tokens) == "1.5 l/24 h"

"""A line is drawn as far as it means something, and where it ends the reason is said."""

from collections.abc import Mapping

from app.cautions.rule import Limits
from app.review.knowledge import Knowledge
from app.web.pictures.curves import Curve
from app.web.prediction.panels import QUANTITIES
from app.web.prediction.sodium.limits import day_limits
from app.web.prediction.start.drawn import Tried, lethal_words, panels_of
from app.web.prediction.start.standing import Asking
from tests.unit.web.prediction.start.conftest import TriedOf

SALINE, STRONG = "sodium-chloride-0.9", "sodium-chloride-3"
NAMES = {quantity.key: quantity.name for quantity in QUANTITIES}


def drawn(tried: Tried, limits: Mapping[str, Limits]) -> list[str]:
    day = day_limits(tried.person, tried.subject.sodium_mmol_l, limits)
    return [panel.name for panel in panels_of(tried, day)]


def test_every_quantity_is_drawn_but_what_is_withheld(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    limits = knowledge.ruleset.limits
    assert drawn(tried_of(SALINE), limits) == list(NAMES.values())
    ill = tried_of(
        SALINE, conditions=frozenset({"diabetic_ketoacidosis"}), results={"glucose": 20.0}
    )
    names = drawn(ill, limits)
    assert "Bicarbonate" not in names and "pH" not in names and "Glucose" in names
    asked = tried_of(SALINE, asking=Asking(frozenset({"potassium"})))
    assert "Potassium" not in drawn(asked, limits)


def test_a_line_ends_where_nobody_lives_and_that_is_said(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    tried = tried_of(STRONG, volume_ml=10000)
    day = day_limits(tried.person, tried.subject.sodium_mmol_l, knowledge.ruleset.limits)
    sodium = panels_of(tried, day)[0]
    assert any("not drawn from" in stop for stop in sodium.stops)
    assert sodium.plot.tracks[0].line[-1][0] < sodium.plot.right
    assert any(words.startswith("Sodium from ") for words in lethal_words(tried.courses, NAMES))
    assert "not drawn" in {str(cell.mid) for row in sodium.rows for cell in row.cells}
    assert lethal_words(tried_of(SALINE).courses, NAMES) == ()


def test_lines_of_sodium_are_drawn_besides_as_far_as_is_looked(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    tried = tried_of(SALINE, results={"sodium": 132.0})
    day = day_limits(tried.person, 132.0, knowledge.ruleset.limits)
    hours, values = (0.0, 4.0, 8.0, 24.0), (132.0, 130.0, 128.0, 118.0)
    sodium, *others = panels_of(tried, day, (Curve("kept", hours, values, values, values),))
    assert sodium.marks == ("", "kept")
    assert sodium.plot.tracks[1].end == "kept 128"
    assert all(panel.marks == ("",) for panel in others)

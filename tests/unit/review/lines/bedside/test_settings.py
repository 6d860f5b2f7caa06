"""What a plan takes for granted is told, each with its figure."""

from app.review.lines.bedside import settings


def test_every_figure_is_told_and_that_no_source_stands_behind_it() -> None:
    said = " ".join(settings.taken())
    for figure in ("12 h ahead", "5 min", "at most 3", "60 min before", "4 h in all", "90 min"):
        assert figure in said
    assert "common practice with no source" in said


def test_the_limits_of_blood_are_those_that_plans_are_checked_against() -> None:
    said = " ".join(settings.taken())
    assert "within 30 min of leaving its store" in said
    assert "done within 4 h" in said


def test_flushes_and_surges_are_told_with_their_limits() -> None:
    said = " ".join(settings.taken())
    assert (
        "A flush is 5 mL by a small vein, 10 mL by a central lumen; in a child 3 mL by a small "
        "vein, 5 mL by a central lumen; in a newborn 1 mL."
    ) in said
    assert "No dose of 60 min or less goes by the lumen of a vasoactive drug" in said

"""The published groups as they are kept."""

from pathlib import Path

from app.physiology.course import parameters
from app.review.trials.rows import row_from
from tests.trials.files import read_trial_fluids, read_trial_rows


def test_both_sets_are_read_and_only_ours_is_held_out() -> None:
    rows = read_trial_rows()
    by_id = {table["row_id"]: held_out for table, held_out in rows}
    assert len(by_id) == len(rows)
    assert by_id["williams1999:NS@60"] is False
    assert by_id["lobo2001:NS@60"] is True


def test_every_row_says_where_its_figures_are_from() -> None:
    for table, _ in read_trial_rows():
        assert table["citation"]
        assert table["seen_or_memory"]
        assert table["confidence"] in ("high", "medium", "low")


def test_the_fluids_are_those_of_the_catalogue_and_those_made() -> None:
    assert set(read_trial_fluids()) == {"catalogue", "made"}


def test_no_number_of_the_model_names_a_study_that_is_held_out() -> None:
    rows = [row_from(table, held_out=held_out) for table, held_out in read_trial_rows()]
    others = {row.study for row in rows if not row.held_out}
    held_out = {row.study for row in rows if row.held_out} - others
    folder = Path(parameters.__file__).parent
    told = "".join(file.read_text(encoding="utf-8") for file in folder.glob("*.py"))
    named = {study for study in held_out if study in told}
    assert not named, "mark its rows `viewed`"

"""The published groups as they are kept."""

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

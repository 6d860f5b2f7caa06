"""The published rows are read as they are printed."""

import pytest

from app.review.trials.rows import comparisons_of, row_from
from tests.trials.files import read_trial_rows

TABLES = {table["row_id"]: table for table, _ in read_trial_rows()}
HES = "colloid_volunteers2000:HES@60"


def table(row_id: str, **changes: str) -> dict[str, str]:
    return {**TABLES[row_id], **changes}


def test_what_was_not_published_is_not_there() -> None:
    row = row_from(table("williams1999:LR@60"), held_out=False)
    assert row.values == {"ph": 0.04, "osmolality_mosm_kg": -4.0}
    assert row.weight_kg is None
    assert row.ml_per_kg == 50


def test_a_row_from_memory_is_known_as_such() -> None:
    assert row_from(table(HES), held_out=False).seen
    assert not row_from(table("scheingraber1999:LR@120"), held_out=True).seen


def test_the_first_moment_of_an_arm_is_its_baseline() -> None:
    rows = [row_from(t, held_out=False) for t in TABLES.values()]
    (one,) = (c for c in comparisons_of(rows) if c.row.id == HES)
    assert one.baseline["cl_mmol_l"] == 108
    assert one.row.values["cl_mmol_l"] == 112


def test_rows_kept_for_what_they_say_are_not_compared() -> None:
    rows = [row_from(t, held_out=False) for t in TABLES.values()]
    assert {c.row.id for c in comparisons_of(rows)} == {
        key for key, t in TABLES.items() if t["scoreable"] == "1"
    }


def test_an_unknown_way_of_giving_values_is_refused() -> None:
    with pytest.raises(ValueError, match="value_kind 'ratio'"):
        row_from(table(HES, value_kind="ratio"), held_out=False)


def test_a_row_in_view_when_a_number_was_chosen_is_no_longer_held_out() -> None:
    viewed = row_from(table("mcfarlane1994:NS@219"), held_out=True)
    assert viewed.viewed
    assert not viewed.held_out
    kept = row_from(table("lobo2001:NS@60"), held_out=True)
    assert kept.held_out
    assert not kept.viewed


def test_only_one_age_is_an_age() -> None:
    assert row_from(table("neville2010:N2FULL@480"), held_out=True).age_years == 8
    assert row_from(table("williams1999:LR@60"), held_out=False).age_years is None
    assert row_from(table(HES, age_y="48 (SD 20)"), held_out=False).age_years is None

from datetime import UTC, datetime

import pytest

from app.cautions.shared.lines import (
    HOW,
    LEVEL,
    SHARED,
    blood_of,
    is_blood,
    place_text,
    red_cells_of,
)
from app.patient.case import Case
from app.patient.order import CoInfusion
from app.patient.snapshot import Snapshot

RED = CoInfusion("PRBC", "blood", key="red_cells", lumen="p1")
PLATELETS = CoInfusion("platelets", "blood", key="platelets")
UNREAD = CoInfusion("blood", "blood")
ALBUMIN = CoInfusion("albumin 5%", "blood", key="albumin")
DRUG = CoInfusion("ceftriaxone", "drug", key="ceftriaxone")
CASE = Case(
    Snapshot(now=datetime(2031, 3, 4, 7, 0, tzinfo=UTC)),
    co_infusions=(RED, PLATELETS, UNREAD, ALBUMIN, DRUG),
)


def test_albumin_is_not_citrated_blood() -> None:
    assert not is_blood(ALBUMIN)
    assert not is_blood(DRUG)
    assert blood_of(CASE) == (RED, PLATELETS, UNREAD)


def test_blood_of_an_unknown_kind_is_taken_for_red_cells() -> None:
    assert red_cells_of(CASE) == (RED, UNREAD)


def test_only_a_line_known_to_be_shared_is_critical() -> None:
    assert {way for way, level in LEVEL.items() if level == "critical"} == set(SHARED)
    assert LEVEL["not known"] == "warning"
    assert set(HOW) == set(LEVEL)
    assert "apart" not in LEVEL
    assert "in turn" not in LEVEL


@pytest.mark.parametrize("way", sorted(LEVEL))
def test_each_way_of_sharing_is_told_in_a_sentence(way: str) -> None:
    assert place_text(way, RED).endswith(".")  # type: ignore[arg-type]


def test_the_lumen_is_named_where_it_is_known() -> None:
    assert place_text("together", RED) == "Both run on p1."
    assert place_text("together", UNREAD) == "They are written to run together."

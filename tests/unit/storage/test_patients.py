"""Beds go into the database as written and come back as the same request."""

from typing import Any

import pytest
from sqlalchemy import Engine, event, insert

from app.storage.database import reading, transaction
from app.storage.patients import Bed, read_bed, read_beds, read_names, read_unit, write_bed
from app.storage.tables import UnitRow

REQUEST: dict[str, Any] = {
    "setting": "adult ward",
    "patient": {
        "age_years": 61.0,
        "sex": "female",
        "weight_kg": 70.0,
        "weight_taken_at": "2031-03-03T20:00:00+00:00",
        "conditions": ["acute kidney injury stage 3"],
        "medications": ["spironolactone"],
        "urine_ml_h": 20.0,
        "observations": [
            {
                "name": "potassium",
                "value": 6.1,
                "unit": "mmol/L",
                "taken_at": "2031-03-04T05:35:00+00:00",
                "note": "haemolysed",
            },
            {"loinc": "2951-2", "value": "136 or so", "unit": "mmol/L"},
        ],
        "access": [
            {"id": "left hand", "site": "peripheral"},
            {"id": "distal", "site": "central", "role": "parenteral nutrition"},
        ],
    },
    "orders": [
        {
            "id": "o2",
            "fluid": "0.9% sodium chloride",
            "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            "volume_ml": 1000.0,
            "rate_ml_h": 60.0,
            "starts_at": "2031-03-04T01:30:00+00:00",
            "lumen": "left hand",
            "purpose": "replacement",
        },
        {"id": "o1", "additives": [], "order_text": "LR 1 L over 8 h"},
    ],
    "co_infusions": [{"name": "ceftriaxone 2 g", "kind": "drug", "lumen": "left hand"}],
}


def bed(number: int = 4, request: dict[str, Any] = REQUEST) -> Bed:
    return Bed(f"bed-{number:02d}", f"{number:02d}", "D.P.", request)


@pytest.fixture
def ward(engine: Engine) -> Engine:
    with transaction(engine) as session:
        session.execute(insert(UnitRow).values(id="ward", name="Ward", zone="UTC", sha256=""))
        for number in (4, 2, 3):
            write_bed(session, "ward", bed(number), "")
    return engine


def test_a_bed_comes_back_exactly_as_it_was_written(ward: Engine) -> None:
    with reading(ward) as session:
        assert read_bed(session, "bed-04") == bed()


def test_a_unit_comes_back_in_bed_order(ward: Engine) -> None:
    with reading(ward) as session:
        unit = read_unit(session)
        assert unit is not None
        assert read_beds(session, unit.id) == (bed(2), bed(3), bed(4))


def test_names_to_choose_from_are_those_of_the_beds_and_cost_one_query(ward: Engine) -> None:
    asked: list[str] = []
    event.listen(ward, "before_cursor_execute", lambda *call: asked.append(call[2]))
    with reading(ward) as session:
        names = read_names(session, "ward")
        assert len([query for query in asked if query.startswith("SELECT")]) == 1
        beds = read_beds(session, "ward")
    assert names == tuple((b.patient_id, b.bed, b.initials) for b in beds)


def test_what_is_not_known_is_not_in_the_request(ward: Engine) -> None:
    bare: dict[str, Any] = {
        "patient": {"conditions": [], "medications": [], "observations": [], "access": []}
    }
    with transaction(ward) as session:
        write_bed(session, "ward", bed(5, {**bare, "orders": [], "co_infusions": []}), "")
    with reading(ward) as session:
        found = read_bed(session, "bed-05")
    assert found is not None
    assert found.request == {**bare, "orders": [], "co_infusions": []}


def test_writing_a_bed_again_replaces_it_whole(ward: Engine) -> None:
    fewer = {**REQUEST, "orders": REQUEST["orders"][1:], "co_infusions": []}
    with transaction(ward) as session:
        write_bed(session, "ward", bed(4, fewer), "")
    with reading(ward) as session:
        assert read_bed(session, "bed-04") == bed(4, fewer)
        assert read_bed(session, "bed-03") == bed(3)


def test_an_unknown_patient_is_nobody(ward: Engine) -> None:
    with reading(ward) as session:
        assert read_bed(session, "bed-99") is None


def test_no_unit_is_no_unit(engine: Engine) -> None:
    with reading(engine) as session:
        assert read_unit(session) is None


def test_a_bigger_unit_asks_the_database_no_more_often(ward: Engine) -> None:
    asked: list[str] = []
    event.listen(ward, "before_cursor_execute", lambda *call: asked.append(call[2]))
    with reading(ward) as session:
        read_beds(session, "ward")
    for_three = len([query for query in asked if query.startswith("SELECT")])
    with transaction(ward) as session:
        for number in range(5, 20):
            write_bed(session, "ward", bed(number), "")
    asked.clear()
    with reading(ward) as session:
        assert len(read_beds(session, "ward")) == 18
    assert len([query for query in asked if query.startswith("SELECT")]) == for_three == 5

"""A request without its person."""

from pathlib import Path
from typing import Any

import pytest

from app.intake.conditions import read_conditions
from app.intake.vocabulary import Vocabulary
from app.storage.demo_files import DEMO, read_bed_file
from app.storage.past.plain import plain_text, without_person

REQUEST: dict[str, Any] = {
    "setting": "adult ward",
    "name": "Rosa Alder",
    "patient": {
        "age_years": 97,
        "weight_kg": 61,
        "mrn": "0042",
        "conditions": [
            "CKD stage 4", "daughter of the baker in Mill Lane", "no liver disease",
            "hyponatraemia, see Mrs Alder", "MS",
        ],
        "medications": ["furosemide 40 mg (Dr Birch)"],
        "observations": [
            {"name": "potassium", "value": 5.9, "unit": "mmol/L", "note": "haemolysed, R.A.",
             "performer": "B. Birch", "taken_at": "2031-03-04T05:00:00Z"},
        ],
        "access": [{"id": "R.A. left", "site": "peripheral", "put_in_by": "night nurse"}],
    },
    "orders": [
        {"id": "REQ-2031-88", "order_text": "1 L 0.9% NaCl over 8 h for Mr Alder in bed 7",
         "additives": [
             {"substance": "potassium chloride", "amount": 20, "unit": "mmol", "by": "x"}
         ],
         "lumen": "R.A. left", "prescriber": "Dr Birch"},
        {"id": "b", "fluid": "LR", "lumen": "one nobody listed"},
    ],
    "co_infusions": [{"name": "ceftriaxone 2 g over 30 min", "lumen": "R.A. left"}],
}  # fmt: skip


@pytest.fixture(scope="module")
def plain(vocabulary: Vocabulary) -> dict[str, Any]:
    return without_person(REQUEST, vocabulary, ("7", "R.A."))


def test_nothing_names_the_person(plain: dict[str, Any]) -> None:
    text = str(plain)
    for name in ("Alder", "Birch", "R.A.", "bed 7", "0042", "REQ-2031", "Mill Lane", "night nurse"):
        assert name not in text


def test_nobody_is_told_as_older_than_ninety(plain: dict[str, Any]) -> None:
    assert plain["patient"]["age_years"] == 90


def test_what_reviews_read_stays(plain: dict[str, Any], vocabulary: Vocabulary) -> None:
    patient = plain["patient"]
    assert patient["conditions"][:2] == ["CKD stage 4", "no liver disease"]
    assert patient["conditions"][2].startswith("hyponatraemia")
    assert patient["observations"][0]["value"] == 5.9
    assert "haemolysed" in patient["observations"][0]["note"]
    assert plain["orders"][0]["order_text"].startswith("1 L 0.9% NaCl over 8 h")
    assert plain["orders"][0]["additives"] == [
        {"substance": "potassium chloride", "amount": 20, "unit": "mmol"}
    ]


def test_orders_and_lines_get_new_names_that_still_belong_together(plain: dict[str, Any]) -> None:
    assert [order["id"] for order in plain["orders"]] == ["o1", "o2"]
    assert plain["patient"]["access"][0]["id"] == plain["orders"][0]["lumen"] == "line 1"
    assert plain["co_infusions"][0]["lumen"] == "line 1"
    assert plain["orders"][1]["lumen"] == "another line"


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("seen by Dr Birch today", "seen by … today"),
        ("MS relapse", "MS relapse"),
        ("call 555 123 4567", "call …"),
        ("record 12345678", "record …"),
        ("DOB 4.3.1961", "…"),
        ("rosa@mill.example", "…"),
        ("1000 mL over 8 h, then 500 mL", "1000 mL over 8 h, then 500 mL"),
        ("heparin 100000 units", "heparin 100000 units"),
        ("4-2-1 rule", "4-2-1 rule"),
    ],
)
def test_words_lose_names_and_numbers_of_persons_and_keep_amounts(written: str, kept: str) -> None:
    assert plain_text(written) == kept


def test_ones_own_bed_is_left_out_as_a_word_alone() -> None:
    assert plain_text("bed 7 runs 70 mL/h", ("7",)) == "bed … runs 70 mL/h"


def test_what_is_of_no_use_or_shape_is_left_out(vocabulary: Vocabulary) -> None:
    odd = {"patient": {"conditions": "CKD stage 4", "observations": "none"}, "orders": [1, {}]}
    plain = without_person(odd, vocabulary, ())
    assert plain["patient"]["conditions"] == ["CKD stage 4"]
    assert plain["patient"]["observations"] == []
    assert plain["orders"] == [{"id": "o1"}]


@pytest.mark.parametrize("path", sorted((DEMO / "patients").glob("*.toml")), ids=lambda p: p.stem)
def test_of_every_demo_bed_the_conditions_are_understood_as_before(
    path: Path, vocabulary: Vocabulary
) -> None:
    bed = read_bed_file(path).bed
    plain = without_person(bed.request, vocabulary, (bed.bed, bed.initials))
    before = read_conditions(bed.request["patient"].get("conditions", ()), vocabulary)
    after = read_conditions(plain["patient"]["conditions"], vocabulary)
    assert (after.found, after.denied) == (before.found, before.denied)
    assert bed.initials not in str(plain)

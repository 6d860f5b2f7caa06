"""The demo unit: invented beds, each readable as a ward would write it."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError
from app.intake.vocabulary import Vocabulary
from app.storage.demo_files import (
    DEMO,
    Words,
    as_json,
    doubts_of,
    read_bed_file,
    read_case_of,
    read_unit_file,
)

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
BEDS = sorted((DEMO / "patients").glob("*.toml"))
BED = """
bed = "01"
initials = "A.B."
[patient]
age_years = 50
observations = [{ name = "sodium", value = 140, unit = "mmol/L", taken_at = 2031-03-04T06:00:00Z }]
[[orders]]
id = "o1"
fluid = "0.9% sodium chloride"
"""
UNIT = 'id = "w"\nname = "W"\nzone = "UTC"\nfixed_now = 2031-03-04T07:05:00Z\n'


@pytest.fixture
def words(catalogue: Catalogue, vocabulary: Vocabulary) -> Words:
    return Words(catalogue, vocabulary, NOW)


def bed_with(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "bed-01.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_unit_stands_still_at_shift_start_in_its_own_zone() -> None:
    unit = read_unit_file()
    assert unit.fixed_now == NOW
    assert unit.zone == "Europe/Lisbon"
    assert "invented" in unit.name


def test_the_unit_has_some_two_dozen_beds_with_children_and_one_newborn(words: Words) -> None:
    patients = [read_case_of(read_bed_file(path).bed, words).patient for path in BEDS]
    assert len(patients) == 25
    assert len([p for p in patients if p.is_child()]) in (4, 5)
    assert len([p for p in patients if p.is_neonate()]) == 1


@pytest.mark.parametrize("path", BEDS, ids=lambda path: path.stem)
def test_a_bed_leaves_no_doubt_that_is_not_meant(path: Path, words: Words) -> None:
    file = read_bed_file(path)
    assert set(doubts_of(read_case_of(file.bed, words))) == set(file.asked)


def test_one_bed_is_doubtful_on_purpose() -> None:
    assert [path.stem for path in BEDS if read_bed_file(path).asked] == ["bed-24"]


@pytest.mark.parametrize("path", BEDS, ids=lambda path: path.stem)
def test_a_bed_is_named_by_number_and_initials_only(path: Path) -> None:
    bed = read_bed_file(path).bed
    assert path.stem == f"bed-{bed.bed}"
    assert all(len(part) <= 1 for part in bed.initials.replace(" ", "").split("."))


def test_nothing_in_the_unit_happens_after_its_moment(words: Words) -> None:
    cases = [read_case_of(read_bed_file(path).bed, words) for path in BEDS]
    taken = [o.taken_at for c in cases for group in c.patient.results.values() for o in group]
    starts = [order.starts_at for case in cases for order in case.orders]
    assert all(moment <= NOW for moment in (*taken, *starts) if moment)


def test_no_two_patients_share_their_initials() -> None:
    initials = [read_bed_file(path).bed.initials for path in BEDS]
    assert len(set(initials)) == len(initials)


def test_an_unknown_field_is_told_with_its_place(tmp_path: Path) -> None:
    with pytest.raises(InputError) as told:
        read_bed_file(bed_with(tmp_path, BED + "flow = 3\n"))
    assert told.value.field == "orders[0].flow"
    assert "rate_ml_h" in told.value.accepted


def test_a_bed_without_initials_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError) as told:
        read_bed_file(bed_with(tmp_path, BED.replace('"A.B."', '" "')))
    assert told.value.field == "initials"


def test_a_figure_that_cannot_be_is_told_with_what_is_accepted(
    tmp_path: Path, words: Words
) -> None:
    file = read_bed_file(bed_with(tmp_path, BED.replace("50", "-50")))
    with pytest.raises(InputError) as told:
        read_case_of(file.bed, words)
    assert told.value.field == "patient.age_years"


def test_bad_toml_tells_the_line(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"bed-01\.toml.*line 3"):
        read_bed_file(bed_with(tmp_path, BED.replace('"A.B."', '"A.B.')))


@pytest.mark.parametrize(
    ("was", "becomes", "field"),
    [
        ('"UTC"', '"Mars/Crater"', "zone"),
        ("2031-03-04T07:05:00Z", "2031-03-04T07:05:00", "fixed_now"),
        ("2031-03-04T07:05:00Z", '"seven"', "fixed_now"),
        ('name = "W"', "colour = 1", "colour"),
    ],
)
def test_a_faulty_unit_is_told_by_field(tmp_path: Path, was: str, becomes: str, field: str) -> None:
    path = tmp_path / "unit.toml"
    path.write_text(UNIT.replace(was, becomes), encoding="utf-8")
    with pytest.raises(InputError) as told:
        read_unit_file(path)
    assert told.value.field == field


def test_times_of_a_file_become_the_text_that_json_carries() -> None:
    assert as_json({"a": [NOW], "b": date(2031, 3, 4), "c": 1}) == {
        "a": ["2031-03-04T07:05:00+00:00"],
        "b": "2031-03-04",
        "c": 1,
    }

"""Drugs, blood and nutrition as people write them, and how they share a line."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.drugs import (
    read_beside,
    read_co_infusion,
    read_co_infusions,
    with_taken_elsewhere,
)
from app.intake.fluids import NameBook, name_book
from app.intake.medicines.drug_list import read_medications
from app.intake.request import Problems, Reader
from app.intake.vocabulary import Vocabulary
from app.patient.order import CoInfusion
from app.patient.snapshot import Snapshot
from tests.conftest import NOW


@pytest.fixture(scope="module")
def book(catalogue: Catalogue, vocabulary: Vocabulary) -> NameBook:
    """The catalogue's names."""
    return name_book(catalogue, vocabulary)


def co_infusion(book: NameBook, name: str | None, **fields: Any) -> CoInfusion:  # noqa: ANN401
    """One co-infusion as read from a request."""
    return read_co_infusion(Reader({"name": name, **fields}, "c", Problems()), book)


@pytest.mark.parametrize(
    ("written", "keys"),
    [
        ("spironolactone 25 mg daily", {"spironolactone", "potassium_raising"}),
        ("ramipril", {"ace_inhibitor", "potassium_raising"}), ("losartan", {"potassium_raising"}),
        ("co-trimoxazole", {"trimethoprim", "potassium_raising"}),
        ("furosemide 40 mg", {"furosemide", "loop_diuretic"}), ("frusemide", {"furosemide"}),
        ("bendroflumethiazide", {"thiazide"}), ("sertraline", {"ssri"}), ("morphine", {"opioid"}),
        ("carbamazepine", {"sodium_lowering"}), ("noradrenaline", {"norepinephrine", "vasoactive"}),
        ("insulin glargine 20 units at night", {"insulin"}), ("metformin", {"metformin"}),
        ("digoxin", {"digoxin"}), ("TPN", {"parenteral_nutrition", "calcium"}),
        ("tacrolimus", {"potassium_raising"}), ("rocuronium", {"neuromuscular_blocker"}),
        ("paracetamol, codeine and thiamine", {"paracetamol", "opioid", "thiamine"}),
        ("piperacillin-tazobactam", {"piperacillin_tazobactam"}), ("aciclovir", {"aciclovir"}),
        ("calcium gluconate", {"calcium_gluconate", "calcium"}), ("heparin", {"heparin"}),
    ],
)  # fmt: skip
def test_a_drug_is_found_with_its_class(
    vocabulary: Vocabulary, written: str, keys: set[str]
) -> None:
    words = read_medications([written], vocabulary)
    assert keys <= words.found and words.unread == ()


@pytest.mark.parametrize(
    "written", ["metformin (held)", "stopped digoxin", "allergic to penicillin", "no metformin",
    "none"]
)  # fmt: skip
def test_a_drug_not_given_is_not_found(vocabulary: Vocabulary, written: str) -> None:
    words = read_medications([written], vocabulary)
    assert words.found == frozenset() and words.unread == ()


def test_a_drug_nobody_knows_is_told(vocabulary: Vocabulary) -> None:
    assert read_medications(["moonlight 5 mg"], vocabulary).unread == ("moonlight 5 mg",)


@pytest.mark.parametrize(
    ("written", "key", "kind"),
    [
        ("ceftriaxone 2 g over 30 min", "ceftriaxone", "drug"), ("red cells", "red_cells", "blood"),
        ("PRBC x 2 units", "red_cells", "blood"), ("FFP 4 units", "plasma", "blood"),
        ("platelets 1 pool", "platelets", "blood"), ("cryo", "cryoprecipitate", "blood"),
        ("parenteral nutrition 80 mL/h", "parenteral_nutrition", "nutrition"),
        ("insulin 5.5 units/h", "insulin", "drug"), ("calcium chloride 10% 10 mL",
        "calcium_chloride", "drug"),
        ("lactated Ringer's", "lactated-ringers", "drug"), ("moonlight", "", "drug"),
    ],
)  # fmt: skip
def test_what_runs_beside_is_understood(book: NameBook, written: str, key: str, kind: str) -> None:
    read = co_infusion(book, written)
    assert (read.key, read.kind) == (key, kind)


def test_a_name_nobody_knows_is_asked_about(book: NameBook) -> None:
    reader = Reader({"name": "moonlight"}, "c", Problems())
    read_co_infusion(reader, book)
    assert reader.problems.questions[0].field == "c.name"


@pytest.mark.parametrize(
    ("written", "arrangement"),
    [
        ("ceftriaxone, in turn with a saline flush", "in turn"), ("ceftriaxone 1 g after flush",
        "in turn"),
        ("ceftriaxone given in turn with a flush of 0.9% sodium chloride", "in turn"),
        ("ceftriaxone sequentially", "in turn"), ("ceftriaxone with flush before and after",
        "in turn"),
        ("ceftriaxone via separate line", "separate"), ("red cells through other cannula",
        "separate"),
        ("red cells, own lumen", "separate"), ("ceftriaxone Y-site", "together"),
        ("vancomycin piggyback", "together"), ("vancomycin same bag", "together"), ("vancomycin",
        ""),
    ],
)  # fmt: skip
def test_how_a_line_is_shared_is_heard(book: NameBook, written: str, arrangement: str) -> None:
    read = co_infusion(book, written)
    assert read.arrangement == arrangement and read.key


@pytest.mark.parametrize(
    ("written", "diluent", "volume"),
    [
        ("ceftriaxone 2 g in lactated Ringer's", "lactated-ringers", None),
        ("ceftriaxone 2 g in 100 mL 0.9% saline over 30 min", "sodium-chloride-0.9", 100),
        ("amiodarone 900 mg in 5% dextrose 500 mL", "dextrose-5", 500),
        ("insulin 50 units in 50 mL saline", "sodium-chloride-0.9", 50),
        ("potassium chloride 20 mmol in 100 mL over 1 h", None, 100),
    ],
)
def test_the_diluent_is_read(
    book: NameBook, written: str, diluent: str | None, volume: float | None
) -> None:
    read = co_infusion(book, written)
    assert (read.diluent.id if read.diluent else None) == diluent
    assert read.volume_ml == volume


def test_duration_rate_and_units_of_blood_are_read(book: NameBook) -> None:
    assert co_infusion(book, "red cells 1 unit over 3 h").duration_min == 180
    assert co_infusion(book, "PRBC 2 units").units == 2
    assert co_infusion(book, "parenteral nutrition 80 mL/h").rate_ml_h == 80
    assert co_infusion(book, "ceftriaxone", duration_min=30).duration_min == 30
    assert co_infusion(book, "insulin 50 units in 50 mL saline").units is None


def test_nutrition_brings_calcium_unless_it_says_not(book: NameBook) -> None:
    assert "calcium" in co_infusion(book, "TPN").contents
    assert "calcium" not in co_infusion(book, "TPN (calcium-free)").contents


def test_a_stated_amount_is_what_it_brings(book: NameBook) -> None:
    potassium = co_infusion(book, "potassium chloride 20 mmol in 100 mL over 1 h").brings
    assert potassium is not None and potassium.potassium_mmol_l == 20
    calcium = co_infusion(book, "calcium chloride 10% 10 mL").brings
    assert calcium is not None and calcium.calcium_mmol_l == pytest.approx(6.8, rel=0.01)
    bicarbonate = co_infusion(book, "sodium bicarbonate 8.4% 50 mL").brings
    assert bicarbonate is not None and bicarbonate.bicarbonate_mmol_l == pytest.approx(50)
    assert co_infusion(book, "ceftriaxone 2 g").brings is None


def test_blood_is_blood_whatever_kind_was_ticked(book: NameBook) -> None:
    assert co_infusion(book, "red cells", kind="drug").kind == "blood"


@pytest.mark.parametrize(
    ("written", "mosm_l"),
    [
        ("TPN 1,250 mOsm/L at 80 mL/h", 1250.0),
        ("peripheral parenteral nutrition (osmolarity 780 mosmol/L)", 780.0),
        ("parenteral nutrition 80 mL/h", None),
    ],
)
def test_an_osmolarity_written_on_nutrition_is_kept(
    book: NameBook, written: str, mosm_l: float | None
) -> None:
    assert co_infusion(book, written).osmolarity_mosm_l == mosm_l


@pytest.mark.parametrize(
    ("written", "key", "marks"),
    [
        ("apixaban", "apixaban", {"anticoagulant"}), ("warfarin", "warfarin", {"anticoagulant"}),
        ("clarithromycin", "clarithromycin", {"macrolide"}), ("cyclizine", "cyclizine",
        {"antiemetic"}), ("mycophenolate", "mycophenolate", {"immunosuppressant"}),
        ("azathioprine", "azathioprine", {"immunosuppressant"}), ("donepezil", "donepezil",
        {"antidementia"}), ("loperamide", "loperamide", {"antidiarrhoeal"}),
        ("gentamicin", "gentamicin", {"aminoglycoside", "nephrotoxic"}),
        ("salbutamol nebs", "salbutamol", {"potassium_lowering"}),
        ("terlipressin", "terlipressin", {"vasoactive", "sodium_lowering"}),
        ("midazolam", "midazolam", {"sedative"}), ("lamotrigine", "lamotrigine",
        {"antiepileptic"}), ("amphotericin B", "amphotericin_b", {"nephrotoxic",
        "potassium_lowering"}), ("co-trimoxazole", "co_trimoxazole", {"trimethoprim",
        "potassium_raising"}), ("ramipril", "ramipril", {"ace_inhibitor",
        "potassium_raising"}), ("fludrocortisone", "fludrocortisone", {"steroid",
        "potassium_lowering"}), ("insulin glargine", "insulin", {"potassium_lowering"}),
        ("sodium bicarbonate tablets", "oral_bicarbonate", set()), ("calcium carbonate",
        "oral_calcium", set()),
    ],
)  # fmt: skip
def test_each_drug_has_its_own_name_and_its_class_as_marks(
    vocabulary: Vocabulary, written: str, key: str, marks: set[str]
) -> None:
    words = read_medications([written], vocabulary)
    assert {key, *marks} <= words.found and words.unread == ()
    assert "calcium" not in words.found and "bicarbonate" not in words.found


def test_no_drug_is_named_by_another_drug(vocabulary: Vocabulary) -> None:
    for name in ("apixaban", "rivaroxaban", "clarithromycin", "cyclizine", "terlipressin"):
        assert words_keys(vocabulary, name).isdisjoint({"warfarin", "azithromycin",
            "metoclopramide", "vasopressin"})  # fmt: skip


def words_keys(vocabulary: Vocabulary, written: str) -> frozenset[str]:
    """The keys that a drug's name gives."""
    return read_medications([written], vocabulary).found


def test_potassium_in_each_litre_beside_the_fluids_is_brought(book: NameBook) -> None:
    running = co_infusion(book, "potassium chloride 40 mmol/L at 50 mL/h")
    assert running.brings is not None and running.brings.potassium_mmol_l == 48
    assert (running.volume_ml, running.duration_min) == (1200, 1440)
    bag = co_infusion(book, "0.9% saline with KCl 40 mmol/L", volume_ml=500)
    assert bag.brings is not None and bag.brings.potassium_mmol_l == 20


def several(book: NameBook, name: str, **fields: Any) -> tuple[CoInfusion, ...]:  # noqa: ANN401
    """What one entry of a request names."""
    return read_co_infusions(Reader({"name": name, **fields}, "c", Problems()), book)


def test_two_drugs_with_doses_of_their_own_are_two_and_a_mixture_is_one(book: NameBook) -> None:
    pair = several(book, "vancomycin 1 g and ceftriaxone 2 g", lumen="p1")
    assert [(one.key, one.lumen) for one in pair] == [("vancomycin", "p1"), ("ceftriaxone", "p1")]
    assert len(several(book, "propofol and alfentanil")) == 1
    assert len(several(book, "insulin 10 units and dextrose 50% 50 mL")) == 1
    assert len(several(book, "potassium chloride 20 mmol and magnesium sulfate 10 mmol")) == 1


@pytest.mark.parametrize("name", ["nil", "none", "-", "N/A"])
def test_nothing_beside_is_nothing(book: NameBook, name: str) -> None:
    assert several(book, name) == ()


def test_the_name_decides_what_kind_it_is(book: NameBook) -> None:
    assert co_infusion(book, "ceftriaxone 2 g", kind="blood").kind == "drug"
    assert co_infusion(book, "PRBC 1 unit", kind="nutrition").kind == "blood"
    assert co_infusion(book, "glucose 20%", kind="nutrition").kind == "nutrition"
    unknown = co_infusion(book, "bag", kind="nutrition")
    assert unknown.ask and "calcium" in unknown.contents


def test_nutrition_with_a_rate_brings_what_a_day_of_it_holds(book: NameBook) -> None:
    bag = co_infusion(book, "TPN Ca 2.5 mmol/L, K 30 mmol/L @ 80 mL/h")
    assert bag.brings is not None and bag.brings.potassium_mmol_l == pytest.approx(57.6)
    assert (bag.duration_min, {"calcium", "potassium"} <= bag.contents) == (1440, True)
    assert co_infusion(book, "TPN 2 L over 24 h").rate_ml_h == pytest.approx(83.3, abs=0.1)


def test_what_does_not_run_is_set_aside(book: NameBook) -> None:
    names = ["ceftriaxone held", "meropenem 1 g", "insulin glargine s/c"]
    readers = [Reader({"name": name}, "c", Problems()) for name in names]
    beside = read_beside(readers, [], [], book, Problems())
    assert [one.key for one in beside.running] == ["meropenem"]
    assert [one.stands for one in beside.set_aside] == ["ended", "elsewhere"]
    patient = with_taken_elsewhere(Snapshot(NOW), beside.set_aside, book.vocabulary)
    assert "insulin" in patient.medications and "ceftriaxone" not in patient.medications

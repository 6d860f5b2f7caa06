import pytest

from tests.unit.review.ledger.conftest import LedgerOf

CHILD = {"age_years": 6, "weight_kg": 20}


def test_a_carrier_that_is_written_is_counted_as_written(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("vancomycin 1 g in 250 mL 0.9% sodium chloride twice daily",))
    carrier = next(row for row in ledger.rows if row.what == "vehicle")
    assert carrier.amounts.water_ml == pytest.approx(500)
    assert carrier.amounts.sodium_mmol == pytest.approx(77)


def test_an_adult_gets_the_usual_carrier_and_a_child_never_does(ledger_for: LedgerOf) -> None:
    words = ("meropenem 1 g three times a day",)
    adult = ledger_for(infusions=words)
    child = ledger_for(infusions=words, patient=CHILD, setting="paediatric")
    assert adult.totals.water_ml > 0
    assert "usual vehicle" in {row.known for row in adult.rows}
    assert "usual vehicle" not in {row.known for row in child.rows}
    assert "water_ml" in child.at_least


def test_a_drug_nobody_has_a_carrier_for_makes_the_sum_at_least(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("wonderdrug 5 mg twice daily",))
    assert "water_ml" in ledger.at_least


def test_blood_is_counted_by_the_unit_and_never_a_child_s(ledger_for: LedgerOf) -> None:
    words = ("2 units red cells",)
    assert ledger_for(infusions=words).totals.water_ml == pytest.approx(560)
    child = ledger_for(infusions=words, patient=CHILD, setting="paediatric")
    assert child.totals.water_ml == 0 and "water_ml" in child.at_least


def test_each_dose_is_flushed_but_an_infusion_that_runs_on_is_not(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("ceftriaxone 2 g daily", "fentanyl 2 mL/h"))
    flushes = [row for row in ledger.rows if row.what == "flush"]
    assert [row.amounts.water_ml for row in flushes] == [20]


def test_the_drug_s_own_sodium_goes_by_the_dose_written(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("meropenem 2 g q8h",))
    own = next(row for row in ledger.rows if row.what == "drug")
    assert own.amounts.sodium_mmol == pytest.approx(6 * 3.9)
    assert own.known == "written"


def test_a_child_s_dose_for_each_kilogram_brings_its_sodium(ledger_for: LedgerOf) -> None:
    words = ("ceftriaxone 50 mg/kg daily",)
    ledger = ledger_for(infusions=words, patient=CHILD, setting="paediatric")
    assert ledger.totals.sodium_mmol == pytest.approx(20 * 0.05 * 3.6)
    assert any(row.note == "adult volume, not counted" for row in ledger.rows)


def test_no_amount_of_an_electrolyte_is_ever_guessed(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("potassium chloride in 100 mL 0.9% sodium chloride",))
    assert ledger.totals.potassium_mmol == 0
    assert "potassium_mmol" in ledger.at_least


def test_a_rate_that_is_not_written_is_not_guessed(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("norepinephrine 0.1 microg/kg/min",))
    assert ledger.totals.water_ml == 0
    assert any("no rate in mL/h" in row.note for row in ledger.rows)


def test_a_pressure_line_that_is_written_is_a_flush(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("arterial line 0.9% sodium chloride 3 mL/h",))
    (row,) = ledger.rows
    assert (row.what, row.amounts.water_ml) == ("flush", 72)


def test_albumin_by_its_strength_is_a_fluid_with_no_chloride_on_its_label(
    ledger_for: LedgerOf,
) -> None:
    ledger = ledger_for(infusions=("albumin 20% 100 mL tds",))
    assert [row.what for row in ledger.rows] == ["fluid"]
    assert ledger.totals.sodium_mmol == pytest.approx(30)
    assert ledger.at_least == {"chloride_mmol"}

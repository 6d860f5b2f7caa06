import pytest

from tests.unit.review.ledger.conftest import LedgerOf

SALINE = {
    "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 50, "purpose": "maintenance",
}  # fmt: skip
VANCOMYCIN = "vancomycin 1 g in 250 mL 0.9% sodium chloride twice daily"


def test_what_nobody_ordered_as_a_fluid_is_told_apart(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(SALINE, infusions=(VANCOMYCIN,))
    hidden = sum(
        row.amounts.water_ml for row in ledger.rows if row.what in ("vehicle", "drug", "flush")
    )
    assert ledger.hidden.water_ml == pytest.approx(hidden)
    assert ledger.hidden_share("water_ml") == pytest.approx(hidden / ledger.totals.water_ml)
    assert ledger.totals.water_ml >= 1700


def test_a_share_of_nothing_is_none(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(SALINE)
    assert ledger.share(ledger.rows[0], "glucose_g") is None
    assert ledger.share(ledger.rows[0], "water_ml") == pytest.approx(1)


def test_pressure_lines_of_intensive_care_are_named_as_not_counted(ledger_for: LedgerOf) -> None:
    assert any("Pressure lines" in note for note in ledger_for(SALINE, setting="ICU").notes)
    assert not ledger_for(SALINE).notes


def test_too_much_sodium_is_no_reason_for_a_hypotonic_fluid_in_a_child(
    ledger_for: LedgerOf,
) -> None:
    child = {"age_years": 6, "weight_kg": 20}
    ledger = ledger_for(SALINE, patient=child, setting="paediatric")
    assert any("hypotonic" in note for note in ledger.notes)


def test_a_drug_of_the_list_that_only_goes_into_a_vein_is_said_and_not_counted(
    ledger_for: LedgerOf,
) -> None:
    patient = {"age_years": 60, "weight_kg": 70, "medications": ["meropenem", "paracetamol"]}
    ledger = ledger_for(SALINE, patient=patient)
    assert [row.source for row in ledger.rows if row.note.startswith("on the drug list")] == [
        "meropenem"
    ]
    assert ledger.totals.water_ml == pytest.approx(1200) and "water_ml" in ledger.at_least


def test_a_drug_that_runs_is_not_taken_from_the_list_again(ledger_for: LedgerOf) -> None:
    patient = {"age_years": 60, "weight_kg": 70, "medications": ["meropenem"]}
    ledger = ledger_for(infusions=("meropenem 1 g tds",), patient=patient)
    assert not ledger.at_least


def test_without_age_or_setting_no_adult_volume_is_taken(ledger_for: LedgerOf) -> None:
    ledger = ledger_for(infusions=("meropenem 1 g tds",), patient={}, setting=None)
    assert ledger.totals.water_ml == 0
    assert any("no adult volume is taken" in note for note in ledger.notes)


def test_two_bags_one_after_the_other_are_each_counted_once(ledger_for: LedgerOf) -> None:
    first = {**SALINE, "rate_ml_h": 125, "duration_h": 8, "starts_at": "2031-03-04T07:00:00Z"}
    second = {**first, "starts_at": "2031-03-04T15:00:00Z"}
    assert ledger_for(first, second).totals.water_ml == pytest.approx(2000)

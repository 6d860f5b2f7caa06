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

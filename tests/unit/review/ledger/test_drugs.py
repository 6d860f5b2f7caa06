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

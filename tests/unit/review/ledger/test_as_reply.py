from app.review.ledger.amounts import COLUMNS
from app.review.ledger.as_reply import ledger_reply
from tests.unit.review.ledger.conftest import LedgerOf


def test_the_reply_carries_rows_shares_sums_and_need(ledger_for: LedgerOf) -> None:
    saline = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100}
    reply = ledger_reply(ledger_for({**saline, "purpose": "maintenance"}))
    (row,) = reply["rows"]
    assert row["water_ml_per_day"] == 2400
    assert row["sodium_mmol_per_day"] == 369.6
    assert row["share"]["water_ml_per_day"] == 1
    assert set(reply["totals"]) == {f"{column}_per_day" for column in COLUMNS}
    assert reply["need"]["water_ml_per_day"] == {"low": 1750, "high": 2100}


def test_a_lower_bound_is_named_by_its_column(ledger_for: LedgerOf) -> None:
    reply = ledger_reply(ledger_for({"fluid": "0.9% sodium chloride"}))
    assert "water_ml_per_day" in reply["at_least"]

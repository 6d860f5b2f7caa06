"""The ledger as the JSON of the outside interface (POST /api/review, field `ledger`)."""

from collections.abc import Iterable
from typing import Any, Final

from app.review.ledger.amounts import COLUMNS, Amounts, Row
from app.review.ledger.ledger import Ledger

DECIMALS: Final = 3


def ledger_reply(ledger: Ledger) -> dict[str, Any]:
    """Rows with shares, sums, the hidden part, need; numbers to three decimals.

    at_least lists the columns of which a sum or a row is a lower bound.
    """
    return {
        "rows": [_row(row, ledger) for row in ledger.rows],
        "totals": _amounts(ledger.totals),
        "hidden": _amounts(ledger.hidden),
        "at_least": _names(ledger.at_least),
        "need": {
            "for": ledger.need.words,
            "weight_kg": ledger.need.weight_kg,
            "source": ledger.need.source,
            **{
                f"{column}_per_day": {"low": _rounded(low), "high": _rounded(high)}
                for column, (low, high) in ledger.need.by_column.items()
            },
        },
        "notes": list(ledger.notes),
    }


def _row(row: Row, ledger: Ledger) -> dict[str, Any]:
    shares = {column: ledger.share(row, column) for column in COLUMNS}
    return {
        "source": row.source,
        "what": row.what,
        "words": row.words,
        "how_known": row.known,
        **_amounts(row.amounts),
        "share": {f"{name}_per_day": _rounded(share) for name, share in shares.items() if share},
        "at_least": _names(row.at_least),
        "note": row.note,
    }


def _amounts(amounts: Amounts) -> dict[str, float]:
    return {f"{column}_per_day": _rounded(amounts.of(column)) for column in COLUMNS}


def _names(columns: Iterable[str]) -> list[str]:
    return [f"{column}_per_day" for column in COLUMNS if column in set(columns)]


def _rounded(value: float) -> float:
    return round(value, DECIMALS)

"""Rates, volumes, durations, times and purposes are read as a careful reader reads them."""

import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Final

import pytest

from app.cautions.day_loads import litres_in_day
from app.intake.read import read_case
from app.patient.case import Case
from app.patient.order import Order
from app.review.assess import review
from app.review.knowledge import Knowledge

WORDS: Final = Path(__file__).with_name("rates.toml")
NOW: Final = datetime(2031, 3, 4, 7, tzinfo=UTC)
MIDNIGHT: Final = NOW.replace(hour=0)
NEAR: Final = 0.03
ADULT: Final = {"age_years": 50.0, "weight_kg": 70.0}
PATIENT: Final = ("age_years", "weight_kg", "height_cm")
DAYS_A_YEAR: Final = 365.25
MISSED_AT_MOST: Final = 0.02
LOUD: Final = ("critical", "warning")
# How a writer is asked, loudly, what was meant.
ASKS: Final = ("order-ambiguous", "ord-rate-missing")
DOUBTS: Final = (*ASKS, "ord-rate-implausible-adult", "ord-rate-implausible-child", "data-suspect")


def wordings() -> list[dict[str, Any]]:
    """Every wording with its meaning."""
    return tomllib.loads(WORDS.read_text("utf-8"))["words"]


def case_of(wording: dict[str, Any], knowledge: Knowledge) -> Case:
    """The wording's orders in a request of their own, read by the real intake."""
    patient: dict[str, Any] = ADULT | {k: wording[k] for k in PATIENT if k in wording}
    if "age_days" in wording:
        patient["age_years"] = wording["age_days"] / DAYS_A_YEAR
    if not patient["weight_kg"]:
        del patient["weight_kg"]
    orders = wording.get("orders") or [wording["order"]]
    named = [one if "order_text" in one else {"fluid": "0.9% sodium chloride", **one}
             for one in orders]  # fmt: skip
    request = {
        "now": NOW.isoformat(),
        "setting": "paediatric" if patient["age_years"] < 16 else "adult ward",
        "patient": {**patient, "access": [{"id": "c1", "site": "central"}]},
        "orders": [{"id": f"o{n}", "lumen": "c1", **one} for n, one in enumerate(named, 1)],
    }
    return read_case(
        request, catalogue=knowledge.catalogue, vocabulary=knowledge.vocabulary, now=NOW
    )


def wrongs(wording: dict[str, Any], case: Case, knowledge: Knowledge) -> Iterator[str]:
    """What was read otherwise than a careful reader reads it."""
    yield from _asked_wrong(wording.get("asks"), case, knowledge)
    if bool(case.orders) is not wording.get("given", True):
        yield "read as given" if case.orders else "read as not given"
    if not case.orders:
        return
    # Of several orders, and of steps that became orders, one is meant.
    wrong = [tuple(_figures_wrong(wording, one)) for one in case.orders]
    if all(wrong):
        yield from wrong[0]
    yield from _moments_wrong(wording, case)
    if "day_ml" in wording:
        day = sum(litres_in_day(one, case) or 0.0 for one in case.orders) * 1000
        low, high = wording["day_ml"]
        if not low <= day <= high:
            yield f"day {day:.0f} mL"


def _moments_wrong(wording: dict[str, Any], case: Case) -> Iterator[str]:
    for name, one in (("starts", case.orders[0]), ("second_starts", case.orders[-1])):
        if name in wording and one.starts_at != _moment(wording[name]):
            yield f"{name} {one.starts_at}"


def _figures_wrong(wording: dict[str, Any], order: Order) -> Iterator[str]:
    figures = (("rate", order.rate_ml_h), ("volume", order.volume_ml), ("hours", order.duration_h))
    for name, read in figures:
        wanted = wording.get(name)
        if wanted == "none":
            if read is not None:
                yield f"{name} {read:.4g}"
        elif wanted is not None and (read is None or abs(read - wanted) > NEAR * wanted):
            yield f"{name} {read}"
        span = wording.get(f"{name}_between")
        if span and (read is None or not span[0] - 1 <= read <= span[1] + 1):
            yield f"{name} {read}"
    for name, said in (("purpose", order.purpose), ("bolus", order.is_bolus)):
        if wording.get(name, said) != said:
            yield f"{name} {said}"


def _asked_wrong(wanted: str | None, case: Case, knowledge: Knowledge) -> Iterator[str]:
    reviewed = review(case, knowledge.ruleset)
    found = [(f.rule.id, f.finding) for order in reviewed.orders for f in order.found]
    loud = {rule: finding.why for rule, finding in found if finding.level in LOUD}
    if wanted is None:
        yield from (f"asks loudly: {why}" for rule, why in loud.items() if rule in ASKS)
    elif wanted == "loudly" and not loud.keys() & set(DOUBTS):
        yield "does not ask loudly"
    elif wanted == "any" and not {rule for rule, _ in found} & set(DOUBTS):
        yield "does not ask"


def _moment(clock: str) -> datetime:
    hours, minutes = clock.split(":")
    return MIDNIGHT + timedelta(hours=int(hours), minutes=int(minutes))


def report() -> Iterator[str]:
    """The share read right in each half, and what was read wrong: `python -m ...test_rates`."""
    knowledge = Knowledge.from_seed()
    halves: dict[bool, list[bool]] = {False: [], True: []}
    for wording in wordings():
        wrong = list(wrongs(wording, case_of(wording, knowledge), knowledge))
        halves[wording.get("kept", False)].append(not wrong)
        if wrong:
            mark = "kept " if wording.get("kept") else ""
            yield f"{mark}{wording.get('orders') or wording['order']}: {'; '.join(wrong)}"
    for kept, right in halves.items():
        yield f"{'put aside' if kept else 'worked on'}: {sum(right)} of {len(right)}"


@pytest.fixture(scope="module")
def seeded() -> Knowledge:
    """The knowledge that the repository holds."""
    return Knowledge.from_seed()


@pytest.mark.parametrize("kept", [False, True], ids=["worked on", "put aside"])
def test_rates_are_read_as_a_careful_reader_reads_them(kept: bool, seeded: Knowledge) -> None:
    half = [wording for wording in wordings() if wording.get("kept", False) is kept]
    read = [(w, list(wrongs(w, case_of(w, seeded), seeded))) for w in half]
    wrong = [(wording.get("order"), why) for wording, why in read if why]
    assert len(wrong) <= MISSED_AT_MOST * len(half), wrong


if __name__ == "__main__":
    print("\n".join(report()))

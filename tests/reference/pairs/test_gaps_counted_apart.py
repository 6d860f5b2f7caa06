"""The demo unit's pairs without data, counted a second time by other means.

The beds are read as the ward writes them, and from there on this count shares no code with the
list: it reads the tables of facts and of usual carriers as TOML, looks words up plainly, and works
out hours and lumens by a few rules of its own.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import combinations, product
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Engine

from app.catalogue.fluid import Fluid
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.review.pairs.gaps import gaps_of
from app.review.workflow import current_knowledge, pair_book, review_unit
from app.storage.database import reading, transaction
from app.storage.seed import seed
from app.storage.seed_files import SEED_DATA
from tests.conftest import LOADED

DAY_H: Final = 24.0
SALTS: Final = ("calcium", "potassium", "magnesium", "phosphate", "bicarbonate")
NOT_PLAIN: Final = ("phosphate_mmol_l", "bicarbonate_mmol_l", "albumin_g_l", "gelatin_g_l",
                    "starch_g_l", "mannitol_g_l")  # fmt: skip
ORDER: Final = ("keep apart", "in turn", "no data", "only if", "may run together")
Words = dict[str, int]


@dataclass(frozen=True)
class Runs:
    """One infusion: the words that name each part, lumen, hours from now, whether it is a dose."""

    parts: tuple[tuple[str, frozenset[tuple[str, int]]], ...]
    lumen: str | None
    hours: tuple[tuple[float, float], ...]
    is_dose: bool
    arrangement: str = ""


def tables(folder: str) -> Iterator[dict[str, Any]]:
    for path in sorted((SEED_DATA / folder).glob("*.toml")):
        yield tomllib.loads(Path(path).read_text("utf-8"))


def listed(value: str | list[str]) -> list[str]:
    return [value] if isinstance(value, str) else value


def verdicts() -> dict[frozenset[str], list[str]]:
    """What is said of two words, to whomever but newborns alone; usual carriers too."""
    said: dict[frozenset[str], list[str]] = {}
    for entry in (entry for table in tables("co_infusion") for entry in table["pair"]):
        if entry.get("population") != "newborn":
            for a, b in product(listed(entry["a"]), listed(entry["b"])):
                said.setdefault(frozenset((a, b)), []).append(entry["verdict"])
    for key, entry in carriers().items():
        fluid = entry["fluid"].replace("glucose-", "dextrose-")
        if fluid not in ("itself", "varies"):
            said.setdefault(frozenset((key, fluid)), ["may run together"])
    return said


def carriers() -> dict[str, dict[str, Any]]:
    return {key: each for table in tables("vehicles") for key, each in table["vehicle"].items()}


def is_gap(one: Words, other: Words, said: dict[frozenset[str], list[str]]) -> bool:
    found = [
        (rank + other_rank, verdict)
        for (word, rank), (other_word, other_rank) in product(one.items(), other.items())
        for verdict in said.get(frozenset((word, other_word)), ())
    ]
    closest = max((rank for rank, _ in found), default=-1)
    return (
        min((v for r, v in found if r == closest), key=ORDER.index, default="no data") == "no data"
    )


def of_fluid(fluid: Fluid) -> tuple[str, frozenset[tuple[str, int]]]:
    held = fluid.composition
    words: Words = {"any fluid": 0}
    words |= {salt: 1 for salt in SALTS if getattr(held, f"{salt}_mmol_l") > 0}
    words |= {"glucose": 1} if held.glucose_g_l else {}
    plain = fluid.kind == "crystalloid" and not any(getattr(held, name) for name in NOT_PLAIN)
    words |= {"plain fluid": 1} if plain and not fluid.never_hung else {}
    words |= {fluid.id: 2, fluid.id.replace("glucose-", "dextrose-"): 2}
    return fluid.id, frozenset(words.items())


def of_order(order: Order, now: datetime) -> Runs:
    assert order.fluid is not None
    parts = [of_fluid(order.fluid)]
    for additive in order.additives:
        assert additive.substance == "potassium_chloride", "count this additive too"
        words = {"any drug": 0, "potassium": 1, "potassium_chloride": 2}
        parts.append(("potassium_chloride", frozenset(words.items())))
    starts = order.starts_at or now
    begins = max((starts - now) / timedelta(hours=1), 0.0)
    ends = DAY_H
    if order.purpose != "maintenance" and order.volume_ml and order.rate_ml_h:
        ends = (starts - now) / timedelta(hours=1) + order.volume_ml / order.rate_ml_h
    length = ends - begins
    return Runs(tuple(parts), order.lumen, ((begins, min(ends, DAY_H)),), is_dose=length <= 1)


def of_other(other: CoInfusion) -> Runs:
    words: Words = {"any drug" if other.kind == "drug" else "any fluid": 0}
    words |= dict.fromkeys(other.contents, 1) | {other.key: 2}
    usual = carriers().get(other.key, {})
    runs = other.kind == "nutrition" or usual.get("runs_all_day", False)
    times = other.schedule.doses_per_day or 1
    length = (other.duration_min or usual.get("minutes", 30)) / 60
    doses = tuple((n * DAY_H / times, n * DAY_H / times + length) for n in range(round(times)))
    hours = ((0.0, DAY_H),) if runs else doses
    parts = ((other.key, frozenset(words.items())),)
    return Runs(parts, other.lumen, hours, other.kind == "drug" and not runs, other.arrangement)


def together_h(one: Runs, other: Runs) -> float:
    pairs = product(one.hours, other.hours)
    return sum(max(0.0, min(a[1], b[1]) - max(a[0], b[0])) for a, b in pairs)


def counted(cases: dict[str, Case]) -> dict[tuple[str, str], tuple[float, float, set[str]]]:
    """Hours together, of these on one lumen, and beds, by pair."""
    said, found = verdicts(), {}
    for bed, case in cases.items():
        running = [of_order(order, case.now) for order in case.orders if order.fluid]
        running += [of_other(other) for other in case.co_infusions if not other.carried_by]
        for one, other in combinations(running, 2):
            placed = one.lumen is not None and other.lumen is not None
            if (placed and one.lumen != other.lumen) or (one.is_dose and other.is_dose):
                continue
            if {one.arrangement, other.arrangement} & {"separate", "in turn"}:
                continue
            shared = placed or len(case.patient.access) == 1
            hours = together_h(one, other)
            for (a, words), (b, others) in product(one.parts, other.parts):
                if hours and a != b and is_gap(dict(words), dict(others), said):
                    first, second = sorted((a, b))
                    was = found.get((first, second), (0.0, 0.0, set()))
                    found[first, second] = (
                        was[0] + hours, was[1] + hours * shared, was[2] | {bed},
                    )  # fmt: skip
    return found


def test_the_list_of_the_demo_unit_equals_the_count(engine: Engine) -> None:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    with reading(engine) as session:
        knowledge = current_knowledge(session)
        cases = {bed.bed: bed.review.case for bed in review_unit(session, knowledge)}
        gaps = gaps_of(cases.items(), pair_book(session, knowledge), knowledge.vehicles)
    told = {
        (gap.one, gap.other): (round(gap.hours, 2), round(gap.hours_on_one_lumen, 2), set(gap.beds))
        for gap in gaps
    }
    again = {
        pair: (round(hours, 2), round(on_one, 2), beds)
        for pair, (hours, on_one, beds) in counted(cases).items()
    }
    assert told == again
    assert len(told) >= 3
    hours = [gap.hours for gap in gaps]
    assert hours == sorted(hours, reverse=True)

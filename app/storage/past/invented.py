"""The demo's past: thirty days of orders, the same on every machine, of people who never were."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from random import Random
from typing import Final

from app.storage.past.draw import Draw, Request
from app.storage.past.invented_orders import access_of, beside_of, orders_of
from app.storage.past.stories import Stories, Story

ADULT_FROM_YEARS: Final = 16.0
# Results are taken once or twice a day and before that a day earlier; some are old.
TAKEN_H: Final = (1.0, 9.0)
OLD_SHARE: Final = 0.04
OLD_H: Final = 34.0
A_DAY_H: Final = 24.0
DRIFT: Final = 0.04
ADULT_URINE_ML_KG_H: Final = (0.5, 1.6)
BALANCE_ML: Final = (-600, 2600)
NO_WEIGHT_SHARE: Final = 0.04
# A usual weight by age (from memory of common estimates): 3.4 kg at birth, 4 + 2.4 kg a year.
NEWBORN_KG: Final = (1.1, 3.9)
INFANT_KG: Final = 4.2
KG_A_YEAR: Final = 2.6
NEWBORN_TO_YEARS: Final = 0.08
WEIGHT_SPREAD: Final = (0.85, 1.2)
MINUTES_A_DAY: Final = 1440


def invented_past(stories: Stories, until: datetime) -> Iterator[tuple[datetime, Request]]:
    """Requests with their moments, oldest first, up to a moment."""
    for day in range(stories.days):
        chance = Random(f"{stories.seed}|{day}")
        start = until - timedelta(days=stories.days - day)
        minutes = sorted(chance.randrange(MINUTES_A_DAY) for _ in range(stories.requests_a_day))
        for minute in minutes:
            at = start + timedelta(minutes=minute)
            yield at, _request(chance, stories, at)


def _request(chance: Random, stories: Stories, at: datetime) -> Request:
    story = chance.choices(stories.stories, [one["share"] for one in stories.stories])[0]
    setting = chance.choices(list(story["settings"]), list(story["settings"].values()))[0]
    age = chance.uniform(*story["age_years"])
    draw = Draw(chance, stories, story, at, _weight(chance, story, age))
    lines = access_of(draw, setting)
    orders = orders_of(draw, lines)
    return {
        "setting": setting,
        "patient": {**_person(draw, age), "access": lines},
        "orders": orders,
        "co_infusions": beside_of(draw, lines),
    }


def _weight(chance: Random, story: Story, age_years: float) -> float:
    if "weight_kg" in story:
        return float(round(chance.uniform(*story["weight_kg"])))
    if age_years < NEWBORN_TO_YEARS:
        return round(chance.uniform(*NEWBORN_KG), 2)
    return round((INFANT_KG + KG_A_YEAR * age_years) * chance.uniform(*WEIGHT_SPREAD), 1)


def _person(draw: Draw, age_years: float) -> Request:
    story, chance = draw.story, draw.chance
    either = [chance.choice(story["either"])] if "either" in story else []
    age = float(int(age_years)) if age_years >= ADULT_FROM_YEARS else round(age_years, 3)
    urine = draw.between(story.get("urine_ml_kg_h", ADULT_URINE_ML_KG_H), 2) * draw.weight_kg
    person: Request = {
        "age_years": age,
        "sex": chance.choice(("female", "male")),
        "weight_kg": draw.weight_kg,
        "conditions": [*story["conditions"], *either, *draw.some(story["also"], 2)],
        "medications": draw.some(story["medications"], 3),
        "observations": _results(draw),
        "urine_ml_h": round(urine, 1),
    }
    if age >= ADULT_FROM_YEARS:
        person["height_cm"] = draw.between((150, 192))
        person["balance_24h_ml"] = draw.between(BALANCE_ML)
    for name, share in (("weight_kg", NO_WEIGHT_SHARE), ("urine_ml_h", draw.stories.missing)):
        if draw.happens(share):
            del person[name]
    return person


def _results(draw: Draw) -> list[Request]:
    spans = {**draw.stories.usual_results, **draw.story.get("results", {})}
    hours = OLD_H if draw.happens(OLD_SHARE) else draw.between(TAKEN_H, 1)
    newest, before = [], []
    earlier = draw.happens(draw.stories.earlier)
    for name, (low, high, unit) in spans.items():
        if draw.happens(draw.stories.missing):
            continue
        places = 2 if high < 10 else (1 if high < 40 else 0)  # noqa: PLR2004 - as laboratories print
        value = draw.between((low, high), places)
        newest.append(_result(draw, name, value, unit, hours))
        if earlier:
            drifted = round(value * draw.chance.uniform(1 - DRIFT, 1 + DRIFT), places)
            before.append(_result(draw, name, drifted, unit, hours + A_DAY_H))
    return newest + before


def _result(draw: Draw, name: str, value: float, unit: str, hours_ago: float) -> Request:
    taken = (draw.at - timedelta(hours=hours_ago)).isoformat(timespec="minutes")
    return {"name": name, "value": value, **({"unit": unit} if unit else {}), "taken_at": taken}

"""What runs into an invented patient: cannulas, fluid orders as wards write them, and the rest."""

from collections.abc import Mapping, Sequence
from typing import Final

from app.storage.past.draw import Draw, Request
from app.storage.past.stories import Story

CENTRAL_SHARE: Final[Mapping[str, float]] = {"ICU": 0.7, "theatre": 0.25, "neonate": 0.5}
CENTRAL: Final = {"id": "central", "site": "central"}
PERIPHERAL: Final = {"id": "forearm", "site": "peripheral"}
SECOND: Final = {"id": "hand", "site": "peripheral"}
SECOND_SHARE: Final = 0.4
TWO_ORDERS_SHARE: Final = 0.35
NO_PURPOSE_SHARE: Final = 0.06
BESIDE_SHARE: Final = 0.3
STARTED_H: Final = 8.0
STILL_HANGS: Final = 0.8
ROUNDED_TO_ML: Final = 5
# Holliday and Segar's rule for a child's upkeep: mL/kg/h to 10 kg, to 20 kg, and above.
UPKEEP: Final = ((10.0, 4.0), (10.0, 2.0), (float("inf"), 1.0))
UPKEEP_SPREAD: Final = (0.8, 1.25)


def access_of(draw: Draw, setting: str) -> list[Request]:
    """The cannulas of a patient in this place."""
    lines = [dict(PERIPHERAL)]
    if draw.happens(CENTRAL_SHARE.get(setting, 0.0)):
        lines.append(dict(CENTRAL))
    elif draw.happens(SECOND_SHARE):
        lines.append(dict(SECOND))
    return lines


def orders_of(draw: Draw, lines: Sequence[Request]) -> list[Request]:
    """One fluid order of the patient's story, and at times another for another purpose."""
    kinds: Sequence[Story] = draw.story["order"]
    first = draw.by_share(kinds)
    orders = [_order(draw, first, "o1", lines)]
    others = [kind for kind in kinds if kind.get("purpose") not in (None, first.get("purpose"))]
    if others and draw.happens(TWO_ORDERS_SHARE):
        orders.append(_order(draw, draw.by_share(others), "o2", lines))
    return orders


def _order(draw: Draw, kind: Story, name: str, lines: Sequence[Request]) -> Request:
    line = draw.one_of(lines)["id"]
    if "text" in kind:
        return {"id": name, "order_text": draw.one_of(kind["text"]), "lumen": line}
    amounts = _amounts(draw, kind)
    order = {"id": name, "fluid": draw.one_of(kind["fluid"]), "lumen": line, **amounts}
    order["starts_at"] = draw.before((0.0, _running_h(amounts)))
    if "additive" in kind:
        substance, amounts, unit = kind["additive"]
        order["additives"] = [
            {"substance": substance, "amount": draw.one_of(amounts), "unit": unit}
        ]
    if "purpose" in kind and not draw.happens(NO_PURPOSE_SHARE):
        order["purpose"] = kind["purpose"]
    return order


def _running_h(amounts: Request) -> float:
    """For how long it may have run by now: the bag still hangs."""
    if "rate_ml_h" not in amounts or "volume_ml" not in amounts:
        return STARTED_H
    lasts_h: float = amounts["volume_ml"] / amounts["rate_ml_h"]
    return min(STARTED_H, STILL_HANGS * lasts_h)


def _amounts(draw: Draw, kind: Story) -> Request:
    amounts: Request = {}
    if "volume_ml_kg" in kind:
        amounts["volume_ml"] = _rounded(draw.one_of(kind["volume_ml_kg"]) * draw.weight_kg)
    elif "volume_ml" in kind:
        amounts["volume_ml"] = draw.one_of(kind["volume_ml"])
    if kind.get("upkeep"):
        factor = draw.chance.uniform(*UPKEEP_SPREAD)
        amounts["rate_ml_h"] = round(upkeep_ml_h(draw.weight_kg) * factor)
    elif "rate_ml_kg_h" in kind:
        amounts["rate_ml_h"] = round(draw.between(kind["rate_ml_kg_h"], 1) * draw.weight_kg, 1)
    elif "rate_ml_h" in kind:
        amounts["rate_ml_h"] = draw.one_of(kind["rate_ml_h"])
    if "rate_text" in kind:
        amounts["rate_text"] = draw.one_of(kind["rate_text"])
    return amounts


def upkeep_ml_h(weight_kg: float) -> float:
    """What a child of this weight needs to keep up, mL/h."""
    left, need = weight_kg, 0.0
    for step_kg, ml_kg_h in UPKEEP:
        need += min(left, step_kg) * ml_kg_h
        left = max(0.0, left - step_kg)
    return need


def beside_of(draw: Draw, lines: Sequence[Request]) -> list[Request]:
    """What else runs, of what the story has."""
    if "beside" not in draw.story or not draw.happens(BESIDE_SHARE):
        return []
    kind = draw.story.get("beside_kind", "drug")
    return [{"name": draw.one_of(draw.story["beside"]), "kind": kind, "lumen": lines[-1]["id"]}]


def _rounded(volume_ml: float) -> int:
    return max(ROUNDED_TO_ML, ROUNDED_TO_ML * round(volume_ml / ROUNDED_TO_ML))

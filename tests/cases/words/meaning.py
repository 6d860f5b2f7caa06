"""What an order was read as, compared with what a careful reader takes it to mean."""

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from app.catalogue.catalogue import Catalogue
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.patient.order import HOURS_PER_DAY, Order, Question
from tests.conftest import NOW

HERE = Path(__file__).parent
PATIENT: Mapping[str, Any] = {
    "age_years": 61,
    "sex": "female",
    "weight_kg": 70,
    "access": [{"id": "p1", "site": "peripheral"}],
}
WRITTEN = ("fluid", "additives")
NUMBERS = ("volume_ml", "rate_ml_h", "duration_h")
PREMIX = "potassium-chloride-"
NEAR, NEAR_GLUCOSE, SMALL = 0.05, 0.1, 0.6
ML_PER_L = 1000.0


def wordings(name: str) -> Iterator[dict[str, Any]]:
    """Each wording of a file, with what its group says of all."""
    table = tomllib.loads((HERE / name).read_text("utf-8"))
    for group in table["group"]:
        for wording in group["wording"]:
            shared = {key: group[key] for key in ("fields", "patient") if key in group}
            yield shared | wording | {"same": table["same"]}


def read(wording: Mapping[str, Any], catalogue: Catalogue, vocabulary: Vocabulary) -> Case:
    """The case as the real intake reads a whole request with this one order."""
    order = {"id": "o1", "lumen": "p1", **wording.get("fields", {})}
    order |= {key: wording[key] for key in WRITTEN if key in wording}
    if "text" in wording:
        order["order_text"] = wording["text"]
    request = {"patient": {**PATIENT, **wording.get("patient", {})}, "orders": [order]}
    return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)


def misread(wording: Mapping[str, Any], case: Case) -> list[str]:
    """Everything in which the reading differs from the meaning; empty when they agree."""
    order = case.orders[0]
    asked = [*order.questions, *case.questions]
    ask = wording.get("ask", False)
    if ask is True:
        return [] if asked else [f"not asked: read as {seen(order, case)}"]
    if ask == "may" and asked:
        return list(_never(wording, order, case))
    asked = [q for q in asked if not _is_quiet(q, wording, order)]
    faults = [f"asked: {q.field}: {q.ask}" for q in asked]
    faults += [
        *_fluid(wording, order),
        *_amounts(wording, order, case),
        *_numbers(wording, order),
        *_drugs(wording, order, case),
        *_never(wording, order, case),
    ]
    return faults


def _is_quiet(question: Question, wording: Mapping[str, Any], order: Order) -> bool:
    """True where the answer changes nothing: all is known, several entries of one make, or
    nutrition made up in pharmacy.
    """
    if not question.field.endswith(".fluid"):
        return False
    made_up = any(dose.substance == "parenteral_nutrition" for dose in order.additives)
    alike = order.candidates and "is" in wording and not list(_fluid(wording, order))
    return bool(made_up or alike or order.mix)


def seen(order: Order, case: Case) -> str:
    """The reading in a few words."""
    names = [order.fluid.id if order.fluid else "no fluid", *(f.id for f in order.candidates)]
    doses = [f"{d.substance} {d.as_written} {d.unread}".strip() for d in order.additives]
    drugs = sorted(_in_the_bag(order, case))
    return f"{names} {doses} {drugs} {order.volume_ml} mL {order.rate_ml_h} mL/h"


def _fluid(wording: Mapping[str, Any], order: Order) -> Iterator[str]:
    if "is" not in wording:
        return
    wanted = (wording["is"], *wording["same"].get(wording["is"], ()))
    ids = [f.id for f in order.candidates] or ([order.fluid.id] if order.fluid else [])
    for one in ids or ["no fluid"]:
        bare = one in wanted
        if not bare and not (one.startswith(PREMIX) and one.endswith(wanted)):
            yield f"fluid: {one}, not {wording['is']}"


def _amounts(wording: Mapping[str, Any], order: Order, case: Case) -> Iterator[str]:
    for name, wanted in wording.get("litre", {}).items():
        got = _in_a_litre(_field(name), order, case)
        near = NEAR_GLUCOSE if name == "glucose" else NEAR
        if got is None or abs(got - wanted) > max(wanted * near, SMALL):
            yield f"{name} in a litre: {got}, not {wanted}"
    for name, wanted in wording.get("holds", {}).items():
        got = held(_field(name), order, case)
        near = NEAR_GLUCOSE if name == "glucose" else NEAR
        if got is None or abs(got - wanted) > max(wanted * near, SMALL / 2):
            yield f"{name} held: {got}, not {wanted}"


def _field(name: str) -> str:
    return f"{name}_g_l" if name in {"glucose", "albumin", "mannitol"} else f"{name}_mmol_l"


def _in_a_litre(field: str, order: Order, case: Case) -> float | None:
    if order.mix is not None:
        return float(getattr(order.mix, field))
    whole, volume_ml = held(field, order, case), order.volume_ml
    if volume_ml is None and order.rate_ml_h is not None:
        volume_ml = order.rate_ml_h * HOURS_PER_DAY
    return None if whole is None or volume_ml is None else whole * ML_PER_L / volume_ml


def held(field: str, order: Order, case: Case) -> float | None:
    """What the whole bag holds, or what is added while its volume is not said."""
    if order.mix is not None and order.volume_ml is not None:
        whole_ml = order.volume_ml
        return float(getattr(order.mix, field)) * whole_ml / ML_PER_L
    parts = [drug.brings for drug in case.co_infusions if drug.brings is not None]
    parts = parts or [dose.added for dose in order.additives if not dose.unread]
    return sum(getattr(part, field) for part in parts) if parts else None


def _numbers(wording: Mapping[str, Any], order: Order) -> Iterator[str]:
    for name in NUMBERS:
        wanted, got = wording.get(name), getattr(order, name)
        if wanted is not None and (got is None or abs(got - wanted) > wanted * NEAR):
            yield f"{name}: {got}, not {wanted}"


def _in_the_bag(order: Order, case: Case) -> set[str]:
    return {d.substance for d in order.additives} | {c.key for c in case.co_infusions if c.key}


def _drugs(wording: Mapping[str, Any], order: Order, case: Case) -> Iterator[str]:
    for drug in wording.get("drugs", ()):
        if drug not in _in_the_bag(order, case):
            yield f"drug not read: {drug}"


def _never(wording: Mapping[str, Any], order: Order, case: Case) -> Iterator[str]:
    for drug in wording.get("not_drugs", ()):
        if drug in _in_the_bag(order, case):
            yield f"read as a drug in it: {drug}"
    if order.fluid and order.fluid.id in wording.get("not_is", ()):
        yield f"read as {order.fluid.id}"

"""How a request's words were read, to the digit: what the rules looked at."""

from collections.abc import Iterable, Mapping
from typing import Any

from app.catalogue.fluid import Fluid
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.observation import Observation
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.snapshot import Snapshot, Words


def understood_of(case: Case) -> dict[str, Any]:
    """Patient, orders and what else runs, as understood, with every conversion told."""
    return {
        "patient": _patient(case.patient),
        "orders": [_order(order) for order in case.orders],
        "co_infusions": [_co_infusion(other) for other in case.co_infusions],
        "not_running": [
            {"name": other.name, "read_as": other.key or None, "stands": other.stands}
            for other in case.set_aside
        ],
    }


def fluids_of(case: Case) -> tuple[Fluid, ...]:
    """Every catalogue fluid that the case's words were taken for, or may mean, once, by id."""
    meant = [fluid for order in case.orders for fluid in (order.fluid, *order.candidates) if fluid]
    meant += [other.diluent for other in case.co_infusions if other.diluent]
    by_id = {fluid.id: fluid for fluid in meant}
    return tuple(by_id[key] for key in sorted(by_id))


def _patient(patient: Snapshot) -> dict[str, Any]:
    return {
        "setting": patient.setting,
        "age_years": patient.age_years,
        "sex": patient.sex,
        "weight_kg": patient.weight_kg,
        "height_cm": patient.height_cm,
        "urine_ml_h": patient.urine_ml_h,
        "balance_24h_ml": patient.balance_24h_ml,
        "conditions": _words(patient.conditions),
        "medications": _words(patient.medications),
        "results": [_result(one) for many in patient.results.values() for one in many],
        "access": [{"id": line.id, "site": line.site} for line in patient.access],
    }


def _words(words: Words) -> dict[str, Any]:
    return {
        "found": sorted(words.found),
        "denied": sorted(words.denied),
        "not_understood": list(words.unread),
        "as_written": dict(sorted(words.detail.items())),
    }


def _result(one: Observation) -> dict[str, Any]:
    return {
        "name": one.name,
        "value": one.value,
        "unit": one.unit,
        "taken_at": one.taken_at,
        "as_written": one.as_written,
        "converted": one.converted,
        "doubt": one.doubt,
    }


def _order(order: Order) -> dict[str, Any]:
    return {
        "id": order.id,
        "written": order.written,
        "fluid_id": order.fluid.id if order.fluid else None,
        "may_mean": [fluid.id for fluid in order.candidates],
        "fluid_per_litre": held(order.fluid.composition) if order.fluid else None,
        "additives": [_additive(dose) for dose in order.additives],
        "mix_per_litre": held(order.mix) if order.mix else None,
        "volume_ml": order.volume_ml,
        "rate_ml_h": order.rate_ml_h,
        "duration_h": order.duration_h,
        "running_h": order.running_h,
        "purpose": order.purpose,
        "bolus": order.is_bolus,
        "lumen": order.lumen,
        "reasons": sorted(order.reasons),
        "to_ask": [f"{one.field}: {one.ask}" for one in order.questions],
    }


def _additive(dose: AdditiveDose) -> dict[str, Any]:
    return {
        "as_written": dose.as_written,
        "substance": dose.substance,
        "per_litre" if dose.per_litre else "in_total": held(dose.added),
        "volume_ml": dose.volume_ml,
        "not_read": dose.unread,
    }


def _co_infusion(other: CoInfusion) -> dict[str, Any]:
    return {
        "name": other.name,
        "kind": other.kind,
        "read_as": other.key or None,
        "contents": sorted(other.contents),
        "in_total": held(other.brings) if other.brings else None,
        "diluent_id": other.diluent.id if other.diluent else None,
        "volume_ml": other.volume_ml,
        "rate_ml_h": other.rate_ml_h,
        "lumen": other.lumen,
        "arrangement": other.arrangement,
    }


def held(amounts: Composition) -> Mapping[str, float | None]:
    """What is in it, unrounded: absent things left out, None where the label does not say."""
    return dict(_present(amounts.amounts().items()))


def _present(pairs: Iterable[tuple[str, float | None]]) -> Iterable[tuple[str, float | None]]:
    return ((name, amount) for name, amount in pairs if amount is None or amount)

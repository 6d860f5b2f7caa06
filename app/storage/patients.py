"""A unit's beds: rows to requests and back, with a fixed number of queries for any unit.

A request is what the outside interface takes (the words as written); rows are read as columns,
never as mapped objects, which cost four times as much to build.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any, Final

from sqlalchemy import ColumnElement, Connection, Select, bindparam, delete, insert, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from app.storage.tables import (
    CoInfusionRow,
    LumenRow,
    ObservationRow,
    OrderRow,
    PatientRow,
    UnitRow,
)

Request = dict[str, Any]
ChildTable = type[ObservationRow] | type[LumenRow] | type[OrderRow] | type[CoInfusionRow]
Columns = Sequence[InstrumentedAttribute[Any]]

PATIENT: Final[Columns] = (
    PatientRow.age_years, PatientRow.sex, PatientRow.weight_kg, PatientRow.weight_taken_at,
    PatientRow.height_cm, PatientRow.urine_ml_h, PatientRow.balance_24h_ml,
    PatientRow.conditions, PatientRow.medications,
)  # fmt: skip
PATIENT_FIELDS: Final = tuple(column.key for column in PATIENT)
OBSERVATION_FIELDS: Final = ("name", "loinc", "value", "unit", "taken_at", "note")
LUMEN_FIELDS: Final = ("name", "site", "role")
ORDER_FIELDS: Final = (
    "name", "fluid", "additives", "volume_ml", "rate_ml_h", "duration_h", "rate_text",
    "order_text", "starts_at", "review_at", "lumen", "purpose",
)  # fmt: skip
CO_INFUSION_FIELDS: Final = ("name", "kind", "lumen")
FIELDS: Final[Mapping[ChildTable, Sequence[str]]] = {
    ObservationRow: OBSERVATION_FIELDS,
    LumenRow: LUMEN_FIELDS,
    OrderRow: ORDER_FIELDS,
    CoInfusionRow: CO_INFUSION_FIELDS,
}
# Whose rows are sought: every query is built once, for either.
SOUGHT: Final = "sought"
OF_UNIT: Final = PatientRow.unit_id == bindparam(SOUGHT)
OF_PATIENT: Final = PatientRow.id == bindparam(SOUGHT)


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit. fixed_now: the moment it stands still at, None when it follows the clock."""

    id: str
    name: str
    zone: str
    fixed_now: datetime | None


@dataclass(frozen=True, slots=True)
class Bed:
    """One bed: who lies there, by initials, and the request that says all that is known."""

    patient_id: str
    bed: str
    initials: str
    request: Mapping[str, Any]


def read_unit(session: Session) -> Unit | None:
    """The unit (the first, while there is one); None when none is loaded."""
    columns = (UnitRow.id, UnitRow.name, UnitRow.zone, UnitRow.fixed_now)
    row = session.execute(select(*columns).order_by(UnitRow.id).limit(1)).first()
    return None if row is None else Unit(*row)


def read_beds(session: Session, unit_id: str) -> tuple[Bed, ...]:
    """Every bed of a unit, in bed order."""
    return _beds(session, OF_UNIT, unit_id)


def read_names(session: Session, unit_id: str) -> tuple[tuple[str, str, str], ...]:
    """Patient id, bed and initials of every bed of a unit, in bed order: enough to choose one."""
    columns = (PatientRow.id, PatientRow.bed, PatientRow.initials)
    query = select(*columns).where(OF_UNIT).order_by(PatientRow.id)
    rows = session.connection().execute(query, {SOUGHT: unit_id})
    return tuple((patient_id, bed, initials) for patient_id, bed, initials in rows)


def read_bed(session: Session, patient_id: str) -> Bed | None:
    """One patient's bed, or None."""
    return next(iter(_beds(session, OF_PATIENT, patient_id)), None)


def _beds(session: Session, which: ColumnElement[bool], sought: str) -> tuple[Bed, ...]:
    # The connection gives plain rows; the session would look for mapped objects in each.
    connection = session.connection()
    patients = connection.execute(_patients_query(which), {SOUGHT: sought}).all()
    observations, access, orders, co_infusions = (
        _children(connection, table, which, sought)
        for table in (ObservationRow, LumenRow, OrderRow, CoInfusionRow)
    )
    beds = []
    for row in patients:
        patient = _given(zip(PATIENT_FIELDS, row[4:], strict=True))
        patient["observations"] = observations[row.id]
        patient["access"] = [_with_id(lumen) for lumen in access[row.id]]
        request = {
            **_given([("setting", row.setting)]),
            "patient": patient,
            "orders": [_with_id(order) for order in orders[row.id]],
            "co_infusions": co_infusions[row.id],
        }
        beds.append(Bed(row.id, row.bed, row.initials, request))
    return tuple(beds)


@cache
def _patients_query(which: ColumnElement[bool]) -> Select[Any]:
    columns = (PatientRow.id, PatientRow.bed, PatientRow.initials, PatientRow.setting, *PATIENT)
    return select(*columns).where(which).order_by(PatientRow.id)


@cache
def _children_query(table: ChildTable, which: ColumnElement[bool]) -> Select[Any]:
    columns = [getattr(table, name) for name in FIELDS[table]]
    return (
        select(table.patient_id, *columns)
        .join(PatientRow, PatientRow.id == table.patient_id)
        .where(which)
        .order_by(table.id)
    )


def _children(
    connection: Connection, table: ChildTable, which: ColumnElement[bool], sought: str
) -> defaultdict[str, list[Request]]:
    """One table's rows as parts of requests, by patient, in the order they were written."""
    found: defaultdict[str, list[Request]] = defaultdict(list)
    fields = FIELDS[table]
    for patient_id, *values in connection.execute(_children_query(table, which), {SOUGHT: sought}):
        found[patient_id].append(_given(zip(fields, values, strict=True)))
    return found


def _given(pairs: Iterable[tuple[str, Any]]) -> Request:
    """What is known only, with times as text: a request says nothing of what is not known."""
    return {
        key: value.isoformat() if isinstance(value, datetime) else value
        for key, value in pairs
        if value is not None
    }


def _with_id(part: Request) -> Request:
    """A part whose table column `name` is the request's `id`."""
    return {"id": part.pop("name"), **part}


def write_bed(session: Session, unit_id: str, bed: Bed, sha256: str) -> None:
    """Write one bed, replacing what was there."""
    session.execute(delete(PatientRow).where(PatientRow.id == bed.patient_id))
    patient = bed.request["patient"]
    facts = {name: patient.get(name) for name in PATIENT_FIELDS}
    facts["conditions"] = patient.get("conditions", [])
    facts["medications"] = patient.get("medications", [])
    facts["weight_taken_at"] = _moment(patient.get("weight_taken_at"))
    session.execute(
        insert(PatientRow).values(
            id=bed.patient_id,
            unit_id=unit_id,
            bed=bed.bed,
            initials=bed.initials,
            setting=bed.request.get("setting"),
            sha256=sha256,
            **facts,
        )
    )
    _write(session, ObservationRow, bed, patient.get("observations", []))
    _write(session, LumenRow, bed, map(_with_name, patient.get("access", [])))
    _write(session, OrderRow, bed, map(_with_name, bed.request.get("orders", [])))
    _write(session, CoInfusionRow, bed, bed.request.get("co_infusions", []))


MOMENTS: Final = ("taken_at", "starts_at", "review_at")


def _write(
    session: Session, table: ChildTable, bed: Bed, parts: Iterable[Mapping[str, Any]]
) -> None:
    rows = []
    for part in parts:
        row = {name: part.get(name) for name in FIELDS[table]}
        row |= {name: _moment(row[name]) for name in MOMENTS if name in row}
        if table is OrderRow:
            row["additives"] = row["additives"] or []
        rows.append({"patient_id": bed.patient_id, **row})
    if rows:
        session.execute(insert(table), rows)


def _moment(written: datetime | str | None) -> datetime | None:
    """A time as written in a request."""
    return datetime.fromisoformat(written) if isinstance(written, str) else written


def _with_name(part: Mapping[str, Any]) -> Request:
    """A part whose request `id` is the table's column `name`."""
    return {**part, "name": part["id"]}

"""The order page's form: what was typed is kept, and turned into a request."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import zip_longest
from typing import Any, Final, Protocol
from urllib.parse import urlencode

from fastapi import Request

from app.intake.errors import InputError

MOST_ROWS: Final = 12
LONGEST_TEXT: Final = 2000
LONGEST_AGE_H: Final = 24 * 365
NEW_ORDER: Final = "new"
INSTEAD: Final = "instead"
# A typed patient has the line this order runs by, and may have others.
THIS_LINE: Final = "this line"
ANOTHER_LINE: Final = "another line"
# Buttons that change the form: a patient of the unit is taken, or let go, or a name is settled.
PICKED: Final = "pick"
TYPED: Final = "type"
MEANT: Final = "meant"

# Results a prescriber has at hand: name, and the units they may be written in.
RESULTS: Final = {
    "sodium": ("mmol/L",), "potassium": ("mmol/L",), "creatinine": ("µmol/L", "mg/dL"),
    "glucose": ("mmol/L", "mg/dL"), "chloride": ("mmol/L",), "bicarbonate": ("mmol/L",),
    "lactate": ("mmol/L",), "calcium_ionised": ("mmol/L",), "ph": ("",), "albumin": ("g/L",),
}  # fmt: skip
# Form field, and where its value stands in the request.
PATIENT_FIELDS: Final = {
    "age": "age_years", "sex": "sex", "weight": "weight_kg", "height": "height_cm",
    "urine": "urine_ml_h",
}  # fmt: skip
ORDER_FIELDS: Final = {
    "order_text": "order_text", "fluid": "fluid", "volume": "volume_ml", "rate": "rate_ml_h",
    "duration": "duration_h", "purpose": "purpose", "lumen": "lumen",
}  # fmt: skip
ADDITIVE: Final = {"additive": "substance", "amount": "amount", "unit": "unit"}
CO_INFUSION: Final = {"with": "name", "kind": "kind", "with_lumen": "lumen"}
SHARED: Final = (*ORDER_FIELDS, *ADDITIVE)


class Values(Protocol):
    """A posted form or a query string."""

    def getlist(self, key: str) -> Sequence[object]:
        """Every value sent under one name."""


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed, as typed. Rows keep their places, so that a message finds its field.

    sent_*: how many rows the page had, blank ones included. did: the button it was sent by, where
    that changes the form itself (PICKED, TYPED, MEANT); empty when it was only typed in.
    """

    patient: str = ""
    single: Mapping[str, str] = field(default_factory=dict)
    additives: tuple[Mapping[str, str], ...] = ()
    co_infusions: tuple[Mapping[str, str], ...] = ()
    sent_additives: int = 0
    sent_co_infusions: int = 0
    did: str = ""

    def get(self, name: str) -> str:
        """One field's text, empty when nothing was typed."""
        return self.single.get(name, "")

    @property
    def has_order(self) -> bool:
        """True once there is anything of an order to review."""
        return bool(self.get("fluid") or self.get("order_text"))

    def everything(self) -> str:
        """All that was typed as a query string: typed() reads the same back."""
        pairs = [("patient", self.patient), *self.single.items()]
        for row in (*self.additives, *self.co_infusions):
            pairs += row.items()
        return urlencode(pairs)

    def shared(self) -> str:
        """The order as a query string, without a word of the patient."""
        pairs = [(name, self.get(name)) for name in ORDER_FIELDS if self.get(name)]
        for row in self.additives:
            pairs += [(name, row[name]) for name in ADDITIVE]
        return urlencode(pairs)


@dataclass(frozen=True, slots=True)
class Asked:
    """A request made of a form, and for each of its paths the field it was typed in."""

    request: Mapping[str, Any]
    fields: Mapping[str, str]


SINGLE: Final = (
    "setting", *PATIENT_FIELDS, *ORDER_FIELDS, INSTEAD, "conditions", "medications", "access",
    "results_age", *(f"result_{name}" for name in RESULTS), *(f"unit_{name}" for name in RESULTS),
)  # fmt: skip


async def posted(request: Request) -> Typed:
    """What a posted form holds."""
    async with request.form() as form:
        return typed(form)


def typed(values: Values) -> Typed:
    """What a form or a query string holds."""
    single = {name: text for name in SINGLE if (text := _first(values, name))}
    meant = _first(values, MEANT)
    did = MEANT if meant else _first(values, "do")
    if meant:
        single["fluid"] = meant
    patients = {PICKED: _first(values, "picked"), TYPED: ""}
    return Typed(
        patient=patients.get(did, _first(values, "patient")),
        single=single,
        additives=_rows(values, ADDITIVE),
        co_infusions=_rows(values, CO_INFUSION),
        sent_additives=len(_texts(values, "additive")),
        sent_co_infusions=len(_texts(values, "with")),
        did=did,
    )


def _texts(values: Values, name: str) -> list[str]:
    sent = values.getlist(name)[:MOST_ROWS]
    return [v.strip()[:LONGEST_TEXT] if isinstance(v, str) else "" for v in sent]


def _first(values: Values, name: str) -> str:
    return next(iter(_texts(values, name)), "")


def _rows(values: Values, names: Iterable[str]) -> tuple[Mapping[str, str], ...]:
    """Rows of fields that share names; rows whose first field is blank at the end are dropped."""
    columns = [_texts(values, name) for name in names]
    rows = [dict(zip(names, row, strict=True)) for row in zip_longest(*columns, fillvalue="")]
    while rows and not _is_filled(rows[-1]):
        rows.pop()
    return tuple(rows)


def _is_filled(row: Mapping[str, str]) -> bool:
    """A unit or a kind alone is only what the row starts with."""
    return any(text for name, text in row.items() if name not in ("unit", "kind"))


def asked(form: Typed, bed: Mapping[str, Any] | None, now: datetime) -> Asked:
    """The request a form makes. bed: the request of the patient picked, None when typed.

    Raises InputError for what only the form knows (hours since the results).
    """
    fields: dict[str, str] = {}
    request = dict(bed) if bed is not None else _typed_patient(form, now, fields)
    orders = [o for o in request.get("orders", ()) if o.get("id") != form.get(INSTEAD)]
    order = _order(form, f"orders[{len(orders)}]", fields)
    orders.append(order if bed is not None else {**order, "lumen": THIS_LINE})
    running = list(request.get("co_infusions", ()))
    running += _listed(form.co_infusions, CO_INFUSION, "co_infusions", len(running), fields)
    return Asked({**request, "orders": orders, "co_infusions": running}, fields)


def _order(form: Typed, path: str, fields: dict[str, str]) -> dict[str, Any]:
    order: dict[str, Any] = {"id": NEW_ORDER}
    for name, key in ORDER_FIELDS.items():
        fields[f"{path}.{key}"] = name
        if form.get(name):
            order[key] = form.get(name)
    order["additives"] = _listed(form.additives, ADDITIVE, f"{path}.additives", 0, fields)
    return order


def _listed(
    rows: Sequence[Mapping[str, str]],
    names: Mapping[str, str],
    path: str,
    start: int,
    fields: dict[str, str],
) -> list[dict[str, str]]:
    """Filled rows as request objects; each path is noted with the row's own place in the form."""
    objects: list[dict[str, str]] = []
    for place, row in enumerate(rows):
        if not _is_filled(row):
            continue
        at = f"{path}[{start + len(objects)}]"
        fields[at] = f"{next(iter(names))}_{place}"
        fields.update({f"{at}.{key}": f"{name}_{place}" for name, key in names.items()})
        objects.append({key: row[name] for name, key in names.items() if row[name]})
    return objects


def _typed_patient(form: Typed, now: datetime, fields: dict[str, str]) -> dict[str, Any]:
    patient: dict[str, Any] = {}
    for name, key in PATIENT_FIELDS.items():
        fields[f"patient.{key}"] = name
        if form.get(name):
            patient[key] = form.get(name)
    for name in ("conditions", "medications"):
        fields[f"patient.{name}"] = name
        patient[name] = _words(form.get(name))
    patient["observations"] = _observations(form, now, fields)
    fields["patient.access[0].site"] = "access"
    site = {"site": form.get("access")} if form.get("access") else {}
    patient["access"] = [{"id": THIS_LINE, **site}, {"id": ANOTHER_LINE}]
    fields["setting"] = "setting"
    setting = {"setting": form.get("setting")} if form.get("setting") else {}
    return {**setting, "patient": patient}


def _words(text: str) -> list[str]:
    """Conditions or medications as listed: one a line, or parted by semicolons."""
    return [word.strip() for word in text.replace(";", "\n").splitlines() if word.strip()]


def _observations(form: Typed, now: datetime, fields: dict[str, str]) -> list[dict[str, str]]:
    age = _results_age(form)
    taken = {} if age is None else {"taken_at": (now - age).isoformat()}
    found: list[dict[str, str]] = []
    for name, units in RESULTS.items():
        value = form.get(f"result_{name}")
        if not value:
            continue
        at = f"patient.observations[{len(found)}]"
        fields[at] = fields[f"{at}.value"] = f"result_{name}"
        fields[f"{at}.unit"] = f"result_{name}"
        unit = form.get(f"unit_{name}") or units[0]
        found.append({"name": name, "value": value, **({"unit": unit} if unit else {}), **taken})
    return found


def _results_age(form: Typed) -> timedelta | None:
    """How long ago the results were taken; None when not said."""
    text = form.get("results_age").replace(",", ".")
    if not text:
        return None
    accepted = f"hours as a number from 0 to {LONGEST_AGE_H:,}, such as 2 or 0.5"
    try:
        hours = float(text)
    except ValueError:
        raise InputError("results_age", text, accepted) from None
    if not 0 <= hours <= LONGEST_AGE_H:
        raise InputError("results_age", text, accepted)
    return timedelta(hours=hours)

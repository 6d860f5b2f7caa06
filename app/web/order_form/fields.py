"""Fields of the order form: name, label, unit, what was typed, and what may be chosen."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from app.review.knowledge import Knowledge
from app.storage.patients import Bed
from app.web import show
from app.web.order_form.form import ADDITIVE, CO_INFUSION, RESULTS, Typed
from app.web.order_form.slots import row_counts

LABELS: Final = {
    "setting": "Where", "age": "Age", "sex": "Sex", "weight": "Weight", "height": "Height",
    "urine": "Urine", "conditions": "Conditions", "medications": "Medications",
    "access": "Runs into", "results_age": "Results taken",
    "order_text": "The whole order as written", "fluid": "Fluid", "volume": "Volume",
    "rate": "Rate", "duration": "Over", "purpose": "Purpose", "lumen": "Line",
    "instead": "Instead of",
    "additive": "Additive", "amount": "Amount", "unit": "Unit", "with": "Runs with it",
    "kind": "Kind", "with_lumen": "By",
}  # fmt: skip
UNITS: Final = {
    "age": "years", "weight": "kg", "height": "cm", "urine": "mL/h", "volume": "mL",
    "rate": "mL/h", "duration": "h", "results_age": "h ago",
}  # fmt: skip
Options = Mapping[str, tuple[tuple[str, str], ...]]
NOT_SAID: Final = ("", "not said")
CHOICES: Final[Options] = {
    "setting": (
        NOT_SAID, ("adult ward", "adult ward"), ("ICU", "intensive care"),
        ("ED", "emergency department"), ("theatre", "theatre"), ("paediatric", "paediatric"),
        ("neonate", "newborn unit"),
    ),
    "sex": (NOT_SAID, ("female", "female"), ("male", "male")),
    "access": (NOT_SAID, ("peripheral", "a peripheral vein"), ("central", "a central vein")),
    "purpose": (
        NOT_SAID, ("maintenance", "maintenance"), ("replacement", "replacement"),
        ("resuscitation", "resuscitation"), ("redistribution", "redistribution"),
        ("correction", "correction"), ("carrier", "carrier"),
    ),
    "unit": tuple((unit, unit) for unit in ("mmol", "mEq", "g", "mg", "mL", "units")),
    "kind": (("drug", "drug"), ("blood", "blood"), ("nutrition", "nutrition")),
}  # fmt: skip
TYPED_LINES: Final = (NOT_SAID, ("this line", "the same line"), ("another line", "another line"))
FIRST_RESULTS: Final = 4
NUMBERS: Final = (*UNITS, "amount")


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that may be chosen."""

    value: str
    word: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Field:
    """One field. choices: empty for a text. unit_choices: for a result in one of several units.

    unit: the field's unit, or in a row of fields the row's number.
    """

    name: str
    id: str
    slot: str
    label: str
    value: str
    unit: str = ""
    choices: tuple[Choice, ...] = ()
    unit_name: str = ""
    unit_choices: tuple[Choice, ...] = ()

    @property
    def is_number(self) -> bool:
        """True where a phone should offer its number keys."""
        return self.name in NUMBERS or self.name.startswith("result_")


@dataclass(frozen=True, slots=True)
class KnownResults:
    """Results of one age, in words. when: "1 h 30 min old", "stale, 32 h old"."""

    when: str
    results: str


@dataclass(frozen=True, slots=True)
class PickedPatient:
    """A patient of the unit, named for the form, with the newest results and their ages."""

    id: str
    words: str
    known: tuple[KnownResults, ...] = ()


@dataclass(frozen=True, slots=True)
class FormView:
    """The whole form. rows: each a mapping of its fields by name."""

    patient: PickedPatient | None
    patients: tuple[Choice, ...]
    fields: Mapping[str, Field]
    results: tuple[Field, ...]
    more_results: tuple[Field, ...]
    more_results_open: bool
    additives: tuple[Mapping[str, Field], ...]
    co_infusions: tuple[Mapping[str, Field], ...]
    fluids: tuple[str, ...]
    substances: tuple[str, ...]


def form_view(
    form: Typed,
    bed: Bed | None,
    beds: Iterable[Bed],
    knowledge: Knowledge,
    known: tuple[KnownResults, ...] = (),
) -> FormView:
    """The form with what was typed in it. known: results of the bed that was picked."""
    rows = row_counts(form, whole=True)
    options = _options(bed)
    results = tuple(_result(form, name) for name in RESULTS)
    more = results[FIRST_RESULTS:]
    return FormView(
        patient=PickedPatient(bed.patient_id, bed_words(bed), known) if bed else None,
        patients=tuple(Choice(b.patient_id, bed_words(b), b == bed) for b in beds),
        fields={name: _field(form, name, options) for name in LABELS if name not in ROW_NAMES},
        results=results[:FIRST_RESULTS],
        more_results=more,
        more_results_open=any(field.value for field in more),
        additives=_rows(form.additives, rows.additives, ADDITIVE, options),
        co_infusions=_rows(form.co_infusions, rows.co_infusions, CO_INFUSION, options),
        fluids=tuple(fluid.name for fluid in knowledge.catalogue),
        substances=SUBSTANCES,
    )


def fluid_field(form: Typed) -> Field:
    """The fluid's field alone, to be put in place of the one on the page."""
    return _field(form, "fluid", {})


ROW_NAMES: Final = (*ADDITIVE, *CO_INFUSION)
SUBSTANCES: Final = (
    "potassium chloride", "potassium phosphate", "sodium chloride", "sodium bicarbonate",
    "magnesium sulfate", "calcium gluconate", "calcium chloride", "glucose",
)  # fmt: skip


def label_of(name: str) -> str:
    """What a field is called in a message: "Rate", "Additive 2", "Potassium"."""
    word, _, place = name.rpartition("_")
    if place.isdigit() and word in LABELS:
        return f"{LABELS[word]} {int(place) + 1}"
    if name.startswith(("result_", "unit_")):
        return show.capital(show.name_text(name.partition("_")[2]))
    return LABELS.get(name, name)


def bed_words(bed: Bed) -> str:
    """A bed as the ward names it."""
    patient = bed.request.get("patient", {})
    age, weight = patient.get("age_years"), patient.get("weight_kg")
    return f"Bed {bed.bed}, {bed.initials}, {show.person_age(age)}, {show.weight(weight)}"


def _options(bed: Bed | None) -> Options:
    """What may be chosen by field: fixed lists, and the patient's own lines and orders."""
    if bed is None:
        return {**CHOICES, "lumen": TYPED_LINES, "with_lumen": TYPED_LINES}
    access = bed.request.get("patient", {}).get("access", [])
    lines = (NOT_SAID, *((line["id"], line["id"]) for line in access))
    orders = ((o["id"], running_words(o)) for o in bed.request.get("orders", []))
    instead = (("", "none: it runs beside them"), *orders)
    return {**CHOICES, "lumen": lines, "with_lumen": lines, "instead": instead}


def running_words(order: Mapping[str, Any]) -> str:
    """A running order as it was written, short enough to choose by."""
    rate = order.get("rate_ml_h")
    fluid = order.get("fluid") or order.get("order_text") or "an order without a fluid"
    return f"{fluid}, {show.amount(rate, 'mL/h')}" if isinstance(rate, int | float) else str(fluid)


def _choices(name: str, value: str, options: Options) -> tuple[Choice, ...]:
    offered = options.get(name, ())
    if offered and value and value not in dict(offered):
        offered = (*offered, (value, value))  # what was typed is kept, even what is not offered
    return tuple(Choice(key, word, key == value) for key, word in offered)


def _field(form: Typed, name: str, options: Options) -> Field:
    value = form.get(name)
    choices = _choices(name, value, options)
    return Field(name, name, name, LABELS[name], value, UNITS.get(name, ""), choices)


def _result(form: Typed, name: str) -> Field:
    units = RESULTS[name]
    unit = form.get(f"unit_{name}") or units[0]
    several = tuple(Choice(u, u, u == unit) for u in units) if len(units) > 1 else ()
    key = f"result_{name}"
    label = label_of(key)
    return Field(key, key, key, label, form.get(key), units[0], (), f"unit_{name}", several)


def _rows(
    filled: Sequence[Mapping[str, str]],
    count: int,
    names: Iterable[str],
    options: Options,
) -> tuple[Mapping[str, Field], ...]:
    names = tuple(names)
    rows: list[Mapping[str, Field]] = []
    for place in range(count):
        typed = filled[place] if place < len(filled) else {}
        rows.append({name: _row_field(name, names[0], place, typed, options) for name in names})
    return tuple(rows)


def _row_field(
    name: str, first: str, place: int, typed: Mapping[str, str], options: Options
) -> Field:
    value = typed.get(name, "")
    field_id = f"{name}_{place}"
    choices = _choices(name, value, options)
    return Field(name, field_id, f"{first}_{place}", LABELS[name], value, str(place + 1), choices)

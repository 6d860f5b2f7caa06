"""A whole request read into a case."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError, InputErrors
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.patient.order import Order

Read = Callable[[Mapping[str, Any]], Case]


@pytest.fixture(scope="module")
def read(catalogue: Catalogue, vocabulary: Vocabulary, now: datetime) -> Read:
    """Reads a request with the seed's catalogue and words."""
    return lambda request: read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=now)


def order(read: Read, **fields: Any) -> Order:  # noqa: ANN401
    """The only order of a request."""
    request = {"patient": {"weight_kg": 70}, "orders": [fields]}
    return read(request).orders[0]


def test_the_sample_of_the_interface_is_read(read: Read) -> None:
    case = read(
        {
            "now": "2031-03-04T07:00:00Z", "setting": "adult ward",
            "patient": {
                "age_years": 61, "sex": "female", "weight_kg": 70, "height_cm": 165,
                "conditions": ["acute kidney injury stage 3"], "medications": ["spironolactone"],
                "observations": [{"name": "potassium", "value": 5.9, "unit": "mmol/L",
                                  "taken_at": "2031-03-04T05:00:00Z"}],
                "urine_ml_h": 20, "balance_24h_ml": 1800,
                "access": [{"id": "p1", "site": "peripheral"}, {"id": "c1", "site": "central"}],
            },
            "orders": [{
                "id": "o1", "fluid": "lactated Ringer's",
                "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
                "volume_ml": 1000, "rate_ml_h": 125, "duration_h": 8, "rate_text": None,
                "order_text": None, "starts_at": None, "lumen": "p1", "purpose": "maintenance",
            }],
            "co_infusions": [{"name": "ceftriaxone 2 g over 30 min", "kind": "drug",
            "lumen": "p1"}],
        }
    )  # fmt: skip
    (only,) = case.orders
    assert only.fluid is not None and only.fluid.id == "lactated-ringers"
    assert only.mix is not None and only.mix.potassium_mmol_l == 24
    assert (only.purpose, only.lumen, only.questions) == ("maintenance", "p1", ())
    assert "severe_kidney_failure" in case.patient.conditions
    assert case.patient.value("potassium") == 5.9
    assert case.co_infusions[0].key == "ceftriaxone"
    assert case.questions == ()


def test_an_empty_request_is_an_empty_case(read: Read, now: datetime) -> None:
    case = read({})
    assert case.orders == () and case.patient.now == now and case.patient.weight_kg is None


def test_an_order_with_nothing_is_asked_about(read: Read) -> None:
    read_order = order(read)
    assert read_order.fluid is None and read_order.mix is None
    assert "Which fluid" in read_order.questions[0].ask


def test_an_ambiguous_name_leaves_candidates_and_a_question(read: Read) -> None:
    vague = order(read, fluid="dextrose saline", volume_ml=1000)
    assert vague.fluid is None and vague.mix is None and len(vague.candidates) > 2
    assert vague.questions[0].choices


@pytest.mark.parametrize(
    ("fields", "rate", "purpose", "is_bolus"),
    [
        ({"fluid": "NS", "rate_text": "125 ml/hr"}, 125, None, False),
        ({"fluid": "0.9% sodium chloride at 125 mL/h"}, 125, None, False),
        ({"fluid": "Hartmann's 1 L over 8 h"}, 125, None, False),
        ({"fluid": "NS", "volume_ml": 500, "order_text": "bolus over 15 min"}, 2000,
        "resuscitation", True),
        ({"fluid": "NS", "rate_ml_h": 10, "purpose": "KVO"}, 10, "carrier", False),
        ({"fluid": "NS", "rate_ml_h": 100, "purpose": "resus"}, 100, "resuscitation", False),
        ({"fluid": "NS", "volume_ml": 500, "purpose": "resus"}, None, "resuscitation", True),
        ({"fluid": "NS", "rate_ml_h": 80, "purpose": "NG losses"}, 80, "replacement", False),
        ({"fluid": "3% saline", "rate_ml_h": 20, "purpose": "correction of sodium"}, 20,
        "correction", False),
        ({"fluid": "NS", "rate_text": "2 mL/kg/h", "purpose": "maint"}, 140, "maintenance", False),
    ],
)  # fmt: skip
def test_rate_purpose_and_bolus_are_heard(
    read: Read, fields: dict[str, Any], rate: float | None, purpose: str | None, is_bolus: bool
) -> None:
    heard = order(read, **fields)
    assert (heard.rate_ml_h, heard.purpose, heard.is_bolus) == (rate, purpose, is_bolus)


def test_a_purpose_nobody_knows_is_asked_about(read: Read) -> None:
    odd = order(read, fluid="NS", rate_ml_h=80, purpose="moonlight")
    assert odd.purpose is None and odd.purpose_written == "moonlight" and odd.questions


def test_an_additive_written_twice_is_counted_once_and_asked_about(read: Read) -> None:
    listed = [{"substance": "KCl", "amount": 20, "unit": "mmol"}]
    twice = order(read, fluid="5% dextrose with 20 mmol KCl", additives=listed, volume_ml=1000)
    assert twice.mix is not None and twice.mix.potassium_mmol_l == 20
    assert "counted once" in twice.questions[0].ask


def test_an_additive_without_a_volume_is_asked_about_and_not_spread(read: Read) -> None:
    unspread = order(read, fluid="NS + 2 g magnesium sulfate", rate_ml_h=100)
    assert unspread.mix is None and any("volume" in q.ask for q in unspread.questions)


def test_a_drug_in_the_bag_runs_with_it(read: Read) -> None:
    request = {"orders": [{"fluid": "oxytocin 10 units in 500 mL 5% dextrose", "lumen": "p1"}]}
    (carried,) = read(request).co_infusions
    assert (carried.key, carried.lumen) == ("oxytocin", "p1")
    assert carried.diluent is not None and carried.diluent.id == "dextrose-5"


def test_a_potassium_no_pharmacy_would_add_is_asked_about(read: Read) -> None:
    slipped = [{"substance": "KCl", "amount": 2000, "unit": "mmol"}]
    odd = order(read, fluid="NS", additives=slipped, volume_ml=1000, rate_ml_h=100)
    assert odd.mix is not None and odd.mix.potassium_mmol_l == 2000
    assert any("whole bag" in question.ask for question in odd.questions)


def test_a_weight_among_the_results_is_used(read: Read) -> None:
    weighed = [{"name": "weight", "value": 71, "unit": "kg", "taken_at": "2031-03-04T06:00:00Z"}]
    assert read({"patient": {"observations": weighed}}).patient.weight_kg == 71


def test_how_long_an_order_has_run_follows_from_its_start(read: Read) -> None:
    assert order(read, fluid="NS", starts_at="2031-03-04T01:00:00Z").running_h == 6
    assert order(read, fluid="NS", starts_at="2031-03-04T09:00:00Z").running_h is None


@pytest.mark.parametrize(
    ("setting", "read_as", "key"),
    [("PICU", "paediatric", "ecg_monitoring"), ("paediatric intensive care", "paediatric",
     "ecg_monitoring"), ("NICU", "neonate", "newborn"), ("recovery", "theatre", None),
     ("delivery suite", "adult ward", None), ("stroke unit", "adult ward", None)],
)  # fmt: skip
def test_a_ward_by_its_own_name_is_known(
    read: Read, setting: str, read_as: str, key: str | None
) -> None:
    patient = read({"setting": setting}).patient
    assert patient.setting == read_as and (key is None or key in patient.conditions)


def test_a_ward_named_among_the_conditions_is_the_setting(read: Read) -> None:
    assert read({"patient": {"conditions": ["bronchiolitis, PICU"]}}).patient.is_child()
    assert read({"patient": {"conditions": ["septic shock, ICU"]}}).patient.setting == "ICU"


def test_questions_of_an_order_stay_with_it(read: Read) -> None:
    case = read({"orders": [{"fluid": "Ringers"}, {"fluid": "NS"}], "flavour": "mint"})
    assert case.orders[0].questions and not case.orders[1].questions
    assert [question.field for question in case.questions] == ["flavour"]


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner,
    max_size=3),
    max_leaves=8,
)  # fmt: skip
SOME_WORDS = """
    0.9% 5% NS D5 saline dextrose with in and no KCl 20 40 mmol mEq /L mL/h 125 over 8 h x3
    1/2 ½ q6h ( ) - , + 50 units insulin stage 3 AKI CKD eGFR not Ringer's 2 mL/kg/h to 1e9 /
    % . < > flush red cells 20 mmol/10 mL 3 mmol/kg/day mmol/day 50 mg/ml 9 g/L sodium potassium
    for to hyperkalaemia seizure alkalinise yesterday POD after laparotomy ICP 26 BMI SBP é ß ½ µ
    0,9 calcium-free nutrition between units flushed paused day 1 ago weeks undiluted
"""
SOME_FIELDS = """
    now setting patient orders co_infusions age_years sex weight_kg height_cm conditions
    medications observations name value unit taken_at loinc note urine_ml_h access id site
    fluid additives substance amount volume_ml rate_ml_h duration_h rate_text order_text
    starts_at lumen purpose kind
"""
WORDS = st.lists(st.sampled_from(SOME_WORDS.split()), max_size=9).map(" ".join)
FIELDS = SOME_FIELDS.split()


def objects(values: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    """Objects with the interface's field names and any values."""
    return st.dictionaries(st.sampled_from(FIELDS), values, max_size=6)


LEAF = JSON | WORDS
ROW = objects(LEAF | st.lists(objects(LEAF), max_size=2))
REQUEST = objects(LEAF | ROW | st.lists(ROW, max_size=2))


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(request_=REQUEST)
def test_whatever_is_sent_is_read_or_refused_by_name(read: Read, request_: dict[str, Any]) -> None:
    try:
        case = read(request_)
    except (InputError, InputErrors):
        return
    assert all(o.rate_ml_h is None or o.rate_ml_h > 0 for o in case.orders)


@settings(max_examples=300, deadline=None)
@given(fluid=WORDS, text=WORDS, condition=WORDS, drug=WORDS)
def test_any_words_are_read(read: Read, fluid: str, text: str, condition: str, drug: str) -> None:
    case = read(
        {
            "patient": {"conditions": [condition], "medications": [drug], "weight_kg": 70},
            "orders": [{"fluid": fluid, "order_text": text, "rate_text": text}],
            "co_infusions": [{"name": drug}],
        }
    )
    for one in case.orders:
        assert one.fluid is None or one.candidates == ()
        assert one.fluid is not None or one.questions


MIXED = st.lists(
    st.sampled_from(SOME_WORDS.split()) | st.integers().map(str) | st.floats().map(repr)
    | st.text(max_size=6) | st.sampled_from(["null", "true", "[]", "{}", "NaN", "1e999", "\x00"]),
    max_size=9,
).map(" ".join)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(text=MIXED, other=MIXED, weight=st.none() | st.integers() | st.floats() | MIXED)
def test_numbers_and_signs_among_the_words_break_nothing(
    read: Read, text: str, other: str, weight: object
) -> None:
    additives = [{"substance": other, "amount": 20, "unit": text}]
    request = {
        "patient": {"conditions": text, "medications": [other, text], "weight_kg": weight,
        "observations": [{"name": text, "value": other, "unit": text, "note": other}]},
        "orders": [{"fluid": text, "order_text": other, "rate_text": text, "purpose": other,
                    "additives": additives, "rate_ml_h": 80}],
        "co_infusions": [{"name": text, "diluent": other, "arrangement": text}],
    }  # fmt: skip
    try:
        case = read(request)
    except (InputError, InputErrors) as error:
        assert "weight_kg" in str(error)
        return
    assert case.patient.weight_kg is None or 0.2 <= case.patient.weight_kg <= 650
    # Words such as "paused" say that it does not run.
    assert (*case.orders, *case.not_given)[0].text == other.strip()


@pytest.mark.parametrize(
    "word", ["mixed", "both", "Unknown", "other", "any", "not known", "", None]
)
def test_a_sex_said_not_to_be_known_is_not_known(read: Read, word: str | None) -> None:
    case = read({"patient": {"sex": word}})
    assert case.patient.sex is None and not case.questions


def test_a_sex_is_read_in_the_plural_and_nonsense_is_refused(read: Read) -> None:
    assert read({"patient": {"sex": "Women"}}).patient.sex == "female"
    with pytest.raises(InputError) as refused:
        read({"patient": {"sex": "xy"}})
    assert refused.value.field == "patient.sex"

"""The request's shape: numbers, texts, times, and what is refused."""

from datetime import UTC, datetime
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError, InputErrors
from app.intake.read import read_case
from app.intake.request import Problems, Reader, Span, read_number
from app.intake.vocabulary import Vocabulary

RATE = Span(0, 30_000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0, "ml/min": 60.0}, above=True)


def reader(data: object) -> Reader:
    """A reader of one object with its own problems."""
    return Reader(data, "o", Problems())


@pytest.mark.parametrize(
    ("written", "rate"),
    [
        (125, 125.0), (125.5, 125.5), ("125", 125.0), (" 125 mL/h", 125.0), ("125ml/hr", 125.0),
        ("2 mL/min", 120.0), ("1,000", 1000.0), ("12,5", 12.5), (".5", 0.5),
    ],
)  # fmt: skip
def test_a_number_without_doubt_is_read(written: object, rate: float) -> None:
    assert reader({"rate_ml_h": written}).number("rate_ml_h", RATE) == rate


@pytest.mark.parametrize(
    "written",
    ["12o", "abc", True, False, -1, 0, 30_001, float("nan"), float("inf"), "1e999", "nan", [], {},
     "125 mL/kg/h", "1 2", "1.2.3", 10**400, "५"],
)  # fmt: skip
def test_what_is_no_possible_rate_is_refused_by_name(written: object) -> None:
    read = reader({"rate_ml_h": written})
    assert read.number("rate_ml_h", RATE) is None
    (error,) = read.problems.errors
    assert (error.field, error.value) == ("o.rate_ml_h", written) or written != written
    assert "mL/h" in error.accepted


@pytest.mark.parametrize("missing", [{}, {"rate_ml_h": None}, {"rate_ml_h": "  "}])
def test_missing_null_and_blank_are_no_error(missing: dict[str, object]) -> None:
    read = reader(missing)
    assert read.number("rate_ml_h", RATE) is None
    assert not read.problems.errors


def test_a_boolean_is_no_number() -> None:
    assert read_number(True, {}) is None


def test_an_unknown_field_is_asked_about_and_not_refused() -> None:
    read = reader({"flow_rate": 125})
    read.ask_unknown()
    assert not read.problems.errors
    assert read.problems.questions[0].field == "o.flow_rate"


@pytest.mark.parametrize(
    ("written", "hour"),
    [("2031-03-04T07:00:00Z", 7), ("2031-03-04 07:00", 7), ("2031-03-04T09:00:00+02:00", 9)],
)
def test_a_time_is_read_with_or_without_zone(written: str, hour: int) -> None:
    read = reader({"at": written}).time("at", datetime(2031, 3, 4, tzinfo=UTC))
    assert read is not None and read.hour == hour and read.tzinfo is not None


def test_a_date_alone_is_no_usable_time_and_is_asked_about() -> None:
    read = reader({"at": "2031-03-04"})
    assert read.time("at") is None
    assert read.problems.questions and not read.problems.errors


@pytest.mark.parametrize("written", ["03/02/2031", "yesterday", 20310304, "2031-13-01T00:00:00Z"])
def test_a_time_that_cannot_be_one_is_refused(written: object) -> None:
    read = reader({"at": written})
    assert read.time("at") is None
    assert read.problems.errors[0].field == "o.at"


@pytest.mark.parametrize(
    ("request_", "field"),
    [
        ({"setting": "moon base"}, "setting"),
        ({"patient": []}, "patient"),
        ({"patient": "bed 4"}, "patient"),
        ({"orders": {"id": "o1"}}, "orders"),
        ({"orders": ["saline"]}, "orders[0]"),
        ({"orders": [{"fluid": 5}]}, "orders[0].fluid"),
        ({"orders": [{"fluid": ["NS"]}]}, "orders[0].fluid"),
        ({"orders": [{"fluid": "NS", "rate_ml_h": "12o"}]}, "orders[0].rate_ml_h"),
        ({"orders": [{"fluid": "NS", "additives": [{"amount": -2}]}]},
        "orders[0].additives[0].amount"),
        ({"patient": {"weight_kg": -70}}, "patient.weight_kg"),
        ({"patient": {"weight_kg": "70 stone"}}, "patient.weight_kg"),
        ({"patient": {"weight_kg": True}}, "patient.weight_kg"),
        ({"patient": {"weight_kg": 0}}, "patient.weight_kg"),
        ({"patient": {"urine_ml_h": -5}}, "patient.urine_ml_h"),
        ({"patient": {"age_years": float("nan")}}, "patient.age_years"),
        ({"orders": [{"fluid": "NS", "rate_ml_h": 30_001}]}, "orders[0].rate_ml_h"),
        ({"orders": [{"fluid": "NS", "volume_ml": 0}]}, "orders[0].volume_ml"),
        ({"patient": {"sex": "unknownish"}}, "patient.sex"),
        ({"patient": {"access": [{"id": "a", "site": "left"}]}}, "patient.access[0].site"),
        ({"patient": {"conditions": [7]}}, "patient.conditions[0]"),
        ({"patient": {"conditions": {"a": 1}}}, "patient.conditions"),
        ({"co_infusions": [{"name": "x", "kind": "device"}]}, "co_infusions[0].kind"),
        ({"now": "soon"}, "now"),
    ],
)  # fmt: skip
def test_a_wrong_shape_names_its_field(
    request_: dict[str, Any], field: str, catalogue: Catalogue, vocabulary: Vocabulary,
    now: datetime,
) -> None:  # fmt: skip
    with pytest.raises(InputError) as caught:
        read_case(request_, catalogue=catalogue, vocabulary=vocabulary, now=now)
    assert caught.value.field == field
    assert caught.value.accepted


def test_all_errors_come_at_once(
    catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> None:
    request = {"orders": [{"rate_ml_h": "12o", "volume_ml": -1}], "patient": {"weight_kg": True}}
    with pytest.raises(InputErrors) as caught:
        read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=now)
    assert len(caught.value.errors) == 3


@pytest.mark.parametrize(
    ("patient", "field", "words"),
    [
        ({"weight_kg": 3400, "age_years": 0.01}, "weight_kg", ("0.2 to 650 kg", "3,400 g?")),
        ({"weight_kg": 900}, "weight_kg", ("900 g?",)),
        ({"weight_kg": 3400, "age_years": 61}, "weight_kg", ("650 kg", "Wrong unit")),
        ({"age_years": 400}, "age_years", ("0 to 125 years",)),
        ({"height_cm": 1.7}, "height_cm", ("15 to 280 cm", "1.7 m?")),
        ({"urine_ml_h": 5000}, "urine_ml_h", ("0 to 2000 mL/h", "5000 mL in 24 h?")),
        ({"balance_24h_ml": 60_000}, "balance_24h_ml", ("-50000 to 50000 mL",)),
        ({"balance_24h_ml": 9000, "weight_kg": 3.4, "age_years": 0.01}, "balance_24h_ml",
         ("3400 mL",)),
    ],
)  # fmt: skip
def test_a_patient_s_figure_that_cannot_be_is_asked_about_and_not_used(  # noqa: PLR0913 - one row of the table each
    patient: dict[str, Any], field: str, words: tuple[str, ...], catalogue: Catalogue,
    vocabulary: Vocabulary, now: datetime,
) -> None:  # fmt: skip
    case = read_case({"patient": patient}, catalogue=catalogue, vocabulary=vocabulary, now=now)
    (question,) = case.questions
    assert getattr(case.patient, field) is None
    assert question.field == f"patient.{field}"
    assert f"{patient[field]:g}" in question.written
    assert all(part in question.ask for part in words)


def test_a_newborn_s_grams_are_known_by_the_ward_alone(
    catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> None:
    request = {"setting": "neonate", "patient": {"weight_kg": 34}}
    case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=now)
    assert case.patient.weight_kg is None and "hardly fits" in case.questions[0].ask


@pytest.mark.parametrize(
    ("request_", "field"),
    [
        ({"orders": [{"fluid": "a, " * 700}]}, "orders[0].fluid"),
        ({"orders": [{"fluid": "saline", "order_text": "- " * 1100}]}, "orders[0].order_text"),
        ({"orders": [{}] * 201}, "orders"),
        ({"patient": {"conditions": ["asthma", "x" * 2001]}}, "patient.conditions[1]"),
        ({"patient": {"observations": [{}] * 1001}}, "patient.observations"),
        ({f"field_{n}": n for n in range(101)}, "request"),
    ],
)
def test_more_than_anyone_writes_is_refused_unread(
    request_: dict[str, Any], field: str, catalogue: Catalogue, vocabulary: Vocabulary,
    now: datetime,
) -> None:  # fmt: skip
    with pytest.raises(InputError) as caught:
        read_case(request_, catalogue=catalogue, vocabulary=vocabulary, now=now)
    assert caught.value.field == field
    assert "at most" in caught.value.accepted
    assert len(str(caught.value)) < 200

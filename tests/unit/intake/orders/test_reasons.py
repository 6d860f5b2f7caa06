"""Why a fluid is given, as orders say it."""

import pytest

from app.intake.orders import reasons
from app.intake.orders.reasons import (
    LONGEST_REASON,
    cut_reason,
    purpose_in,
    read_why,
    reasons_in,
)
from app.intake.request import Problems, Reader
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "reasons"),
    [
        ("to alkalinise urine", {"urine_alkalinisation", "alkalinisation"}),
        ("urinary alkalinization", {"urine_alkalinisation"}),
        ("for hyperkalaemia", {"hyperkalaemia"}), ("Treat hyperkalemia", {"hyperkalaemia"}),
        ("relower sodium", {"relowering"}), ("re-lower the Na after overcorrection",
        {"relowering"}),
        ("DI protocol", {"diabetes_insipidus"}), ("specialist plan", {"specialist_plan"}),
        ("discussed with nephrology", {"specialist_plan"}), ("3% bolus for seizure", {"seizure"}),
        ("20 mmol KCl over 1 h with ECG monitoring", {"ecg_monitoring"}),
        ("raise sodium by 5", {"raising_sodium"}), ("hydration before contrast", {"hydration"}),
        ("for raised ICP", {"raised_intracranial_pressure", "brain_injury"}),
        ("dilution of drug", {"dilution"}), ("Treat acidosis", {"treating_acidosis"}),
        ("bladder wash-out", {"wash_out"}), ("tricyclic overdose, wide QRS",
        {"tricyclic_overdose", "ecg_change"}),
        ("KVO", {"line_open"}), ("free water deficit", {"lowering_sodium"}),
    ],
)  # fmt: skip
def test_a_reason_is_heard(vocabulary: Vocabulary, written: str, reasons: set[str]) -> None:
    assert reasons <= reasons_in(written, vocabulary)


@pytest.mark.parametrize(
    ("written", "no_reason"),
    [
        ("monitor for seizures", "seizure"), ("stop if fluid overload", "fluid_overload"),
        ("avoid hypernatraemia", "hypernatraemia"), ("until hyperkalaemia settles",
        "hyperkalaemia"),
        ("over 2 hrs", "hepatorenal_syndrome"), ("RL over the next few hrs", "liver_disease"),
        ("no protocol", "protocol"), ("125 mL/h", "line_open"), ("caution: heart failure",
        "heart_failure"),
    ],
)  # fmt: skip
def test_what_may_happen_is_no_reason(vocabulary: Vocabulary, written: str, no_reason: str) -> None:
    assert no_reason not in reasons_in(written, vocabulary)


@pytest.mark.parametrize(
    ("written", "purpose"),
    [
        ("alkalinisation", "correction"), ("relowering", "correction"), ("re-lower", "correction"),
        ("treat acidosis", "correction"), ("raise sodium", "correction"),
        ("hyperkalaemia", "correction"), ("hypokalaemia", "correction"),
        ("hydration before contrast", "replacement"), ("wash-out", "correction"),
        ("dilution of drug", "carrier"), ("drug diluent", "carrier"), ("flush", "carrier"),
        ("keeping line patent", "carrier"), ("resucitation", "resuscitation"), ("MIVF",
        "maintenance"), ("maintenance (resus complete)", "maintenance"), ("replacement, not "
        "maintenance", "replacement"), ("bolus over 15 min", "resuscitation"),
        ("3% bolus for seizure", "correction"), ("ICP crisis", "correction"),
        ("fluid challenge", "resuscitation"), ("bolus", "resuscitation"),
        ("replace NG losses", "replacement"), ("rehydration", "replacement"),
        ("NBM for theatre", "maintenance"), ("routine", "maintenance"),
        ("DKA", "correction"), ("free water", "correction"), ("moonlight", None),
    ],
)  # fmt: skip
def test_a_purpose_is_heard(written: str, purpose: str | None) -> None:
    assert purpose_in(written) == purpose


@pytest.mark.parametrize(
    "written",
    ["alkalinisation", "relowering", "treat acidosis", "raise sodium", "hyperkalaemia",
     "hydration before contrast", "wash-out", "dilution of drug", "per renal team",
     "crush injury", "sepsis", "pre-eclampsia"],
)  # fmt: skip
def test_a_reason_known_is_never_asked_about(vocabulary: Vocabulary, written: str) -> None:
    reader = Reader({"purpose": written}, "o", Problems())
    why = read_why(reader, "", vocabulary)
    assert why.written == written and not reader.problems.questions


def test_a_reason_nobody_knows_is_asked_about(vocabulary: Vocabulary) -> None:
    reader = Reader({"purpose": "moonlight"}, "o", Problems())
    assert read_why(reader, "", vocabulary).purpose is None
    assert reader.problems.questions[0].field == "o.purpose"


def test_reasons_come_from_every_text_of_an_order(vocabulary: Vocabulary) -> None:
    fields = {"purpose": "correction", "order_text": "3% for seizure", "rate_text": "over 10 min"}
    why = read_why(Reader(fields, "o", Problems()), "with ECG monitoring", vocabulary)
    assert why.purpose == "correction" and {"seizure", "ecg_monitoring"} <= why.reasons


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("3% saline 150 mL for seizure", "3% saline 150 ml"),
        ("8.4% sodium bicarbonate 50 mL for hyperkalaemia", "8.4% sodium bicarbonate 50 ml"),
        ("5% dextrose (relower sodium)", "5% dextrose"),
        ("sodium bicarbonate 1.26% to alkalinise urine", "sodium bicarbonate 1.26%"),
        ("Hartmann's, maintenance", "hartmanns"),
        ("0.9% sodium chloride for resuscitation", "0.9% sodium chloride"),
        ("0.9% saline - KVO", "0.9% saline"),
    ],
)
def test_the_reason_is_cut_off_the_name(vocabulary: Vocabulary, written: str, name: str) -> None:
    assert cut_reason(written, vocabulary)[0] == name


@pytest.mark.parametrize(
    "written",
    ["5% dextrose, 0.45% saline", "dextrose in saline", "water for injection",
     "insulin 50 units in 50 mL saline", "glucose 5% for 8 h"],
)  # fmt: skip
def test_what_names_a_fluid_is_not_cut(vocabulary: Vocabulary, written: str) -> None:
    assert cut_reason(written, vocabulary) == (written, "")


def test_a_reason_is_looked_for_in_the_last_words_alone(
    vocabulary: Vocabulary, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried: list[str] = []
    monkeypatch.setattr(reasons, "reasons_in", lambda tail, _: tried.append(tail) or frozenset())
    name = "saline" + ", a" * 600
    assert cut_reason(name, vocabulary) == (name, "")
    assert 0 < len(tried) <= LONGEST_REASON
    assert max(map(len, tried)) <= LONGEST_REASON

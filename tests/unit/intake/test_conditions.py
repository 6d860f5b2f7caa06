"""Problem lists as people write them: present, denied, past, or not read."""

import pytest

from app.intake.conditions import read_conditions
from app.intake.vocabulary import Vocabulary
from app.patient.snapshot import Words

SEVERE = {"kidney_disease", "severe_kidney_failure"}
PRESENT = {
    "AKI stage 3": {"acute_kidney_injury", *SEVERE}, "AKI 3": {"acute_kidney_injury", *SEVERE},
    "AKI3": {"acute_kidney_injury", *SEVERE}, "stage 3 acute kidney injury": SEVERE,
    "AKI (KDIGO 3)": SEVERE, "acute kidney injury stage III": SEVERE,
    "KDIGO stage 2 AKI": {"acute_kidney_injury", "kidney_disease"},
    "CKD 5": {"chronic_kidney_disease", *SEVERE}, "CKD4": {"chronic_kidney_disease", *SEVERE},
    "CKD stage G4": SEVERE, "CKD IV": SEVERE, "CKD stage 2": {"chronic_kidney_disease"},
    "AKI stage 1 on CKD 4": {"acute_kidney_injury", "chronic_kidney_disease", *SEVERE},
    "ESRD": SEVERE, "end-stage kidney disease on haemodialysis": {"dialysis", *SEVERE},
    "on HD": {"dialysis", "kidney_disease"}, "CRRT": {"dialysis"}, "eGFR 18": SEVERE,
    "chronic kidney disease, eGFR 22": SEVERE, "anuric": {"anuria"}, "oliguria": {"oliguria"},
    "severe AKI": SEVERE, "renal transplant": {"kidney_transplant", "kidney_disease"},
    "Child-Pugh C": {"severe_liver_failure", "liver_disease"},
    "Child-Pugh B cirrhosis": {"cirrhosis", "liver_disease"},
    "acute liver failure": {"severe_liver_failure"},
    "decompensated cirrhosis": {"severe_liver_failure"},
    "TBI": {"traumatic_brain_injury", "brain_injury"}, "head injury GCS 8": {"brain_injury"},
    "SAH": {"subarachnoid_haemorrhage", "brain_injury"},
    "raised ICP": {"raised_intracranial_pressure"},
    "acute ischaemic stroke": {"stroke", "brain_injury"}, "ICH": {"intracranial_haemorrhage"},
    "DKA": {"diabetic_ketoacidosis", "diabetes"}, "HHS": {"hyperosmolar_state"},
    "T2DM": {"diabetes"}, "SIADH": {"siadh"}, "DI": {"diabetes_insipidus"},
    "diabetes insipidus": {"diabetes_insipidus"}, "CHF": {"heart_failure"},
    "HFrEF": {"heart_failure"},
    "heart failure (EF 20%)": {"heart_failure"}, "pulmonary edema": {"pulmonary_oedema"},
    "NG losses": {"gastric_losses"}, "NG drainage 1200 mL/day": {"gastric_losses"},
    "high output stoma": {"bicarbonate_loss"}, "gastroenteritis": {"diarrhoea", "bicarbonate_loss"},
    "vomiting and diarrhoea": {"vomiting", "diarrhoea"}, "NBM": {"nil_by_mouth"},
    "NPO": {"nil_by_mouth"},
    "POD1": {"postoperative"}, "post-op day 2": {"postoperative"},
    "postoperative day 1": {"postoperative"},
    "EtOH": {"alcohol_dependence"}, "alcohol use disorder": {"alcohol_dependence"},
    "?sepsis": {"sepsis"}, "sepsis secondary to pneumonia": {"sepsis", "pneumonia"},
    "septic shock": {"septic_shock", "sepsis", "shock"}, "upper GI bleed": {"haemorrhage"},
    "hyponatraemia with seizures": {"hyponatraemia", "severe_hyponatraemia_symptoms"},
    "acute severe hyponatremia": {"acute_hyponatraemia"},
    "chronic hyponatraemia": {"chronic_hyponatraemia"},
    "40% TBSA burns": {"burns", "major_burns"}, "preeclampsia": {"pre_eclampsia", "pregnancy"},
    "cardiogenic shock": {"heart_failure", "shock"}, "rhabdo": {"rhabdomyolysis"},
    "risk of refeeding": {"refeeding_risk"}, "hyperkalemia": {"hyperkalaemia"},
    "peaked T waves": {"ecg_change"}, "on cardiac monitor": {"ecg_monitoring"},
    "end of life care": {"end_of_life"}, "born preterm": {"preterm", "newborn"},
    "AKI stage 3 and hyperkalaemia": {"hyperkalaemia", *SEVERE}, "CKD 4 but no diabetes": SEVERE,
}  # fmt: skip


def heard(vocabulary: Vocabulary, *texts: str) -> Words:
    """A problem list as read."""
    return read_conditions(texts, vocabulary)


@pytest.mark.parametrize(("written", "keys"), PRESENT.items())
def test_a_condition_is_found(vocabulary: Vocabulary, written: str, keys: set[str]) -> None:
    words = heard(vocabulary, written)
    assert keys <= words.found
    assert words.unread == ()
    assert all(words.detail[key] == written for key in keys)


@pytest.mark.parametrize(
    ("written", "not_found"),
    [
        ("CKD stage 2", "severe_kidney_failure"), ("AKI stage 1 on CKD 3", "severe_kidney_failure"),
        ("burns 10%", "major_burns"), ("diabetes insipidus", "diabetes"),
        ("no kidney disease", "kidney_disease"), ("AKI resolved", "acute_kidney_injury"),
        ("AKI ruled out", "acute_kidney_injury"), ("family history of diabetes", "diabetes"),
        ("history of stroke", "brain_injury"), ("stroke 3 years ago", "stroke"),
        ("old stroke", "stroke"), ("previous AKI", "kidney_disease"), ("POD 5", "postoperative"),
        ("not on dialysis", "dialysis"), ("dialysis: no", "dialysis"), ("eGFR >60",
        "kidney_disease"),
        ("at risk of AKI", "acute_kidney_injury"), ("HD stable", "dialysis"),
        ("CKD 4 but no diabetes", "diabetes"), ("pneumonia, no head injury", "brain_injury"),
        ("poor oral intake", "drinking"), ("without heart failure", "heart_failure"),
    ],
)  # fmt: skip
def test_what_is_denied_past_or_milder_is_not_found(
    vocabulary: Vocabulary, written: str, not_found: str
) -> None:
    assert not_found not in heard(vocabulary, written).found


@pytest.mark.parametrize(
    ("written", "denied"),
    [
        ("no kidney disease", {"kidney_disease", "acute_kidney_injury", "dialysis"}),
        ("no known renal impairment", {"kidney_disease"}),
        ("no kidney or liver disease", {"kidney_disease", "liver_disease"}),
        ("no AKI but CKD 3", {"acute_kidney_injury"}), ("not on dialysis", {"dialysis"}),
        ("sepsis excluded", {"sepsis"}),
    ],
)  # fmt: skip
def test_what_is_denied_is_kept_as_denied(
    vocabulary: Vocabulary, written: str, denied: set[str]
) -> None:
    assert denied <= heard(vocabulary, written).denied


def test_denying_one_kind_does_not_deny_all(vocabulary: Vocabulary) -> None:
    assert "kidney_disease" not in heard(vocabulary, "no AKI").denied


def test_a_resolved_injury_does_not_say_that_the_kidneys_are_well(vocabulary: Vocabulary) -> None:
    assert "kidney_disease" not in heard(vocabulary, "AKI resolved").denied


def test_what_is_both_stated_and_denied_counts_as_stated(vocabulary: Vocabulary) -> None:
    words = heard(vocabulary, "no kidney disease", "CKD 4")
    assert "kidney_disease" in words.found and "kidney_disease" not in words.denied


@pytest.mark.parametrize(
    ("written", "unread"),
    [("Fanconi syndrome", ("fanconi syndrome",)), ("CKD 3, lives alone", ("lives alone",))],
)
def test_words_nobody_knows_are_told(
    vocabulary: Vocabulary, written: str, unread: tuple[str, ...]
) -> None:
    assert heard(vocabulary, written).unread == unread


@pytest.mark.parametrize("written", ["none", "previously well", "no past medical history", "NKDA"])
def test_a_clean_history_finds_and_denies_nothing(vocabulary: Vocabulary, written: str) -> None:
    assert heard(vocabulary, written) == Words(detail=heard(vocabulary, written).detail)


@pytest.mark.parametrize("written", ["burns 30% 2 h ago", "burns 30% three hours ago"])
def test_an_injury_hours_ago_is_a_present_one(vocabulary: Vocabulary, written: str) -> None:
    assert "major_burns" in heard(vocabulary, written).found

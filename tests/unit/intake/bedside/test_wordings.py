"""What wards write, broadly: one row a wording, with what must be understood by it."""

import pytest

from app.intake.conditions import read_conditions
from app.intake.vocabulary import Vocabulary

BRAIN = {"brain_injury"}
SEVERE_LIVER = {"severe_liver_failure", "liver_disease"}
HYPONATRAEMIC_SEIZURE = {"seizure", "hyponatraemia", "severe_hyponatraemia_symptoms"}
FOUND = {
    "hyponatraemic seizure": HYPONATRAEMIC_SEIZURE, "hyponatremic seizures": HYPONATRAEMIC_SEIZURE,
    "seizures due to hyponatraemia": HYPONATRAEMIC_SEIZURE,
    "hyponatraemia with seizures": HYPONATRAEMIC_SEIZURE,
    "beer potomania": {"alcohol_dependence", "malnutrition", "hyponatraemia"},
    "ICP 26": {"raised_intracranial_pressure", "brain_injury"},
    "PICU": {"paediatric_intensive_care", "ecg_monitoring"},
    "NICU": {"newborn", "ecg_monitoring"}, "in ICU": {"intensive_care", "ecg_monitoring"},
    "cerebral oedema": BRAIN, "cerebral edema": BRAIN, "brain swelling": BRAIN,
    "herniation": {"raised_intracranial_pressure"}, "uncal herniation": BRAIN,
    "blown pupil": {"raised_intracranial_pressure", "brain_injury"},
    "reflexes absent": {"lost_reflexes"}, "reflexes lost": {"lost_reflexes"},
    "patellar reflexes absent": {"lost_reflexes"}, "areflexia": {"lost_reflexes"},
    "no knee jerks": {"lost_reflexes"}, "magnesium toxicity": {"magnesium_toxicity",
    "hypermagnesaemia"}, "acute fatty liver": SEVERE_LIVER,
    "acute fatty liver of pregnancy": {*SEVERE_LIVER, "pregnancy"},
    "hepatic encephalopathy": SEVERE_LIVER, "grade 3 hepatic encephalopathy": SEVERE_LIVER,
    "SBP": {"spontaneous_bacterial_peritonitis"}, "paracentesis": {"paracentesis"},
    "large volume paracentesis 8 L": {"paracentesis"}, "tense ascites": {"ascites"},
    "ventriculitis": BRAIN, "HHS": {"hyperosmolar_state", "diabetes"},
    "crush injury": {"rhabdomyolysis", "trauma"}, "TLS": {"tumour_lysis"},
    "MODS": {"critical_illness"}, "dry on examination": {"dehydration"},
    "EVD in situ": {"neurosurgery", "brain_injury"}, "midline shift": BRAIN,
    "hypoxic brain injury": BRAIN, "decompressive craniectomy": {"neurosurgery"},
    "post-ictal": {"seizure"}, "eclamptic fit": {"pre_eclampsia", "pregnancy"},
    "ruptured AAA": {"haemorrhage"}, "APH": {"haemorrhage"}, "code red": {"massive_transfusion"},
    "MHP activated": {"massive_transfusion", "haemorrhage"}, "anuric on the filter": {"anuria",
    "dialysis"}, "on CVVHDF": {"dialysis", "kidney_disease"}, "uraemic": {"kidney_disease"},
    "worsening renal function": {"kidney_disease"}, "AKI on CKD": {"acute_kidney_injury"},
    "poor LV": {"heart_failure"}, "EF 25%": {"heart_failure"}, "NYHA III": {"heart_failure"},
    "wet lungs": {"pulmonary_oedema"}, "hungry bone syndrome": {"hypocalcaemia"},
    "hypercalcaemia of malignancy": {"hypercalcaemia"}, "broad QRS": {"ecg_change"},
    "salt-losing crisis": {"adrenal_crisis"}, "on telemetry": {"ecg_monitoring"},
    "myasthenic crisis": {"myasthenia"}, "high output jejunostomy": {"bicarbonate_loss"},
    "Ryle's losses": {"gastric_losses"}, "C diff": {"diarrhoea"}, "D+V": {"vomiting"},
    "bilious vomiting": {"vomiting"}, "ELBW": {"preterm", "newborn"},
    "day 2 of life": {"newborn"}, "not eaten for 10 days": {"refeeding_risk"},
    "BMI 14": {"refeeding_risk"}, "full thickness burns 20%": {"burns", "major_burns"},
    "hyperemesis": {"vomiting"}, "methanol poisoning": {"metabolic_acidosis"},
    "euglycaemic DKA": {"diabetic_ketoacidosis"}, "gestational diabetes": {"diabetes"},
    "overcorrected sodium": {"sodium_overcorrection"}, "avp deficiency": {"diabetes_insipidus"},
    "stroke 2 days ago": {"stroke", "brain_injury"}, "on vasopressors": {"critical_illness"},
    "K high": {"hyperkalaemia"}, "low Na": {"hyponatraemia"}, "amitriptyline OD":
    {"tricyclic_overdose"}, "flecainide overdose": {"tricyclic_overdose"},
}  # fmt: skip


@pytest.mark.parametrize(("written", "keys"), FOUND.items())
def test_a_ward_s_wording_is_understood(
    vocabulary: Vocabulary, written: str, keys: set[str]
) -> None:
    words = read_conditions([written], vocabulary)
    assert keys <= words.found
    assert words.unread == ()


@pytest.mark.parametrize(
    ("written", "not_found"),
    [
        ("no herniation", "raised_intracranial_pressure"), ("ICP 12", "brain_injury"),
        ("lumbar disc herniation", "brain_injury"), ("reflexes present", "lost_reflexes"),
        ("no ascites", "ascites"), ("stable angina", "haemodynamically_stable"),
        ("preterm labour", "preterm"), ("status post appendicectomy 2019", "seizure"),
        ("sodium monitored 6 hourly", "ecg_monitoring"), ("respiratory arrest", "cardiac_arrest"),
        ("secondary hyperparathyroidism", "hypercalcaemia"), ("previous ICU admission",
        "intensive_care"), ("no cerebral oedema", "brain_injury"), ("dry cough", "dehydration"),
        ("stroke 3 weeks ago", "stroke"), ("AKI 10 days ago", "acute_kidney_injury"),
        ("BMI 24", "malnutrition"), ("seizure-free", "seizure"), ("disc prolapse", "brain_injury"),
        ("liver transplant 2015", "severe_liver_failure"), ("history of seizures", "seizure"),
        ("no evidence of raised ICP", "raised_intracranial_pressure"), ("DKA resolved",
        "diabetic_ketoacidosis"), ("not in labour", "labour"), ("not pregnant", "pregnancy"),
        ("family history of epilepsy", "epilepsy"),
    ],
)  # fmt: skip
def test_a_denial_a_past_or_a_look_alike_is_not(
    vocabulary: Vocabulary, written: str, not_found: str
) -> None:
    assert not_found not in read_conditions([written], vocabulary).found

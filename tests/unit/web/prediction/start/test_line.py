"""What a nurse reads aloud: what comes, when to take the next sample, when to call."""

from app.chemistry.composition import Composition
from app.physiology.course.loads import Load
from app.review.knowledge import Knowledge
from app.web.prediction.sodium.ways import Trial
from app.web.prediction.sodium.words import sodium_of
from app.web.prediction.start.drawn import Tried
from app.web.prediction.start.line import NO_SAMPLE, line_words, sodium_lead
from app.web.prediction.start.standing import Asking
from tests.unit.web.prediction.start.conftest import TriedOf

SALINE = "sodium-chloride-0.9"
KNOWN = {"sodium": 140.0, "potassium": 4.1, "glucose": 6.0}


def words(tried: Tried, knowledge: Knowledge, *, insulin: bool = False) -> tuple[str, ...]:
    trial = Trial(tried.asked, tried.person, tried.subject, tried.courses)
    sodium = sodium_of(trial, knowledge.ruleset.limits, {})
    return line_words(tried, sodium, None, insulin=insulin)


def test_what_comes_is_first_in_a_fixed_order_and_no_sample_is_said_to_be_due(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    said = words(tried_of(SALINE, results=KNOWN), knowledge)
    assert said[0].startswith("In 4 h, bag in: potassium about ")
    assert said[0].index("potassium") < said[0].index("sodium about")
    assert NO_SAMPLE in said
    assert "assumed" not in said[0]


def test_an_assumed_start_is_said_and_what_is_not_predicted_is_left_out(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    assert "from an assumed start" in words(tried_of(SALINE), knowledge)[0]
    asked = tried_of(SALINE, asking=Asking(frozenset({"potassium"})))
    assert "potassium" not in words(asked, knowledge)[0]


def test_potassium_and_glucose_that_insulin_brings_down_are_told_with_their_time(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    insulin = Load(Composition(), 0.0, 0.0, 480, insulin_units=48)
    tried = tried_of(SALINE, results={**KNOWN, "glucose": 22.0}, beside=(insulin,))
    said = " ".join(words(tried, knowledge, insulin=True))
    assert "Potassium likely under 3.5 in " in said
    assert "Glucose likely under 14 in " in said
    assert "While insulin runs, potassium and glucose again in 1 h" in said
    assert NO_SAMPLE not in said


def test_somebody_is_called_where_it_may_come_to_that(
    tried_of: TriedOf, knowledge: Knowledge
) -> None:
    salt = Load(Composition(potassium_mmol_l=40, chloride_mmol_l=40), 2.0, 0.0, 240)
    said = words(tried_of(SALINE, results={**KNOWN, "potassium": 6.3}, beside=(salt,)), knowledge)
    assert said[-1].startswith("Call if potassium is over 6.5")
    assert "Call" not in " ".join(words(tried_of(SALINE, results=KNOWN), knowledge))


def test_sodium_is_named_where_no_heading_does() -> None:
    assert sodium_lead(("It may pass +8.", "More.")) == "Sodium may pass +8. More."
    assert sodium_lead(("A may pass +8.",)) == "Sodium: A may pass +8."
    assert sodium_lead(("Sodium falls.",)) == "Sodium falls."
    assert sodium_lead(()) == ""


def test_what_has_no_result_is_to_be_measured_now(tried_of: TriedOf, knowledge: Knowledge) -> None:
    asked = tried_of(SALINE, asking=Asking(frozenset({"potassium", "sodium"})))
    said = words(asked, knowledge)
    assert "Potassium and sodium now: there is no result to go by." in said
    assert NO_SAMPLE not in said


def test_a_low_glucose_is_measured_again_soon(tried_of: TriedOf, knowledge: Knowledge) -> None:
    low = words(tried_of(SALINE, results={**KNOWN, "glucose": 1.8}), knowledge)
    assert "Glucose again in 15 min." in low
    assert NO_SAMPLE not in low
    assert "Glucose again" not in " ".join(words(tried_of(SALINE, results=KNOWN), knowledge))

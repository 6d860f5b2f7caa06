from datetime import UTC, datetime, timedelta

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.phrases import (
    NAME_AT_MOST,
    amount_text,
    are,
    as_sentence,
    bag_name,
    bag_with_additives,
    hours_text,
    infusion_name,
    listed,
    lowered,
    number,
    opening,
    reading,
    reading_or_lack,
    spoken,
    volume_text,
)
from app.chemistry.composition import Composition
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def with_result(value: float | None, taken_at: datetime | None) -> Snapshot:
    return Snapshot(
        now=NOW, results={"potassium": (Observation("potassium", value, "mmol/L", taken_at),)}
    )


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (5.0, "5"), (0.24, "0.24"), (1.35, "1.35"), (2.0000001, "2"), (0.1 + 0.2, "0.3"),
        (125.0, "125"), (999.6, "1,000"), (1250.0, "1,250"), (4000.0, "4,000"), (0.0, "0"),
    ],
)  # fmt: skip
def test_a_figure_has_no_trailing_zero_and_a_leading_one(value: float, text: str) -> None:
    assert number(value) == text


def test_a_result_is_read_with_its_age() -> None:
    recent = with_result(5.9, NOW - timedelta(hours=3, minutes=10))
    assert reading(recent, "potassium") == "potassium 5.9 mmol/L, 3 h 10 min old"


def test_a_result_without_a_time_says_so() -> None:
    assert reading(with_result(5.9, None), "potassium").endswith("time not recorded")


def test_no_usable_result_is_said_aloud() -> None:
    stale = with_result(5.9, NOW - timedelta(days=3))
    assert reading_or_lack(stale, "potassium") == "no usable potassium"
    with pytest.raises(NotKnown):
        reading(stale, "potassium")


def test_names_are_listed_as_people_do() -> None:
    assert listed(()) == ""
    assert listed(("a",)) == "a"
    assert listed(("a", "b", "c")) == "a, b and c"


def test_a_sentence_opens_with_a_capital_and_keeps_the_rest() -> None:
    assert opening("pH 7.2") == "pH 7.2"
    assert opening("0.9% sodium chloride") == "0.9% sodium chloride"
    assert opening("") == ""


def test_a_bag_is_named_as_the_catalogue_names_it(catalogue: Catalogue) -> None:
    fluid = catalogue.get("compound-sodium-lactate")
    assert bag_name(Order("o1", "hartmanns", fluid)) == "compound sodium lactate"
    assert bag_name(Order("o1", "hartmanns", None)) == "hartmanns"


def test_no_name_is_too_long_for_one_line(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        assert len(bag_name(Order("o1", "", fluid))) <= NAME_AT_MOST


def test_what_else_runs_has_its_plain_name() -> None:
    assert infusion_name(CoInfusion("PRBC 2u", "blood", key="red_cells")) == "red cells"
    assert infusion_name(CoInfusion("mystery mix", "drug")) == "mystery mix"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [("No weight", "No weight."), ("Which?", "Which?"), ("Done.", "Done."), (" Stop ", "Stop.")],
)
def test_a_sentence_ends_with_one_mark(text: str, sentence: str) -> None:
    assert as_sentence(text) == sentence


def test_a_title_within_a_sentence_begins_small_unless_it_is_a_short_form() -> None:
    assert lowered("Hypotonic fluid in brain injury") == "hypotonic fluid in brain injury"
    assert lowered("SIADH and saline") == "SIADH and saline"


@pytest.mark.parametrize(
    ("hours", "said"), [(0.5, "30 min"), (1, "1 h"), (1.5, "1.5 h"), (22.8, "23 h"), (12, "12 h")]
)
def test_a_time_is_said_as_a_nurse_says_it(hours: float, said: str) -> None:
    assert hours_text(hours) == said


def test_a_volume_and_an_amount_are_said_without_small_change() -> None:
    assert volume_text(0.288) == "288 mL"
    assert volume_text(1.992) == "2 L"
    assert amount_text(77, "sodium") == "77 mmol/L of sodium"
    assert amount_text(0, "sodium") == "no sodium"


def test_results_are_called_by_their_spoken_names() -> None:
    assert spoken("ph") == "pH"
    assert spoken("calcium_ionised") == "ionised calcium"
    assert spoken("urine_osmolality") == "urine osmolality"


def additive(substance: str) -> AdditiveDose:
    return AdditiveDose(substance, Composition(), substance)


def test_nothing_of_two_things_is_neither() -> None:
    assert amount_text(0, "sodium and potassium") == "no sodium or potassium"


def test_nutrition_goes_by_its_plain_name_however_long_it_is_written() -> None:
    written = "parenteral nutrition 1350 mosmol/L, glucose 250 g"
    nutrition = Order("o1", written, None, additives=(additive("parenteral_nutrition"),))
    assert bag_name(nutrition) == "parenteral nutrition"


def test_a_bag_is_told_with_what_is_put_into_it() -> None:
    bag = Order("o1", "saline", None, additives=(additive("magnesium_sulfate"),))
    assert bag_with_additives(bag) == "saline with magnesium sulfate"
    assert bag_with_additives(Order("o1", "saline", None)) == "saline"


@pytest.mark.parametrize(
    ("name", "verb"), [("red cells", "are"), ("platelets", "are"), ("plasma", "is")]
)
def test_red_cells_are_and_plasma_is(name: str, verb: str) -> None:
    assert are(name) == verb

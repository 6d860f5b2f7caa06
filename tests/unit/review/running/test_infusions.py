import pytest

from tests.unit.review.running.conftest import RunningIn, brought_ml

CHILD = {"age_years": 6, "weight_kg": 20}


def test_a_dose_is_given_at_its_times_and_flushed(running_in: RunningIn) -> None:
    running = running_in(infusions=("meropenem 1 g in 100 mL 0.9% sodium chloride q8h",))
    doses = [load for load in running.loads if load.volume_l == pytest.approx(0.1)]
    assert [load.starts_min for load in doses] == [0, 480, 960]
    assert brought_ml(running.loads) == pytest.approx(3 * (100 + 20))


def test_a_syringe_that_runs_on_is_an_even_flow(running_in: RunningIn) -> None:
    running = running_in(infusions=("norepinephrine 4 mg in 50 mL 5% glucose at 13 mL/h",))
    (load,) = running.loads
    assert brought_ml(running.loads) == pytest.approx(13 * 24)
    assert load.composition.glucose_g_l == pytest.approx(50)


def test_a_usual_carrier_is_taken_in_an_adult_and_said(running_in: RunningIn) -> None:
    running = running_in(infusions=("meropenem 1 g three times a day",))
    assert running.loads and "0.9% sodium chloride (usual)" in running.words[0]


def test_no_usual_volume_is_taken_in_a_child(running_in: RunningIn) -> None:
    running = running_in(
        infusions=("meropenem 1 g three times a day",), patient=CHILD, setting="paediatric"
    )
    assert not running.loads and "for adults only" in running.not_counted[0]


def test_a_written_dose_in_a_child_has_no_flush(running_in: RunningIn) -> None:
    words = ("vancomycin 300 mg in 60 mL 0.9% sodium chloride over 60 min four times a day",)
    running = running_in(infusions=words, patient=CHILD, setting="paediatric")
    assert brought_ml(running.loads) == pytest.approx(240)


def test_potassium_by_itself_counts_with_the_water_it_is_in(running_in: RunningIn) -> None:
    running = running_in(infusions=("potassium chloride 20 mmol in 100 mL over 2 h",))
    (load,) = running.loads
    assert load.composition.potassium_mmol_l * load.volume_l == pytest.approx(20)
    assert load.duration_min == 120 and "taken as in water" in running.words[0]


def test_albumin_brings_its_protein(running_in: RunningIn) -> None:
    running = running_in(infusions=("albumin 20% 100 mL tds",))
    assert sum(
        load.composition.albumin_g_l * load.volume_l for load in running.loads
    ) == pytest.approx(60)


def test_a_drug_s_own_sodium_is_said_not_to_be_counted(running_in: RunningIn) -> None:
    running = running_in(infusions=("meropenem 2 g q8h",))
    said = "Meropenem 2 g q8h: the sodium of the drug itself, 7.8 mmol a dose"
    assert running.not_counted == (said,)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("red cells 1 unit over 2 h", "blood is not in this prediction"),
        ("parenteral nutrition 60 mL/h", "not all that nutrition holds"),
        ("heparin", "no rate in mL/h"),
        ("magnesium sulfate", "no amount is written"),
        ("wonderdrug 5 mg twice daily", "not understood"),
    ],
)
def test_what_cannot_be_counted_says_why(running_in: RunningIn, words: str, why: str) -> None:
    running = running_in(infusions=(words,))
    assert not running.loads and why in running.not_counted[0]


def test_a_dose_of_which_nothing_says_how_often_is_one(running_in: RunningIn) -> None:
    words = ("dobutamine 250 mg in 50 mL 5% glucose over 1 h",)
    running = running_in(infusions=words, patient=CHILD, setting="paediatric")
    assert brought_ml(running.loads) >= 50

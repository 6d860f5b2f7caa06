"""A group becomes a middle person, and what nobody printed is said to be assumed."""

from dataclasses import replace

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import BaselineError
from app.review.trials.group import assumed_of, groups_of
from app.review.trials.rows import Comparison, comparisons_of, row_from
from tests.trials.files import read_trial_rows

ROWS = [row_from(table, held_out=held_out) for table, held_out in read_trial_rows()]
COMPARED = {one.row.id: one for one in comparisons_of(ROWS)}
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def test_a_weight_not_printed_is_assumed_aloud() -> None:
    groups = groups_of(COMPARED["lobo2001:NS@60"], SALINE)
    assert len(groups) == 1
    assert groups[0].subject.weight_kg == 75
    assert "weight 75 kg" in assumed_of(groups)
    assert groups[0].load.volume_l == 2.0


def test_a_weight_printed_is_taken() -> None:
    groups = groups_of(COMPARED["alb20_fastslow2022:FAST@30"], SALINE)
    assert all(group.subject.weight_kg == 75 for group in groups)
    assert not any(text.startswith("weight") for text in assumed_of(groups))
    assert groups[0].load.volume_l == pytest.approx(0.225)


def test_a_group_of_both_sexes_is_a_man_and_a_woman() -> None:
    man, woman = groups_of(COMPARED["williams1999:NS@60"], SALINE)
    assert man.subject.water_l > woman.subject.water_l
    assert assumed_of((man, woman))[0] == "midway between a man and a woman"
    assert len(assumed_of((man, woman))) == len(set(assumed_of((man, woman))))


def test_the_baseline_printed_is_the_starting_chemistry() -> None:
    group = groups_of(COMPARED["colloid_volunteers2000:HES@60"], SALINE)[0]
    assert group.subject.chloride_mmol_l == 108
    assert group.subject.albumin_g_l == 44
    assert group.subject.pco2_mmhg == 40.8


def test_of_a_gas_that_contradicts_itself_the_ph_is_left_out() -> None:
    group = groups_of(COMPARED["bicarb_cooper1990:BIC@15"], SALINE)[0]
    (told,) = (text for text in group.assumed if text.startswith("ph "))
    assert told.startswith("ph 7.16, of bicarbonate and pCO2") and "7.22" in told
    assert group.subject.bicarbonate_mmol_l == 12
    assert group.subject.shock


def test_a_baseline_that_cannot_be_is_refused() -> None:
    one = COMPARED["colloid_volunteers2000:HES@60"]
    with pytest.raises(BaselineError):
        groups_of(Comparison(one.row, {"cl_mmol_l": 10.0, "hco3_mmol_l": 2.0}), SALINE)


def test_urine_that_was_measured_is_lost_at_an_even_pace() -> None:
    group = groups_of(COMPARED["hyper_pmc2386722:HYPER@120"], SALINE)[0]
    (loss,) = group.losses
    assert (loss.kind, loss.ml_h) == ("urine", 127.5)


def test_blood_that_was_taken_is_lost_beside_the_urine() -> None:
    one = COMPARED["mortelmans1995:HES@90"]
    (blood,) = groups_of(one, SALINE)[0].losses
    assert (blood.kind, blood.ml_h) == ("blood", pytest.approx(333.3, abs=0.1))
    both = Comparison(replace(one.row, urine_ml=90.0), one.baseline)
    assert [loss.kind for loss in groups_of(both, SALINE)[0].losses] == ["urine", "blood"]


def test_a_child_has_the_blood_of_a_child() -> None:
    child = COMPARED["neville2010:N2FULL@480"]
    grown = Comparison(replace(child.row, age_years=None), child.baseline)
    assert (
        groups_of(child, SALINE)[0].subject.plasma_l > groups_of(grown, SALINE)[0].subject.plasma_l
    )

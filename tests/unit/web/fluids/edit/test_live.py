"""What stands beside the form: the checks of every file, slips, and what would change."""

import random

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.check import check_fluid
from app.catalogue.document import document_of
from app.chemistry.substances import IONS
from app.web.fluids.edit.live import Live, live_of
from app.web.fluids.edit.reading import read_typed
from app.web.fluids.edit.typed import typed_from
from tests.unit.web.fluids.edit.conftest import Form

SEED = 20310304
MUTATIONS = 100
CAUGHT_AT_LEAST = 95
POTASSIUM, CHLORIDE = "composition_mmol_l.potassium", "composition_mmol_l.chloride"


def live(entry: Form, label: str = "", **changed: str) -> Live:
    named = {name.replace("__", "."): text for name, text in changed.items()}
    in_force = read_typed(entry, "lactated-ringers").document
    return live_of(read_typed({**entry, **named}, "lactated-ringers"), in_force, label)


def test_an_entry_as_it_is_differs_in_nothing(entry: Form) -> None:
    told = live(entry)
    assert told.headline == "Nothing differs from what is in force"
    assert (told.doubts, told.slips, told.not_accepted, told.differences) == ((), (), (), ())


def test_charge_is_summed_as_it_is_typed(entry: Form) -> None:
    told = live(entry, **{POTASSIUM: "5.4"})
    assert [side.working for side in told.sides] == [
        "sodium 130 + potassium 5.4 + calcium 2.7 = 138.1 mEq/L",
        "chloride 109 + lactate 28 = 137 mEq/L",
    ]
    (doubt,) = told.doubts
    assert doubt.text == "Charge: 138.1 mEq/L of cations against 137 of anions."
    assert doubt.explain == "explained.charge"
    assert told.headline == "Not ready: 1 doubt"


def test_a_reason_lets_a_doubt_stand_and_is_shown(entry: Form) -> None:
    told = live(entry, **{POTASSIUM: "5.4", "explained.charge": "acid is added"})
    assert told.doubts == ()
    assert told.explained == ("Charge: acid is added",)
    assert told.headline == "2 fields differ; no check finds a fault"


def test_an_osmolarity_apart_from_the_label_is_doubted(entry: Form) -> None:
    (doubt,) = live(entry, osmolarity_labelled_mosm_l="290").doubts
    assert doubt.text == "Osmolarity: label 290 mOsm/L, computed 272.4."


def test_a_figure_without_a_source_has_no_reason_that_lets_it_stand(entry: Form) -> None:
    doubts = live(entry, source__0__covers="osmolarity, pH, energy").doubts
    assert doubts
    assert {doubt.explain for doubt in doubts} == {""}
    assert "Sodium: no source covers this figure." in [doubt.text for doubt in doubts]


def test_milliequivalents_stand_beside_millimoles(entry: Form) -> None:
    told = live(entry, composition_mmol_l__phosphate="1")
    assert told.meq["composition_mmol_l.calcium"] == "2.7 mEq/L"
    assert told.meq["composition_mmol_l.phosphate"] == "no fixed mEq"
    assert told.meq["composition_mmol_l.magnesium"] == ""


def test_the_usual_slip_is_asked_about(entry: Form) -> None:
    (slip,) = live(entry, composition_mmol_l__calcium="2.7").slips
    assert slip.startswith("Calcium 2.7 mmol/L: was mEq/L typed for mmol/L?")


def test_what_could_not_be_read_is_no_difference_but_a_fault(entry: Form) -> None:
    told = live(entry, **{POTASSIUM: "four"})
    assert told.differences == ()
    (fault,) = told.not_accepted
    assert fault.field == POTASSIUM
    assert fault.text.startswith("Potassium: “four” is not accepted. Accepted: a number")
    assert told.messages[POTASSIUM] in fault.text


def test_a_label_stands_beside_what_is_typed(entry: Form) -> None:
    told = live(entry, "Na 130, K 5 mmol/L")
    assert told.held is not None
    assert "potassium" in [one.of for one in told.held.differences]
    assert live(entry).held is None


def test_chloride_on_no_label_is_said_and_never_summed(catalogue: Catalogue) -> None:
    albumin = catalogue.get("albumin-5")
    assert albumin is not None
    document = document_of(albumin)
    told = live_of(read_typed(typed_from(document), "albumin-5"), document)
    assert told.sides[1].working == "not summed: no chloride on the label"
    assert "not checked" in told.checks[1].text


@pytest.mark.parametrize("changed", [{POTASSIUM: "5.4"}, {"energy_kcal_l": "900"}, {"ph.low": "8"}])
def test_the_doubts_are_those_of_check_data(entry: Form, changed: Form) -> None:
    read = read_typed({**entry, **changed}, "lactated-ringers")
    told = live_of(read, None)
    assert len(told.doubts) == len(check_fluid(read.fluid)) > 0


def test_figures_that_change_while_their_source_stays_are_asked_about(entry: Form) -> None:
    assert live(entry, **{POTASSIUM: "5.4"}).sources_stay
    assert not live(entry, **{POTASSIUM: "5.4", "source.0.place": "label of May"}).sources_stay
    assert not live(entry, note="another note").sources_stay


def test_nothing_is_missing_before_anything_is_written() -> None:
    told = live_of(read_typed({}, "new"), None)
    assert told.headline.startswith("Not ready")
    quiet = told.before_anything()
    assert (quiet.headline, quiet.not_accepted, quiet.messages) == (
        "Nothing is written yet",
        (),
        {},
    )


def slipped(text: str, chance: random.Random) -> str:
    """A figure as a hurried hand types it."""
    value = float(text)
    slips = [f"{value * 10:g}", f"{value / 10:g}", f"{value * 2:g}", f"{value / 2:g}"]
    digits = text.replace(".", "")
    slips += [text + "0"] if "." not in text else [digits]
    if len(digits) > 1 and digits[0] != digits[1] and "." not in text:
        slips.append(text[1] + text[0] + text[2:])
    return chance.choice([slip for slip in slips if float(slip) != value])


def test_a_slip_in_one_ion_is_caught_while_typing(catalogue: Catalogue) -> None:
    chance, caught = random.Random(SEED), 0
    fluids = [one for one in catalogue if one.composition.charge_gap_meq_l is not None]
    fluids = [one for one in fluids if any(one.composition.ion_mmol_l(ion.key) for ion in IONS)]
    for _ in range(MUTATIONS):
        fluid = chance.choice(fluids)
        typed = typed_from(document_of(fluid))
        ions = [name for name in typed if name.startswith("composition_mmol_l.")]
        name = chance.choice(ions)
        told = live_of(read_typed({**typed, name: slipped(typed[name], chance)}, fluid.id), None)
        caught += bool(told.doubts)
    assert caught >= CAUGHT_AT_LEAST

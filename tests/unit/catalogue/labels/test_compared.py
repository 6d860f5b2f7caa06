"""Labels held against entries: every alteration is told, no true label is doubted."""

import random
import re
from collections.abc import Callable, Iterator

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.labels.compared import held_against
from app.catalogue.labels.held import Held
from app.catalogue.labels.reading import Label, read_label
from app.chemistry.substances import IONS, Substance
from app.chemistry.units import meq_from_mmol
from tests.unit.catalogue.labels.true_labels import ALTERED, TRUE_LABELS

SEED = 20310304


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


def held(catalogue: Catalogue, fluid_id: str, text: str) -> Held:
    return held_against(read_label(text), fluid(catalogue, fluid_id))


@pytest.mark.parametrize("true", TRUE_LABELS.values(), ids=TRUE_LABELS.keys())
def test_a_true_label_is_not_doubted(catalogue: Catalogue, true: tuple[str, str]) -> None:
    found = held(catalogue, *true)
    assert found.differences == ()
    assert found.unread == ()
    assert found.same


@pytest.mark.parametrize("alteration", ALTERED.values(), ids=ALTERED.keys())
def test_every_alteration_of_a_label_is_told_and_nothing_else(
    catalogue: Catalogue, alteration: tuple[str, str, str, list[str]]
) -> None:
    of, before, after, told = alteration
    fluid_id, text = TRUE_LABELS[of]
    assert text.count(before) == 1
    found = held(catalogue, fluid_id, text.replace(before, after))
    assert sorted(one.of for one in found.differences) == sorted(told)


def as_list(one: Fluid, write: Callable[[Substance, float], str]) -> str:
    amounts = [(ion, one.composition.ion_mmol_l(ion.key)) for ion in IONS]
    return ", ".join(write(ion, amount) for ion, amount in amounts if amount)


def in_mmol(ion: Substance, amount: float) -> str:
    return f"{ion.symbol} {amount:g} mmol/L"


def in_meq(ion: Substance, amount: float) -> str:
    if ion.charge is None:
        return in_mmol(ion, amount)
    return f"{ion.name} {meq_from_mmol(ion.key, amount):g} mEq/L"


def of_half_a_litre(ion: Substance, amount: float) -> str:
    return f"{amount / 2:g} mmol {ion.name} per 500 mL"


STYLES = {"mmol": in_mmol, "mEq": in_meq, "half a litre": of_half_a_litre}


def electrolytes(catalogue: Catalogue) -> Iterator[Fluid]:
    for one in catalogue:
        if sum(bool(one.composition.ion_mmol_l(ion.key)) for ion in IONS) > 1:
            yield one


@pytest.mark.parametrize("style", STYLES)
def test_the_list_of_every_fluid_reads_as_it_was_written(catalogue: Catalogue, style: str) -> None:
    for one in electrolytes(catalogue):
        text = as_list(one, STYLES[style])
        found = held_against(read_label(text), one)
        assert (one.id, text, found.differences, found.unread) == (one.id, text, (), ())


@pytest.mark.parametrize("style", STYLES)
def test_one_ion_changed_by_a_tenth_in_any_list_is_told(catalogue: Catalogue, style: str) -> None:
    chance = random.Random(SEED)
    for one in electrolytes(catalogue):
        present = [ion for ion in IONS if one.composition.ion_mmol_l(ion.key)]
        wrong = chance.choice(present)
        factor = chance.choice([0.1, 0.5, 0.9, 1.1, 2.0, 10.0])

        def write(ion: Substance, amount: float) -> str:
            changed = amount * factor if ion == wrong else amount  # noqa: B023 - used at once
            return STYLES[style](ion, changed)

        found = held_against(read_label(as_list(one, write)), one)
        assert [d.of for d in found.differences] == [wrong.name]


def test_the_usual_slips_are_named(catalogue: Catalogue) -> None:
    text = "Na 130, K 4, Ca 2.7, Cl 109, lactate 28 mmol/L"
    (difference,) = held(catalogue, "lactated-ringers", text).differences
    assert difference.why == "as if mEq had been printed for mmol"
    text = "Na 15.4, Cl 154 mmol/L"
    (difference,) = held(catalogue, "sodium-chloride-0.9", text).differences
    assert difference.why == "a tenth: a point, or the volume"


def test_rounding_is_no_difference(catalogue: Catalogue) -> None:
    text = "Sodium 130, Potassium 4, Calcium 3, Chloride 109, Lactate 28 mEq/L"
    assert held(catalogue, "lactated-ringers", text).differences == ()


def test_a_label_without_a_volume_is_said(catalogue: Catalogue) -> None:
    found = held(catalogue, "sodium-chloride-0.9", "Sodium chloride 9 g")
    assert found.differences == ()
    assert "no volume" in found.unread[0]


def test_what_the_label_leaves_out_is_said(catalogue: Catalogue) -> None:
    found = held(catalogue, "compound-sodium-lactate", "pH 5 to 7")
    assert found.not_told == ("ions", "osmolarity")


def test_nothing_read_is_nothing_agreed(catalogue: Catalogue) -> None:
    found = held(catalogue, "compound-sodium-lactate", "Store below 25 °C. Use at once.")
    assert found.same == ()
    assert found.differences == ()


NUMBERS = re.compile(r"\d+(?:[.,]\d+)*")


def other_digit(found: re.Match[str]) -> str:
    """The number with its first digit that is not 0 changed."""
    text = found.group()
    place = next((i for i, digit in enumerate(text) if digit in "123456789"), None)
    if place is None:
        return "7" + text[1:]
    return text[:place] + str(int(text[place]) % 9 + 1) + text[place + 1 :]


# A range is as true when it is wider.
FIGURES = [true for key, true in TRUE_LABELS.items() if "ranges" not in key]


def figures_of(label: Label) -> list[object]:
    return [(f.key, f.number, f.lower, f.upper, f.unit, f.basis_ml) for f in label.figures]


@pytest.mark.parametrize("true", FIGURES)
def test_any_figure_of_a_true_label_that_is_changed_is_told(
    catalogue: Catalogue, true: tuple[str, str]
) -> None:
    fluid_id, text = true
    one, changed = fluid(catalogue, fluid_id), 0
    for found in NUMBERS.finditer(text):
        altered = text[: found.start()] + other_digit(found) + text[found.end() :]
        label = read_label(altered)
        if figures_of(label) == figures_of(read_label(text)):
            continue  # a temperature, a formula, a pack
        changed += 1
        told = held_against(label, one)
        assert told.differences or told.unread or told.open != held(catalogue, *true).open, altered
    assert changed


def test_an_alkali_added_until_the_ph_was_right_makes_no_amount(catalogue: Catalogue) -> None:
    found = held(catalogue, "sodium-chloride-0.9", "sodium chloride 9 g, sodium hydroxide 1 g/L")
    assert found.open == ("sodium hydroxide 1 g /l",)
    assert found.differences == ()


def test_osmolality_is_not_held_against_osmolarity(catalogue: Catalogue) -> None:
    found = held(catalogue, "sodium-chloride-0.9", "Osmolality 290 mOsm/kg")
    assert found.open == ("osmolality 290 mosm",)
    assert (found.differences, found.same) == ((), ())


def test_a_unit_that_cannot_be_is_not_read(catalogue: Catalogue) -> None:
    found = held(catalogue, "sodium-chloride-0.9", "Osmolarity 308 g/L; sodium chloride 154 mmol/L")
    assert (found.differences, found.same) == ((), ())
    assert len(found.unread) == 2


def test_a_list_of_some_ions_beside_the_salts_of_all_lacks_none(catalogue: Catalogue) -> None:
    text = (
        "1000 mL contains: sodium chloride 6.0 g, sodium lactate 3.1 g, potassium chloride 0.3 g, "
        "calcium chloride dihydrate 0.2 g (potassium 4 mmol, calcium 1.35 mmol)"
    )
    found = held(catalogue, "lactated-ringers", text)
    assert (found.differences, found.unread) == ((), ())
    lone = held(catalogue, "lactated-ringers", "potassium 4 mmol/L, calcium 1.35 mmol/L")
    assert [one.of for one in lone.differences] == ["sodium", "chloride", "lactate"]

"""Labels held against entries: every alteration is told, no true label is doubted."""

import random
from collections.abc import Callable, Iterator

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.labels.compared import Held, held_against
from app.catalogue.labels.reading import read_label
from app.chemistry.substances import IONS, Substance
from app.chemistry.units import meq_from_mmol

SEED = 20310304

# Each as a pharmacopoeial label of such a fluid prints it: figures of seed_data/, wording ours.
TRUE_LABELS = {
    "lactated-ringers": (
        "Each 100 mL contains: Sodium Chloride 0.6 g; Sodium Lactate 0.31 g; Potassium Chloride "
        "0.03 g; Calcium Chloride Dihydrate 0.02 g\npH: 6.6 (6.0–7.5) Osmolarity: 273 mOsmol/Liter"
        " (calc)\nConcentration of Electrolytes (mEq/liter): Sodium 130; Potassium 4; Calcium 2.7;"
        " Chloride 109; Lactate 28"
    ),
    "compound-sodium-lactate": (
        "Na+ 131 mmol/l  K+ 5 mmol/l Ca2+ 2 mmol/l Cl- 111 mmol/l lactate 29 mmol/l. "
        "pH 5.0 to 7.0. Osmolarity 278 mOsm/l"
    ),
    "sodium-chloride-0.9": (
        "1000 ml contains: sodium chloride 9,0 g. mmol per litre: Na 154, Cl 154"
    ),
    "multiple-electrolytes-type-1-ph-7.4": (
        "Na⁺ 140, K⁺ 5, Mg²⁺ 1.5, Cl⁻ 98, acetate 27, gluconate 23 mmol/L; pH 7.4 (6.5 to 8.0)"
    ),
    "acetate-malate-balanced": (
        "Electrolytes (mmol/l): sodium (Na+) 145, potassium (K+) 4.0, magnesium (Mg2+) 1.0, "
        "calcium (Ca2+) 2.5, chloride (Cl-) 127, acetate 24, malate 5. Sodium chloride 6.8 g, "
        "potassium chloride 0.3 g, magnesium chloride hexahydrate 0.2 g, calcium chloride "
        "dihydrate 0.37 g, sodium acetate trihydrate 3.27 g, malic acid 0.67 g, sodium hydroxide "
        "0.2 g per 1000 ml. "
        "Theoretical osmolarity: 309 mosmol/l. pH: 5.1 - 5.9"
    ),
    "dextrose-5": (
        "Dextrose monohydrate 50 g/L. Osmolarity 252 mOsm/L, pH 4.3 (3.2 to 6.5), 170 kcal/L"
    ),
    "dextrose-5-sodium-chloride-0.45": (
        "50 g dextrose hydrous and 4.5 g sodium chloride per litre; sodium 77 mEq/L, chloride "
        "77 mEq/L"
    ),
    "sodium-chloride-0.45": "Sodium 38.5 mmol and chloride 38.5 mmol per 500 mL",
    "sodium-bicarbonate-8.4": (
        "Sodium bicarbonate 84 mg in 1 mL; sodium 1 mmol, bicarbonate 1 mmol in 1 mL"
    ),
    "glucose-5": "Anhydrous glucose 5% w/v",
}


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


def held(catalogue: Catalogue, fluid_id: str, text: str) -> Held:
    return held_against(read_label(text), fluid(catalogue, fluid_id))


@pytest.mark.parametrize("fluid_id", TRUE_LABELS)
def test_a_true_label_is_not_doubted(catalogue: Catalogue, fluid_id: str) -> None:
    found = held(catalogue, fluid_id, TRUE_LABELS[fluid_id])
    assert found.differences == ()
    assert found.unread == ()
    assert found.same


ALTERED = {
    "potassium left at four": ("compound-sodium-lactate", "K+ 5", "K+ 4", ["potassium"]),
    "chloride one off": ("lactated-ringers", "Chloride 109", "Chloride 110", ["chloride"]),
    "a salt nearly doubled": (
        "lactated-ringers",
        "Sodium Chloride 0.6 g",
        "Sodium Chloride 0.9 g",
        ["sodium, from the salts", "chloride, from the salts"],
    ),
    "calcium in place of magnesium": (
        "multiple-electrolytes-type-1-ph-7.4",
        "Mg²⁺ 1.5",
        "Ca²⁺ 1.5",
        ["calcium", "magnesium"],
    ),
    "mEq printed as mmol": ("acetate-malate-balanced", "(Ca2+) 2.5", "(Ca2+) 5", ["calcium"]),
    "osmolarity": ("acetate-malate-balanced", "309", "290", ["osmolarity"]),
    "an end of the pH range": ("dextrose-5", "3.2 to", "3.5 to", ["pH, low end"]),
    "glucose without its water": ("dextrose-5", "monohydrate 50", "anhydrous 50", ["glucose"]),
    "half a litre read as a litre": (
        "sodium-chloride-0.45",
        "per 500 mL",
        "per 1000 mL",
        ["sodium", "chloride"],
    ),
    "bicarbonate a tenth": (
        "sodium-bicarbonate-8.4",
        "bicarbonate 1 mmol in",
        "bicarbonate 0.1 mmol in",
        ["bicarbonate"],
    ),
    "two at once": (
        "multiple-electrolytes-type-1-ph-7.4",
        "acetate 27, gluconate 23",
        "acetate 23, gluconate 27",
        ["acetate", "gluconate"],
    ),
}


@pytest.mark.parametrize("alteration", ALTERED.values(), ids=ALTERED.keys())
def test_every_alteration_of_a_label_is_told_and_nothing_else(
    catalogue: Catalogue, alteration: tuple[str, str, str, list[str]]
) -> None:
    fluid_id, before, after, told = alteration
    text = TRUE_LABELS[fluid_id]
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

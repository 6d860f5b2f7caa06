"""What is wrong with a catalogue entry."""

import random
from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.check import check_fluid, figure_fields
from app.catalogue.fluid import Fluid, PhRange
from app.catalogue.source import Source
from app.chemistry.substances import IONS

SEED = 20310304
MUTATIONS = 100
# Over many seeds about 96 are caught. Missed are a calcium or magnesium that is a tenth off, and
# the sodium of an albumin whose chloride no label gives.
CAUGHT_AT_LEAST = 95


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


def fields(faulty: Fluid) -> list[str]:
    return [fault.field for fault in check_fluid(faulty)]


def with_ion(original: Fluid, **changed: float) -> Fluid:
    return replace(original, composition=replace(original.composition, **changed))


def test_every_entry_of_the_catalogue_is_without_fault(catalogue: Catalogue) -> None:
    assert [str(fault) for one in catalogue for fault in check_fluid(one)] == []


def test_calcium_typed_in_milliequivalents_is_caught(catalogue: Catalogue) -> None:
    wrong = with_ion(fluid(catalogue, "lactated-ringers"), calcium_mmol_l=2.7)
    assert fields(wrong) == ["charge"]


def test_a_doubled_strength_that_balances_is_caught_by_label_and_name(
    catalogue: Catalogue,
) -> None:
    wrong = with_ion(
        fluid(catalogue, "sodium-chloride-0.9"), sodium_mmol_l=308, chloride_mmol_l=308
    )
    assert fields(wrong) == ["osmolarity", "strength"]


def test_dextrose_entered_as_anhydrous_is_caught(catalogue: Catalogue) -> None:
    original = fluid(catalogue, "dextrose-5")
    composition = replace(original.composition, glucose_monohydrate=False)
    assert "osmolarity" in fields(replace(original, composition=composition))


def test_a_disagreement_with_a_reason_is_no_fault(catalogue: Catalogue) -> None:
    gluconate = fluid(catalogue, "calcium-gluconate-10")
    assert check_fluid(gluconate) == ()
    assert fields(replace(gluconate, explained=())) == ["osmolarity"]


def test_energy_of_a_sugarless_fluid_is_doubted(catalogue: Catalogue) -> None:
    assert fields(replace(fluid(catalogue, "sodium-chloride-0.9"), energy_kcal_l=170)) == ["energy"]


def test_ph_must_be_in_order_and_on_the_scale(catalogue: Catalogue) -> None:
    saline = fluid(catalogue, "sodium-chloride-0.9")
    assert fields(replace(saline, ph=PhRange(7, 5, 4.5))) == ["ph"]
    assert fields(replace(saline, ph=PhRange(4.5, 5, 70))) == ["ph"]


def test_an_albumin_without_labelled_chloride_still_has_a_plausible_sodium(
    catalogue: Catalogue,
) -> None:
    assert fields(with_ion(fluid(catalogue, "albumin-5"), sodium_mmol_l=14.5)) == ["sodium"]


@pytest.mark.parametrize("packs", [(500, 250), (250, 250), (0, 500)])
def test_packs_go_up_each_once_and_hold_something(
    catalogue: Catalogue, packs: tuple[int, ...]
) -> None:
    wrong = replace(fluid(catalogue, "sodium-chloride-0.9"), pack_sizes_ml=packs)
    assert fields(wrong) == ["pack_sizes"]


def test_a_figure_that_no_source_covers_is_named(catalogue: Catalogue) -> None:
    saline = fluid(catalogue, "sodium-chloride-0.9")
    bare = replace(saline, sources=(Source("a label", covers=("composition", "osmolarity")),))
    assert fields(bare) == ["ph.low", "ph.typical", "ph.high", "energy", "pack_sizes"]


def test_a_source_without_a_work_is_a_fault(catalogue: Catalogue) -> None:
    saline = fluid(catalogue, "sodium-chloride-0.9")
    assert fields(replace(saline, sources=(Source(" "),))) == ["source"]


def test_every_figure_of_every_fluid_has_a_source(catalogue: Catalogue) -> None:
    for one in catalogue:
        assert all(one.sources_of(field) for field in figure_fields(one)), one.id


def slips(value: float, key: str) -> list[float]:
    """Figures that a hand may type in place of the right one.

    A digit swapped with its neighbour, left out, doubled, or missed by one key; a decimal point
    lost or moved; calcium and magnesium in milliequivalents.
    """
    text = f"{value:g}"
    digits = [at for at, character in enumerate(text) if character.isdigit()]
    typed = [text[:at] + text[at] + text[at:] for at in digits]
    typed += [text[:at] + text[at + 1 :] for at in digits if len(digits) > 1]
    for at in digits:
        near = (int(text[at]) - 1, int(text[at]) + 1)
        typed += [text[:at] + str(n) + text[at + 1 :] for n in near if 0 <= n <= 9]
    typed += [
        text[:at] + text[at + 1] + text[at] + text[at + 2 :] for at in digits if at + 1 in digits
    ]
    typed.append(text.replace(".", "") if "." in text else f"{value / 10:g}")
    if key in ("calcium", "magnesium"):
        typed.append(f"{2 * value:g}")
    return [float(one) for one in typed if one != "." and float(one) != value]


def test_at_least_95_of_100_one_ion_typing_errors_are_caught(catalogue: Catalogue) -> None:
    chance = random.Random(SEED)
    entries = [
        (one, ion.key, value)
        for one in catalogue
        for ion in IONS
        if (value := one.composition.ion_mmol_l(ion.key))
    ]
    missed = []
    for _ in range(MUTATIONS):
        original, key, value = chance.choice(entries)
        typed = chance.choice(slips(value, key))
        if not check_fluid(with_ion(original, **{f"{key}_mmol_l": typed})):
            missed.append(f"{original.id}: {key} {value:g} typed as {typed:g}")
    assert MUTATIONS - len(missed) >= CAUGHT_AT_LEAST, "\n".join(missed)

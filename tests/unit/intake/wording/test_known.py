"""The catalogue's fluids by name and by parts."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.vocabulary import Vocabulary
from app.intake.wording.known import KnownFluids

GLUCOSE, SALINE = ("glucose", 5.0), ("saline", 0.9)


@pytest.fixture(scope="module")
def known(catalogue: Catalogue, vocabulary: Vocabulary) -> KnownFluids:
    return KnownFluids(catalogue, vocabulary)


def test_a_fluid_is_found_by_its_name_and_by_its_parts(known: KnownFluids) -> None:
    assert [f.id for f in known.named("0.9% sodium chloride")] == ["sodium-chloride-0.9"]
    found = known.one(frozenset({GLUCOSE, SALINE}), None)
    assert found is not None and found.id == "dextrose-5-sodium-chloride-0.9"
    premix = known.one(frozenset({SALINE}), 20.0)
    assert premix is not None and premix.id == "potassium-chloride-20-sodium-chloride-0.9"


def test_a_strength_left_out_leaves_a_choice(known: KnownFluids) -> None:
    fitting = known.with_any_strength(frozenset({GLUCOSE, ("saline", None)}))
    assert {"dextrose-5-sodium-chloride-0.45", "dextrose-5-sodium-chloride-0.9"} <= {
        f.id for f in fitting
    }


def test_a_strength_between_two_near_bags_is_either(known: KnownFluids) -> None:
    assert [f.id for f in known.either_side("albumin", 4.5)] == ["albumin-4", "albumin-5"]
    assert known.either_side("albumin", 10.0) == ()
    assert known.either_side("albumin", 30.0) == ()


@pytest.mark.parametrize(
    ("parts", "left"),
    [
        ((("lactated_ringers", None), ("compound_sodium_lactate", None)), ["lactated_ringers"]),
        ((("crystalloid_unspecified", None), SALINE), ["saline"]),
        ((("ringers_unspecified", None), ("lactated_ringers", None)), ["lactated_ringers"]),
        ((GLUCOSE, ("sterile_water", None)), ["glucose"]),
        ((("hydroxyethyl_starch", None), SALINE), ["hydroxyethyl_starch"]),
        ((("balanced_unspecified", None), GLUCOSE), ["balanced_unspecified", "glucose"]),
    ],
)  # fmt: skip
def test_a_word_for_what_is_named_better_beside_it_goes(
    known: KnownFluids, parts: tuple[tuple[str, float | None], ...], left: list[str]
) -> None:
    assert [word for word, _ in known.once(parts)] == left


def test_an_ampoule_is_known_by_its_salt_and_strength(known: KnownFluids) -> None:
    for key, percent, fluid_id in (
        ("sodium_bicarbonate", 8.4, "sodium-bicarbonate-8.4"),
        ("calcium_gluconate", 10.0, "calcium-gluconate-10"),
    ):
        found = known.concentrate(key, percent)
        assert found is not None and found.id == fluid_id
    assert known.concentrate("sodium_bicarbonate", 3.0) is None

"""A fluid as its label has it."""

from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.source import Source


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("fluid_id", "expected"),
    [
        ("dextrose-5", "hypotonic"),
        ("dextrose-10-sodium-chloride-0.45", "hypotonic"),
        ("sodium-chloride-0.9", "isotonic"),
        ("dextrose-5-sodium-chloride-0.9", "isotonic"),
        ("lactated-ringers", "isotonic"),
        ("sodium-chloride-3", "hypertonic"),
        ("mannitol-20", "hypertonic"),
        ("albumin-20", None),
    ],
)
def test_the_class_is_that_of_the_body_never_of_the_bag(
    catalogue: Catalogue, fluid_id: str, expected: str | None
) -> None:
    assert fluid(catalogue, fluid_id).tonicity_class == expected


def test_the_labels_osmolarity_goes_before_the_computed_one(catalogue: Catalogue) -> None:
    ringers = fluid(catalogue, "lactated-ringers")
    assert ringers.osmolarity_mosm_l == 273
    unlabelled = replace(ringers, osmolarity_labelled_mosm_l=None)
    assert unlabelled.osmolarity_mosm_l == pytest.approx(272.35)


def test_a_balanced_fluid_has_an_organic_buffer(catalogue: Catalogue) -> None:
    assert fluid(catalogue, "compound-sodium-lactate").is_buffered
    assert not fluid(catalogue, "sodium-chloride-0.9").is_buffered
    assert not fluid(catalogue, "ringers-injection").is_buffered
    assert not fluid(catalogue, "gelatin-4-balanced").is_buffered


def test_a_source_for_the_part_goes_before_one_for_the_whole(catalogue: Catalogue) -> None:
    part = Source("a paper", covers=("ph.typical",), seen=True)
    whole = Source("a label", covers=("ph", "energy"))
    both = replace(fluid(catalogue, "ringers-injection"), sources=(whole, part))
    assert both.sources_of("ph.typical") == (part, whole)
    assert both.sources_of("ph.low") == (whole,)
    assert both.sources_of("osmolarity") == ()


def test_a_figure_is_seen_only_when_its_nearest_source_was(catalogue: Catalogue) -> None:
    ringers = fluid(catalogue, "lactated-ringers")
    assert ringers.is_seen("composition.sodium")
    assert not ringers.is_seen("pack_sizes")
    assert not replace(ringers, sources=()).is_seen("osmolarity")

"""A fluid written out reads back as the same fluid."""

import json

from app.catalogue.catalogue import Catalogue
from app.catalogue.document import document_of
from app.catalogue.entry import fluid_from


def test_every_fluid_of_the_catalogue_reads_back_the_same_after_json(catalogue: Catalogue) -> None:
    assert len(catalogue)
    for fluid in catalogue:
        sent = json.loads(json.dumps(document_of(fluid)))
        assert fluid_from(sent, file_id=fluid.id) == fluid, fluid.id


def test_chloride_that_no_label_gives_stays_unknown(catalogue: Catalogue) -> None:
    albumin = catalogue.get("albumin-20")
    assert albumin is not None
    ions = document_of(albumin)["composition_mmol_l"]
    assert ions["not_labelled"] == ["chloride"]
    assert "chloride" not in ions


def test_a_source_from_memory_says_so(catalogue: Catalogue) -> None:
    albumin = catalogue.get("albumin-20")
    assert albumin is not None
    assert [source["seen"] for source in document_of(albumin)["source"]] == [True, False]

"""The words under and around the columns."""

from app.catalogue.catalogue import Catalogue
from app.web.fluids.reference import adult_plasma
from app.web.pictures.picture import Picture, ion_picture


def picture(catalogue: Catalogue, *ids: str) -> Picture:
    fluids = tuple(fluid for fluid in map(catalogue.get, ids) if fluid is not None)
    return ion_picture(adult_plasma(), fluids)


def test_plasma_always_comes_first(catalogue: Catalogue) -> None:
    names = [column.name for column in picture(catalogue, "glucose-5").columns]
    assert names == [adult_plasma().name, "5% glucose (UK and Europe)"]


def test_glucose_is_told_in_words_for_it_has_no_height(catalogue: Catalogue) -> None:
    _, glucose = picture(catalogue, "glucose-5").columns
    assert glucose.lines == ("glucose 50 g/L",)
    assert glucose.spoken == "5% glucose (UK and Europe): no ions"
    assert glucose.drawing.empty


def test_a_column_is_read_aloud_whole(catalogue: Catalogue) -> None:
    _, saline = picture(catalogue, "sodium-chloride-0.9").columns
    assert saline.spoken == (
        "0.9% sodium chloride: sodium 154 mmol/L = 154 mEq/L; "
        "chloride 154 mmol/L = 154 mEq/L; strong ion difference 0 mEq/L"
    )


def test_an_unknown_strong_ion_difference_is_said(catalogue: Catalogue) -> None:
    _, albumin = picture(catalogue, "albumin-20").columns
    assert albumin.lines[0] == "strong ion difference not known: no chloride on the label"


def test_every_fluid_of_the_catalogue_can_be_drawn(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        _, column = ion_picture(adult_plasma(), (fluid,)).columns
        sides = [
            sum(b.height for b in column.drawing.blocks if b.x == x)
            for x in (column.drawing.cation_x, column.drawing.anion_x)
        ]
        assert abs(sides[0] - sides[1]) <= 1, fluid.id

"""Which fluid a thing bears as a flush before and after it: by what is known of the two. Pure."""

from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.substance import fluid_substance
from app.lines.flush import SALINE, FlushFluid
from app.review.pairs.things import Thing

GLUCOSE: Final = FlushFluid("dextrose-5", "5% dextrose")
APART: Final = "keep apart"
TOGETHER: Final = "may run together"


def bears_glucose(thing: Thing, book: PairBook, catalogue: Catalogue) -> bool:
    """True for what is known to run with 5% dextrose."""
    return thing.is_understood and _verdicts(thing, GLUCOSE, book, catalogue) == {TOGETHER}


def salt_spoils(thing: Thing, book: PairBook, catalogue: Catalogue) -> bool:
    """True for what a flush of salt solution would spoil, and 5% dextrose does not."""
    spoils = APART in _verdicts(thing, SALINE, book, catalogue)
    return spoils and bears_glucose(thing, book, catalogue)


def _verdicts(thing: Thing, fluid: FlushFluid, book: PairBook, catalogue: Catalogue) -> set[str]:
    """What is known of everything a thing may mean with a fluid; nothing without the fluid."""
    found = catalogue.get(fluid.id)
    if found is None:
        return set()
    with_it = fluid_substance(found)
    return {book.answer(each.substance, with_it).verdict for each in thing.meant}

"""What a drug beside the fluids is made up in, and the catalogue's fluids named as if drugs."""

import re
from typing import Final

from app.catalogue.fluid import Fluid
from app.intake.fluids import FluidReading, NameBook
from app.intake.pace.cut import cut_rate_words
from app.intake.rates import flow_of_words

# Drugs that are a fluid of the catalogue when their strength is named ("albumin 20%").
A_FLUID_ITSELF: Final = frozenset({"albumin", "sodium_chloride"})
FLUSH: Final = re.compile(
    r"\bflush(?:es|ed)?\b"
    r"|\b(?:for |via )?(?:the )?(?:arterial|pressure|monitoring|transducer|cvp)(?: line)?\b"
)
DILUTED_IN: Final = re.compile(
    r"\b(?:diluted (?:in|with)|made up (?:in|to|with)|mixed (?:in|with)"
    r"|reconstituted (?:in|with)|in|with)\b"
)
VOLUME_BEFORE: Final = re.compile(r"^\s*(?:to\s+)?\d+(?:\.\d+)?\s*(?:mls?|cc|l)\s*(?:of\s*)?")
# "in 100 over 30 min", "in 250 NS": a bag's volume without its unit.
BARE_VOLUME: Final = re.compile(
    r"^\s*(\d{2,4})(?=\s|$|[,;)@])(?!\s*(?:mls?|cc|l|mg|g|%|min|h)\b)\s*"
)
ENDS: Final = re.compile(r"(?:$|[,;)@]|(?:over|at|via|q\d+h?|od|bd|tds|qds|daily|stat)\b)")
# "1 g/100 mL": the bag a dose comes in.
IN_A_BAG: Final = re.compile(
    r"\d\s*(?:mg|gm?|mcg|units?|u|iu|mmol|meq)\s*/\s*(\d{2,4})"
    r"(?:\s*(?:mls?|cc)\b|(?=\s*(?:$|@|at\b)))"
)
# What a catalogue fluid brings beside another infusion, by the ion that makes trouble.
MARKS: Final = {
    "calcium": "calcium_mmol_l", "potassium": "potassium_mmol_l", "magnesium": "magnesium_mmol_l",
    "phosphate": "phosphate_mmol_l", "bicarbonate": "bicarbonate_mmol_l", "glucose": "glucose_g_l",
    "lactate": "lactate_mmol_l",
}  # fmt: skip


def diluted(text: str, book: NameBook) -> tuple[str, Fluid | None, float | None]:
    """A folded name parted at "in": the drug, and the fluid it is mixed in when that is one."""
    head, fluid, volume_ml = _parted(text, book)
    bag = IN_A_BAG.search(text) if volume_ml is None else None
    return head, fluid, float(bag[1]) if bag else volume_ml


def _parted(text: str, book: NameBook) -> tuple[str, Fluid | None, float | None]:
    for match in DILUTED_IN.finditer(text):
        tail, head = text[match.end() :], text[: match.start()]
        reading = carrier(tail, book)
        if reading.fluid is None:
            reading = carrier(cut_rate_words(tail)[0], book)
        if reading.fluid and not reading.doses:
            return head, reading.fluid, reading.volume_ml
        volume = VOLUME_BEFORE.match(tail)
        if volume and reading.candidates:
            return head, None, flow_of_words(volume[0], None).volume_ml
        if bare := BARE_VOLUME.match(tail):
            behind = tail[bare.end() :]
            fluid = None if ENDS.match(behind) else carrier(behind, book).fluid
            if fluid or ENDS.match(behind):
                return head, fluid, float(bare[1])
    return text, None, None


def carrier(text: str, book: NameBook) -> FluidReading:
    """The fluid that the words begin with, up to its rate or the next statement."""
    head = re.split(r"\s(?:over|at|@)\s|[,;@]", text.strip())[0]
    return book.read(head)


def fluid_itself(key: str, bare: str, book: NameBook) -> FluidReading:
    """What a drug is that the catalogue lists as a fluid: "flush 0.9% sodium chloride 10 mL"."""
    if key not in A_FLUID_ITSELF:
        return FluidReading()
    return carrier(cut_rate_words(FLUSH.sub(" ", bare).strip())[0], book)


def marks_of(fluid: Fluid) -> frozenset[str]:
    """What a catalogue fluid brings beside another infusion."""
    return frozenset(mark for mark, name in MARKS.items() if getattr(fluid.composition, name) > 0)

"""A problem list cut into sentences and clauses, in the way people punctuate them."""

import re
from collections.abc import Iterator
from typing import Final

# "1. CCF 2. CKD 4": numbers of a list, not of a stage.
NUMBERED: Final = re.compile(r"^\s*\(?1[.)]\s")
NUMBERS: Final = re.compile(r"(?:^|(?<=\s))\(?\d{1,2}[.)]\s+(?=[a-z?#])")
SENTENCES: Final = re.compile(r"[;\n•|]|\.\s+|\.$|\s-{1,2}>\s|\s--\s|\s=>\s|→")
# "?DKA -> excluded": the arrow leads to what became of it.
ARROW_TO_DENIAL: Final = re.compile(
    r"\s*(?:-{1,2}>|=>|→)\s*(?=(?:now |since )?(?:excluded|ruled out|denied|not confirmed|negative"
    r"|unlikely|resolved)\b)"
)
CLAUSES: Final = re.compile(r",(?!\d{3}\b)|\s[/+]\s|\s-{1,2}\s(?=(?:no|nil|not|denies) \w)")
# A bracket that denies speaks of what is in it: "T2DM (no DKA)".
DENYING_BRACKET: Final = re.compile(r"\(\s*((?:no|not|nil|without|never|denies) [^)]*)\)")
# A clause that only says what became of the one before: "head injury, CT normal, excluded".
AFTERTHOUGHT: Final = re.compile(
    r"(?:(?:now|fully|all|both|since|completely|has|have|been|was|is|were|on|ct|mri|scan|normal|by"
    r"|subsequently|later) )*"
    r"(?:excluded|ruled out|resolved|recovered|denied|unlikely|settled|none|negative|no|nil)"
    r"(?: (?:on|by|with|now|ct|mri|lp|scan|imaging|fully|since|years?|ago|\d+))*"
)
ALL_OF_THEM: Final = re.compile(
    r"\b(?:all|both)(?: now)? (excluded|ruled out|denied|negative|resolved)\b"
)


def sentences(text: str) -> Iterator[tuple[str, ...]]:
    """Each sentence of a folded text as its clauses; an afterthought stays with what it is of."""
    if NUMBERED.match(text):
        text = NUMBERS.sub("; ", text)
    text = ARROW_TO_DENIAL.sub(" ", DENYING_BRACKET.sub(r", \1, ", text))
    for sentence in SENTENCES.split(text):
        clauses = tuple(_with_afterthoughts(CLAUSES.split(sentence)))
        if clauses:
            yield clauses


def _with_afterthoughts(clauses: list[str]) -> list[str]:
    kept: list[str] = []
    for clause in (part.strip() for part in clauses):
        if kept and AFTERTHOUGHT.fullmatch(clause):
            kept[-1] = f"{kept[-1]} {clause}"
        elif clause:
            kept.append(clause)
    said = ALL_OF_THEM.search(kept[-1]) if kept else None
    return [*(f"{clause} {said[1]}" for clause in kept[:-1]), kept[-1]] if said else kept

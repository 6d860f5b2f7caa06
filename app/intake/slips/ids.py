"""A name in the form of an id: "saline_0_9", "sodium-bicarbonate-8-4", "saline_855"."""

import re
from collections.abc import Iterator
from typing import Final

AN_ID: Final = re.compile(r"[a-z0-9.]+(?:[_-][a-z0-9.]+)+", re.IGNORECASE | re.ASCII)
# Figures in a row, with the letters they are run together with.
FIGURES: Final = re.compile(r"([a-z]*)(\d+(?:_\d+)+)(?![\d.])", re.IGNORECASE)
# "d3_3" is 3.3% dextrose and "ph7_4" pH 7.4; any other letters keep their figure: "nahco3_8_4".
OF_THE_NEXT: Final = ("", "d", "ph")
# A strength written without its sign is one of two figures at most.
BARE: Final = re.compile(r"(?<![\w.])(\d{1,2}(?:\.\d+)?)(?![\w.])")
AT_END: Final = re.compile(r"(.*[a-z])\s(\d{3,4})", re.IGNORECASE)


def is_id(text: str) -> bool:
    """True for letters and figures held together by underscores or hyphens alone."""
    return AN_ID.fullmatch(text.strip()) is not None


def spoken(text: str) -> str:
    """A text with its underscores as points between figures that are one, and else as blanks."""
    return FIGURES.sub(_apart, text).replace("_", " ") if "_" in text else text


def ways_of_id(text: str, *, strength: bool) -> Iterator[str]:
    """Other words for an id: its hyphens as underscores, and its bare figures as percent.

    strength: whether a bare figure can be one; beside a drug it may be an amount.
    """
    if not is_id(text):
        return
    said = spoken(text.replace("-", "_"))
    if "_" not in text:
        yield said
    percent = BARE.sub(r"\1 %", said)
    if strength and percent != said:
        yield percent


def amount_at_end(text: str) -> tuple[str, float] | None:
    """A name and the amount of a hundred or more that it ends in: what no strength in % is."""
    found = AT_END.fullmatch(text.strip())
    return None if found is None else (found[1], float(found[2]))


def _apart(found: re.Match[str]) -> str:
    letters, figures = found[1], found[2].split("_")
    if letters.lower() in OF_THE_NEXT:
        return letters + " ".join(_numbers(figures))
    return letters + " ".join((figures[0], *_numbers(figures[1:])))


def _numbers(figures: list[str]) -> Iterator[str]:
    """Figures two by two; a nought begins a number where one follows it: "130 0.4"."""
    at = 0
    while at < len(figures):
        after = figures[at + 1 : at + 2]
        begins = after == ["0"] and at + 2 < len(figures)
        if after and not begins:
            yield f"{figures[at]}.{after[0]}"
            at += 2
        else:
            yield figures[at]
            at += 1

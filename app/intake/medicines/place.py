"""Which lumen is meant by the words for its place: "L hand" is "left hand", "distal" of the CVC."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from app.intake.bedside.arrangement import beside_words
from app.intake.fluids import NameBook
from app.intake.request import Problems
from app.intake.vocabulary import fold
from app.patient.access import Lumen
from app.patient.order import CoInfusion, Order, Question

# Short words for a place, each with what it stands for; "" says nothing of the place.
MEANS: Final = {
    **dict.fromkeys(("l", "lt", "lhs"), "left"), **dict.fromkeys(("r", "rt", "rhs"), "right"),
    **dict.fromkeys(("acf", "ac", "antecubital", "cubital", "elbow"), "acf"),
    **dict.fromkeys(("fa", "forearm"), "forearm"), **dict.fromkeys(("dorsum", "hand"), "hand"),
    **dict.fromkeys(("ij", "ijv", "jugular", "neck"), "jugular"),
    **dict.fromkeys(("subclavian", "scv", "subclav"), "subclavian"),
    **dict.fromkeys(("femoral", "fem", "groin"), "femoral"),
    **dict.fromkeys(("cvc", "cvl", "central", "centrally", "cvad"), "central"),
    **dict.fromkeys(("peripheral", "peripherally", "pivc", "piv"), "peripheral"),
    **dict.fromkeys(("dist", "distal"), "distal"),
    **dict.fromkeys(("prox", "proximal"), "proximal"),
    **dict.fromkeys(("mid", "middle", "medial"), "medial"),
    **dict.fromkeys(("1st", "first", "one"), "1"), **dict.fromkeys(("2nd", "second", "two"), "2"),
    **dict.fromkeys(("3rd", "third", "three"), "3"),
    "lh": "left hand", "rh": "right hand", "lacf": "left acf", "racf": "right acf",
    "lfa": "left forearm", "rfa": "right forearm", "rij": "right jugular", "lij": "left jugular",
    "rijv": "right jugular", "lijv": "left jugular", "rsc": "right subclavian",
    "lsc": "left subclavian", "rfv": "right femoral", "lfv": "left femoral",
    **{word: word for word in (
        "arm", "wrist", "foot", "ankle", "leg", "scalp", "umbilical", "uvc", "picc", "midline",
        "left", "right", "brown", "blue", "white", "red", "grey", "lower", "upper", "port",
        "saphenous", "io", "dialysis", "vascath",
    )},
    **dict.fromkeys((
        "lumen", "line", "cannula", "iv", "venous", "catheter", "access", "site", "the", "via",
        "in", "fossa", "internal", "vein", "ivc", "of", "pink", "green", "g", "gauge", "18g",
        "20g", "22g", "24g", "no", "number", "ante",
    ), ""),
}  # fmt: skip
TOKEN: Final = re.compile(r"\d(?:st|nd|rd)\b|\d\dg\b|[a-z]+\d*|\d+")
A_PLACE: Final = re.compile(
    r"(?:\b(?:via|into|in|through|thru|by|on|down|to)\s+(?:the |a |his |her )?|[(,;-]\s*)"
    r"((?:[a-z]+\d*|\d(?:st|nd|rd)?)(?:[ -](?:[a-z]+\d*|\d(?:st|nd|rd)?)){0,4})"
    r"|\b(peripherally|centrally)\b"
)
COLOURS: Final = ("brown", "blue", "white", "red", "grey")
# "1 L" is a volume, and "l" or "r" by itself no side.
LITRE_OR_SIDE: Final = re.compile(r"\d ?l\b|\b[lr]$")
A_LINE: Final = re.compile(r"\b(?:cannula|lumen|line|port|catheter|access)\b")
BY_PLACE: Final = re.compile(
    r"hand|arm|acf|antecub|wrist|foot|ankle|\bp\d|\bc\d|jug|ij\b|ijv|\bl\b|\br\b|left|right|prox|dist"
    r"|cvc|cvl|picc|central|periph|cannula|lumen|line|fem|subcl|brown|blue|white|\blh\b|\brh\b|fa\b"
    r"|lumen|medial|umbil|uvc|midline"
)


def place_words(text: str) -> frozenset[str]:
    """The words of a place in one spelling; those that are no place stay as they are."""
    words: set[str] = set()
    for token in TOKEN.findall(fold(text).replace("-", " ")):
        words.update(MEANS.get(token, token).split())
    return frozenset(words)


def lumens_meant(label: str, access: Sequence[Lumen]) -> tuple[str, ...]:
    """The lumens that a label may mean: the one of that name, or those its place fits."""
    plain = fold(label)
    same = tuple(lumen.id for lumen in access if fold(lumen.id) == plain)
    wanted = place_words(label)
    if same or not wanted:
        return same
    named = [(lumen.id, place_words(lumen.id)) for lumen in access]
    exact = tuple(name for name, words in named if words == wanted)
    if exact:
        return exact
    sites = {lumen.id: frozenset({lumen.site}) for lumen in access}
    fits = tuple(name for name, words in named if wanted <= words | sites[name])
    return fits or tuple(name for name, words in named if words and words <= wanted)


def place_in(text: str, access: Sequence[Lumen]) -> str | None:
    """The one lumen that a folded text places something on: "via RIJ distal"; None when none."""
    for match in A_PLACE.finditer(text):
        words = (match[1] or match[2]).replace("-", " ").split()
        for count in range(len(words), 0, -1):
            label = " ".join(words[:count])
            if _is_place(label, access):
                meant = lumens_meant(label, access)
                if len(meant) == 1:
                    return meant[0]
                break
    return None


def _is_place(label: str, access: Sequence[Lumen]) -> bool:
    """True when every word is one for a place, or the lumen's own name; no bare number."""
    if any(fold(lumen.id) == label for lumen in access):
        return True
    tokens = TOKEN.findall(label)
    places = [token for token in tokens if MEANS.get(token)]
    if not places or not all(token in MEANS or token.isdigit() for token in tokens):
        return False
    sure = any(not MEANS[token].isdigit() and token not in COLOURS for token in places)
    return (sure and not LITRE_OR_SIDE.search(label)) or bool(A_LINE.search(label))


def placed(
    others: Iterable[CoInfusion], orders: Iterable[Order], access: Sequence[Lumen], book: NameBook,
    problems: Problems,
) -> tuple[tuple[CoInfusion, ...], tuple[Order, ...]]:  # fmt: skip
    """Everything on the lumens listed, by whichever words it was written; doubts are asked."""
    listed = {None, *(lumen.id for lumen in access)}
    on_lines = tuple(orders)
    if any(order.lumen not in listed for order in on_lines):
        on_lines = tuple(
            replace(order, lumen=_lumen(order.lumen, access, f"orders[{number}].lumen", problems))
            for number, order in enumerate(orders)
        )
    beside = tuple(
        _placed(other, on_lines, access, book, f"co_infusions[{number}].lumen", problems)
        for number, other in enumerate(others)
    )
    return beside, on_lines


def _placed(  # noqa: PLR0913 - one drug and all that may tell where it runs
    other: CoInfusion, orders: Sequence[Order], access: Sequence[Lumen], book: NameBook,
    field: str, problems: Problems,
) -> CoInfusion:  # fmt: skip
    by_place = book.vocabulary.keep("names a place", other.name, lambda: _names_place(other.name))
    said = place_in(fold(other.name), access) if by_place else None
    if not said and (other.lumen is None or any(one.id == other.lumen for one in access)):
        partner = None if other.lumen else next(_lumen_of_partner(other, orders, book), None)
        return replace(other, lumen=partner) if partner else other
    if other.lumen:
        lumen = _lumen(other.lumen, access, field, problems)
        if said and lumen in {known.id for known in access} and said != lumen:
            ask = f"“{other.name}” names {said}, and {lumen} is filled in. Which is it?"
            problems.questions.append(Question(field, other.lumen, ask, (said, str(lumen))))
        return replace(other, lumen=lumen)
    return replace(other, lumen=said)


def _names_place(name: str) -> bool:
    return bool(BY_PLACE.search(fold(name)))


def _lumen(
    label: str | None, access: Sequence[Lumen], field: str, problems: Problems
) -> str | None:
    """The lumen a label means; as written when it is none of those listed."""
    if not label or not access or any(lumen.id == label for lumen in access):
        return label
    meant = lumens_meant(label, access)
    if len(meant) == 1:
        return meant[0]
    listed = tuple(lumen.id for lumen in access)
    ask = f"Which of the lumens listed is this: {' or '.join(meant or listed)}?"
    problems.questions.append(Question(field, label, ask, meant or listed))
    return None if meant else label


def _lumen_of_partner(
    other: CoInfusion, orders: Sequence[Order], book: NameBook
) -> Iterator[str | None]:
    """The lumen of the one order that it is written to share the line with, by the fluid's name."""
    name = beside_words(other.name) if other.arrangement == "together" else ""
    if not name:
        return
    reading = book.read(name)
    meant = {fluid.id for fluid in (reading.fluid, *reading.candidates) if fluid}
    of_order = [order for order in orders if order.fluid and order.fluid.id in meant]
    if len(of_order) == 1 and len(orders) > 1:
        yield of_order[0].lumen

"""Words as people write them, and the keys they mean.

Built once from seed_data/vocabulary; a look-up is a walk over the words of a text, trying the
longest known phrase first, so its cost does not grow with the vocabulary.
"""

import re
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Final, TypeVar
from unicodedata import combining, normalize

SIGNS: Final = str.maketrans(
    {
        "’": "'", "‘": "'", "`": "'", "´": "'", "′": "'",
        "µ": "u", "μ": "u", "·": ".", "∙": ".", "％": "%", "–": "-", "—": "-", "−": "-", "‑": "-",
        "½": " 1/2 ", "¼": " 1/4 ", "⅕": " 1/5 ", "⅓": " 1/3 ", "×": "x", "\u00a0": " ",
        "₂": "2", "₃": "3", "⁺": "+", "⁻": "-", "²": "2",
    }
)  # fmt: skip
WORD: Final = re.compile(r"\d+(?:\.\d+)?|\.\d+|[a-z]+(?:[0-9]+(?![\d.]))?|[%/+&,;?()=:<>-]")
DECIMAL_COMMA: Final = re.compile(r"(?<=\d),(?=\d{1,2}\s*%)")
APOSTROPHE: Final = re.compile(r"(?<=[a-z])'(?=[a-z]*)")
MAX_TEXT: Final = 2000
KEPT_OF_A_KIND: Final = 5000
T = TypeVar("T")


@lru_cache(maxsize=8192)
def fold(text: str) -> str:
    """A text in one spelling: lower case, plain signs and letters, no apostrophes."""
    plain = text[:MAX_TEXT].translate(SIGNS).lower()
    if not plain.isascii():
        plain = "".join(c for c in normalize("NFKD", plain) if not combining(c))
    return " ".join(DECIMAL_COMMA.sub(".", APOSTROPHE.sub("", plain)).split())


def words_of(text: str) -> tuple[str, ...]:
    """The words, numbers and signs of a text, folded; hyphens between letters part words."""
    return tuple(WORD.findall(fold(text)))


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a phrase stands for: a key, and the marks that go with it."""

    key: str
    marks: frozenset[str] = frozenset()
    data: Mapping[str, Any] = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class Hit:
    """A phrase met in a text: words from start up to (not including) end."""

    start: int
    end: int
    meaning: Meaning


class Phrases:
    """Phrases to meanings; hits() finds the longest known phrase at each place.

    words: the words of every phrase.
    """

    def __init__(self, entries: Iterable[tuple[str, Meaning]]) -> None:
        self._known = {plain_words(words_of(phrase)): meaning for phrase, meaning in entries}
        longest: dict[str, int] = {}
        for phrase in self._known:
            longest[phrase[0]] = max(longest.get(phrase[0], 0), len(phrase))
        self._longest = longest
        self.words = frozenset(word for phrase in self._known for word in phrase)

    def __len__(self) -> int:
        return len(self._known)

    def hits(self, words: tuple[str, ...]) -> Iterator[Hit]:
        """Known phrases in the order they stand, never overlapping."""
        at = 0
        while at < len(words):
            hit = self.hit(words, at)
            if hit:
                yield hit
            at = hit.end if hit else at + 1

    def hit(self, words: tuple[str, ...], at: int) -> Hit | None:
        """The longest known phrase that starts at a place, or None."""
        longest = min(self._longest.get(words[at], 0), len(words) - at)
        for length in range(longest, 0, -1):
            meaning = self._known.get(words[at : at + length])
            if meaning:
                return Hit(at, at + length, meaning)
        return None

    def get(self, phrase: str) -> Meaning | None:
        """The meaning of a whole text, or None."""
        return self._known.get(plain_words(words_of(phrase)))

    @property
    def spellings(self) -> tuple[str, ...]:
        """Every phrase, for suggestions."""
        return tuple(" ".join(phrase) for phrase in self._known)


def plain_words(words: tuple[str, ...]) -> tuple[str, ...]:
    """Without the signs that only part words."""
    return tuple(word for word in words if word not in "-()&:,;?")


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """Every word list in force, ready for look-up."""

    conditions: Phrases
    drugs: Phrases
    fluids: Phrases
    analytes: Phrases
    reasons: Phrases
    loinc: Mapping[str, Mapping[str, Any]]
    parents: Mapping[str, frozenset[str]]
    tables: Mapping[str, Mapping[str, Any]]
    fillers: frozenset[str] = frozenset()
    fluid_fillers: frozenset[str] = frozenset()
    # What has been read once is kept: by kind of reading, then by its words.
    kept: dict[str, Any] = field(default_factory=dict, repr=False)

    def keep(self, kind: str, key: Hashable, make: Callable[[], T]) -> T:
        """What was made for this key before, or what make() gives now."""
        kept: dict[Hashable, T] = self.kept.setdefault(kind, {})
        if key not in kept:
            if len(kept) >= KEPT_OF_A_KIND:
                kept.clear()
            kept[key] = make()
        return kept[key]

    @staticmethod
    def of(tables: Mapping[str, Mapping[str, Any]]) -> "Vocabulary":
        """From parsed TOML by file name: conditions, drugs, medicines, fluids, observations,
        reasons, loinc.
        """
        drugs = {**tables["drugs"]["drug"], **medicines(tables["medicines"]["class"])}
        tables = {**tables, "drugs": {**tables["drugs"], "drug": drugs}}
        conditions = tables["conditions"]["condition"]
        return Vocabulary(
            conditions=Phrases(_entries(conditions)),
            drugs=Phrases(_entries(drugs)),
            fluids=Phrases(_entries(tables["fluids"]["name"])),
            analytes=Phrases(_entries(tables["observations"]["analyte"])),
            reasons=Phrases(_entries(tables["reasons"]["reason"])),
            loinc=tables["loinc"]["code"],
            parents={key: frozenset(entry.get("also", ())) for key, entry in conditions.items()},
            tables=tables,
            fillers=frozenset(tables["conditions"]["fillers"]),
            fluid_fillers=frozenset(tables["fluids"]["fillers"]),
        )


def medicines(classes: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, Any]]:
    """Each medicine as an entry of its own that carries its class as a mark.

    classes: a class with its own `words`, the marks that follow (`also`), and its `drugs`, each
    with its other spellings behind equals signs ("furosemide = frusemide"). A drug in several
    classes carries them all. `is_class` is set on the entry of a class.
    """
    entries: dict[str, dict[str, Any]] = {}
    for name, entry in classes.items():
        also = tuple(entry.get("also", ()))
        own = entries.setdefault(name, {"words": [], "also": [], "is_class": True})
        own["words"] += entry.get("words", ())
        own["also"] += also
        for spellings in entry["drugs"]:
            first, *others = (word.strip() for word in spellings.split("="))
            drug = entries.setdefault(first.replace(" ", "_"), {"words": [], "also": []})
            drug["words"] += others
            drug["also"] += [name, *also]
    return entries


def _entries(table: Mapping[str, Mapping[str, Any]]) -> Iterator[tuple[str, Meaning]]:
    for key, entry in table.items():
        meaning = Meaning(key, frozenset(entry.get("also", ())), entry)
        own = () if "part" in entry else (key.replace("_", " "),)
        for phrase in (*own, *entry.get("words", ())):
            yield phrase, meaning

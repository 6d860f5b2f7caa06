"""What the problem list tells besides conditions: urine, results, and remarks on a sample."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.intake.bedside.samples import Results, in_doubt, remarks_on_samples
from app.intake.bedside.urine import Urine, read_urine
from app.intake.results.in_words import results_in_words
from app.intake.vocabulary import Vocabulary, fold


@dataclass(frozen=True, slots=True)
class Told:
    """The results with what the problem list says of them, and the urine it tells."""

    results: Results
    urine: Urine | None


def told_among_conditions(texts: Sequence[str], results: Results, vocabulary: Vocabulary) -> Told:
    """What the problem list tells besides conditions.

    texts: its entries. results: as sent; a figure among the words never replaces one of them.
    """
    urines = (read_urine(fold(text))[1] for text in texts)
    more = results_in_words(texts, vocabulary, frozenset(results))
    return Told(
        in_doubt({**results, **more}, remarks_on_samples(texts)),
        next((urine for urine in urines if urine), None),
    )

"""What the problem list tells besides conditions: urine, results, and remarks on a sample."""

from dataclasses import dataclass

from app.intake.bedside.samples import Remark, Results, in_doubt, remarks_on_samples
from app.intake.bedside.urine import Urine, read_urine
from app.intake.results.in_words import results_in_words
from app.intake.vocabulary import Vocabulary, fold


@dataclass(frozen=True, slots=True)
class Told:
    """Urine, results and remarks on samples among the conditions."""

    urine: Urine | None
    figures: Results
    remarks: tuple[Remark, ...]

    def with_results(self, sent: Results) -> Results:
        """The results sent and those told; a figure told never replaces one that was sent."""
        if not self.figures and not self.remarks:
            return sent
        return in_doubt({**self.figures, **sent}, self.remarks)


def told_among_conditions(texts: tuple[str, ...], vocabulary: Vocabulary) -> Told:
    """What the entries of a problem list tell besides conditions."""
    return vocabulary.keep("told", texts, lambda: _told(texts, vocabulary))


def _told(texts: tuple[str, ...], vocabulary: Vocabulary) -> Told:
    urines = (read_urine(fold(text))[1] for text in texts)
    return Told(
        next((urine for urine in urines if urine), None),
        results_in_words(texts, vocabulary),
        remarks_on_samples(texts),
    )

import pytest

from app.catalogue.changes.change import (
    Content,
    FluidEntry,
    LimitValue,
    RuleSwitch,
    content_from,
)
from app.catalogue.entry import EntryError


@pytest.mark.parametrize(
    ("content", "subject"),
    [
        (FluidEntry("dextrose-5", {"id": "dextrose-5"}), "fluid:dextrose-5"),
        (FluidEntry("dextrose-5", None), "fluid:dextrose-5"),
        (LimitValue("k-hyper", "high_mmol_l", 5.2), "limit:k-hyper/high_mmol_l"),
        (LimitValue("k-hyper", "high_mmol_l", None), "limit:k-hyper/high_mmol_l"),
        (RuleSwitch("k-hyper", on=False), "rule:k-hyper"),
    ],
)
def test_a_content_is_named_as_the_trail_names_it_and_comes_back_whole(
    content: Content, subject: str
) -> None:
    assert content.subject == subject
    assert content_from(subject, content.as_data()) == content


@pytest.mark.parametrize("subject", ["stock:dextrose-5", "limit:k-hyper", ""])
def test_a_subject_of_no_known_kind_is_refused(subject: str) -> None:
    with pytest.raises(EntryError, match="fluid:ID"):
        content_from(subject, {"value": 1, "document": None, "on": True})

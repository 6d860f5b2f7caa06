"""Which entry counts: what was approved here before what a release says."""

from datetime import UTC, datetime, timedelta

from app.catalogue.changes.change import FluidEntry
from app.catalogue.changes.history import History
from app.catalogue.changes.versions import FluidVersion, documents_at, local_entries, said_otherwise
from tests.changing import approved

NOW = datetime(2026, 2, 1, tzinfo=UTC)
DAY = timedelta(days=1)


def entry(name: str, sodium: int) -> dict[str, object]:
    return {"id": "a", "name": name, "composition_mmol_l": {"sodium": sodium}}


FIRST = FluidVersion("a", entry("of the first release", 130), NOW, "1", 1)
SECOND = FluidVersion("a", entry("of the second release", 131), NOW + 5 * DAY, "2", 2)
GONE = FluidVersion("a", None, NOW + 7 * DAY, "3", 3)
OWN = approved(FluidEntry("a", entry("our own", 132)), NOW + DAY)


def test_a_release_counts_from_its_load_on_and_may_take_a_fluid_out() -> None:
    versions = (FIRST, SECOND, GONE)
    names = [documents_at(versions, History(), NOW + d * DAY) for d in (-1, 0, 5, 7)]
    assert [one.get("a", {}).get("name") for one in names] == [
        None, "of the first release", "of the second release", None,
    ]  # fmt: skip


def test_of_two_loads_at_one_moment_the_later_counts() -> None:
    twice = FluidVersion("a", entry("loaded again", 130), NOW, "1", 2)
    assert documents_at((twice, FIRST), History(), NOW)["a"]["name"] == "loaded again"


def test_what_was_approved_here_stays_whatever_a_release_says() -> None:
    history = History((OWN,))
    for days in (2, 6, 8):
        found = documents_at((FIRST, SECOND, GONE), history, NOW + days * DAY)
        assert found["a"]["name"] == "our own"


def test_a_fluid_of_our_own_needs_no_release_and_may_be_taken_out() -> None:
    new = approved(FluidEntry("b", {"id": "b", "name": "new"}), NOW, number=2)
    out = approved(FluidEntry("a", None), NOW, number=3)
    history = History((new, out))
    assert list(documents_at((FIRST,), history, NOW + DAY)) == ["b"]
    assert set(local_entries(history, NOW + DAY)) == {"a", "b"}


def test_where_the_release_says_otherwise_is_told_field_by_field() -> None:
    (one,) = said_otherwise((FIRST, SECOND), History((OWN,)), NOW + 6 * DAY)
    assert one.version is SECOND
    assert [str(d) for d in one.differences] == [
        "name: our own, then of the second release", "sodium, mmol/L: 132, then 131",
    ]  # fmt: skip


def test_a_release_that_says_the_same_is_no_note() -> None:
    same = FluidVersion("a", entry("our own", 132), NOW + 5 * DAY, "2", 2)
    assert said_otherwise((FIRST, same), History((OWN,)), NOW + 6 * DAY) == ()

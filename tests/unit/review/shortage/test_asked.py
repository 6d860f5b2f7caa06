"""A rehearsal as asked; whatever is wrong is told by field, value and what is accepted."""

from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from app.catalogue.catalogue import Catalogue
from app.review.shortage.asked import Asked, read_asked
from tests.conftest import NOW

Read = Callable[..., Asked]


@pytest.fixture
def read(catalogue: Catalogue) -> Read:
    """read(lost=[…], share="60", …)"""

    def made(now: datetime = NOW, **given: str | list[str]) -> Asked:
        many = {k.rstrip("_"): v if isinstance(v, list) else [v] for k, v in given.items()}
        return read_asked(many, catalogue, now)

    return made


def test_nothing_picked_is_no_loss_and_no_fault(read: Read) -> None:
    asked = read()
    assert asked.loss is None
    assert asked.faults == ()
    assert read(share="60").loss is None


def test_empty_fields_are_the_usual_all_from_now_for_a_week(read: Read) -> None:
    loss = read(lost="sodium-chloride-0.9", share="", from_="", days="").loss
    assert (loss.share, loss.starts, loss.days) == (1.0, NOW, 7)
    assert not (loss.shelf_too or loss.smaller or loss.told_only)


def test_every_field_is_read(read: Read) -> None:
    loss = read(
        lost=["sodium-chloride-0.9", "lactated-ringers@1000"], share="60 %",
        from_="2031-03-05 07:00", days="14 days", shelf="1", smaller="1", here="1",
    ).loss  # fmt: skip
    assert loss.keys == ("sodium-chloride-0.9", "lactated-ringers@1000")
    assert loss.share == pytest.approx(0.6)
    assert loss.starts == NOW + timedelta(days=1)
    assert loss.days == 14
    assert loss.shelf_too and loss.smaller and loss.told_only


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("1,000 mL bags of 0.9% sodium chloride", "sodium-chloride-0.9@1000"),
        ("1 L bags of 0.9% sodium chloride", "sodium-chloride-0.9@1000"),
        ("500 mL lactated Ringer's (US)", "lactated-ringers@500"),
        ("0.9% SODIUM CHLORIDE", "sodium-chloride-0.9"),
        ("potassium-chloride-concentrate", "potassium-chloride-concentrate"),
    ],
)
def test_words_typed_become_ids(read: Read, words: str, key: str) -> None:
    asked = read(add=words)
    assert asked.picked == (key,)
    assert asked.loss.keys == (key,)


@pytest.mark.parametrize(
    ("given", "field", "accepted"),
    [
        ({"add": "holy water of Delphi zzz"}, "add", "name of a fluid"),
        ({"add": "750 mL bags of 0.9% sodium chloride"}, "add", "comes in: 250 mL, 500 mL"),
        ({"add": "ringers"}, "add", "one of:"),
        ({"lost": "no-such-fluid"}, "lost", "id of a fluid"),
        ({"lost": "sodium-chloride-0.9@123"}, "lost", "pack size"),
        ({"lost": "sodium-chloride-0.9@"}, "lost", "pack size"),
        ({"lost": "<script>"}, "lost", "id of a fluid"),
        *(({"share": share}, "share", "above 0 and at most 100") for share in
          ("0", "-5", "101", "100.5", "half", "60 L", "1e2", "6,0", "٦٠", "nan")),
        *(({"days": days}, "days", "1 to 90") for days in
          ("0", "-1", "91", "1.5", "two", "7 bags", "999999999999")),
        *(({"from": moment}, "from", "not past") for moment in
          ("yesterday", "2031-03-04 06:59", "2032-06-01", "25:00", "2031-02-30")),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_and_nothing_is_rehearsed(
    read: Read, given: dict[str, str], field: str, accepted: str
) -> None:  # fmt: skip
    asked = read(**{"lost": ["sodium-chloride-0.9"], **{f"{k}_": v for k, v in given.items()}}
                 if "lost" not in given else given)  # fmt: skip
    assert asked.loss is None
    assert [fault.field for fault in asked.faults] == [field]
    assert accepted in asked.faults[0].accepted
    assert asked.faults[0].value == next(iter(given.values()))


def test_all_faults_are_told_at_once_and_what_was_typed_is_kept(read: Read) -> None:
    asked = read(lost="nope", share="140", days="0", from_="soon", add="??")
    assert {fault.field for fault in asked.faults} == {"lost", "share", "days", "from", "add"}
    assert asked.typed["share"] == "140"


def test_more_fluids_than_a_unit_has_are_not_picked(read: Read, catalogue: Catalogue) -> None:
    asked = read(lost=[fluid.id for fluid in catalogue][:21])
    assert asked.faults[0].value == "21 fluids"
    assert read(lost=[fluid.id for fluid in catalogue][:20]).loss is not None


def test_a_fluid_picked_whole_takes_in_its_sizes_in_either_order(read: Read) -> None:
    for keys in (["lactated-ringers", "lactated-ringers@500"],
                 ["lactated-ringers@500", "lactated-ringers"]):  # fmt: skip
        assert read(lost=keys).loss.keys == ("lactated-ringers",)


def test_a_time_without_a_zone_is_the_units(read: Read) -> None:
    here = NOW.astimezone(ZoneInfo("Europe/Berlin"))
    loss = read(now=here, lost="lactated-ringers", from_="2031-03-04T09:00").loss
    assert loss.starts == NOW + timedelta(hours=1)
    far = NOW.astimezone(timezone(timedelta(hours=-8)))
    loss = read(now=far, lost="lactated-ringers", from_="2031-03-04T12:00+00:00").loss
    assert loss.starts == NOW + timedelta(hours=5)


def test_the_minute_that_runs_is_not_past(read: Read) -> None:
    late = NOW + timedelta(seconds=40)
    assert read(now=late, lost="lactated-ringers", from_="2031-03-04 07:00").loss is not None

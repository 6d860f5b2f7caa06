"""`ringside purge`."""

import json
import os
from collections.abc import Iterator

import pytest
from sqlalchemy import Engine, func, select, update

from app.cli import main
from app.storage.audit.reading import ANY, read_acts
from app.storage.database import connect, reading, transaction
from app.storage.tables import LumenToldRow, UnitRow


@pytest.fixture
def unit(monkeypatch: pytest.MonkeyPatch) -> Iterator[Engine]:
    """The demo unit, in which everything is dated after today; one lumen of somebody gone."""
    monkeypatch.delenv("RINGSIDE_KEEP_DAYS", raising=False)
    main(["migrate"])
    engine = connect(os.environ["RINGSIDE_DATABASE_URL"])
    with transaction(engine) as session:
        session.execute(update(UnitRow).values(fixed_now=None))
        session.add(
            LumenToldRow(
                patient_id="gone", lumen="left hand", state="failed", by="J.B.",
                at=func.current_timestamp(),
            )
        )  # fmt: skip
    yield engine
    engine.dispose()


def told(engine: Engine) -> int:
    with reading(engine) as session:
        return session.scalar(select(func.count()).select_from(LumenToldRow)) or 0


def test_what_goes_is_counted_and_recorded_without_a_word_of_whom(
    unit: Engine, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["purge", "--days", "30"]) == 0
    assert "Taken away: 0 patients, 1 lumens told of" in capsys.readouterr().out
    assert told(unit) == 0
    with reading(unit) as session:
        act = read_acts(session, ANY, 1)[0]
    assert (act.act, act.subject) == ("purged", "patients")
    after = json.loads(act.after or "")
    assert (after["days kept"], after["lumens told of"]) == (30, 1)
    assert "gone" not in (act.after or "")


def test_asked_only_to_say_it_keeps_everything(
    unit: Engine, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["purge", "--days", "30", "--only-say"]) == 0
    assert "Would be taken away: 0 patients, 1 lumens told of" in capsys.readouterr().out
    assert told(unit) == 1


def test_where_nothing_goes_no_act_is_recorded(unit: Engine) -> None:
    main(["purge", "--days", "30"])
    main(["purge", "--days", "30"])
    with reading(unit) as session:
        assert len([a for a in read_acts(session, ANY, 100) if a.act == "purged"]) == 1


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ([], "set RINGSIDE_KEEP_DAYS"),
        (["--days", "0"], "0 days are not accepted"),
        (["--days", "6"], "6 days are not accepted"),
        (["--days", "99999"], "99999 days are not accepted"),
    ],
)
def test_without_a_time_to_keep_nothing_goes(
    unit: Engine, asked: list[str], why: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["purge", *asked]) == 2
    told_why = capsys.readouterr().err
    assert why in told_why and "accepted: 7 to 3650 days" in told_why
    assert told(unit) == 1


def test_the_setting_is_used_where_no_days_are_given(
    unit: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("RINGSIDE_KEEP_DAYS", "30")
    assert main(["purge"]) == 0
    assert told(unit) == 0

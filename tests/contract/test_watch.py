"""What watches every test would see what it is there for."""

import logging
import tomllib
from datetime import UTC, datetime

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, text

from app.storage.audit.trail import record
from app.storage.database import connect, migrate, transaction
from tests import watch
from tests.watch import EAR, leaked, words_of_patients


def test_patients_of_the_demo_have_words_of_their_own() -> None:
    words = words_of_patients()
    assert len(words) > 50
    assert "bed-07" in words


@pytest.mark.parametrize(
    "text", ["GET /patients/bed-07", "bed 07, M.K.: called", "M.K. (07) is dry", "no patient here"]
)
def test_a_bed_beside_its_initials_is_a_word_of_a_patient(text: str) -> None:
    text = text.replace("M.K.", _initials("bed-07"))
    assert bool(leaked(text)) == (text != "no patient here")


def _initials(stem: str) -> str:
    patient = tomllib.loads((watch.PATIENTS / f"{stem}.toml").read_text("utf-8"))
    return str(patient["initials"])


def test_a_word_of_a_patient_in_any_record_is_heard() -> None:
    word = min(words_of_patients())
    logging.getLogger("app.somewhere").debug("reviewed %s", word)
    logging.getLogger("elsewhere").error("could not read %s", word)
    heard = list(EAR.heard)
    EAR.heard.clear()
    assert len(heard) == 2


def test_a_page_that_writes_without_an_act_is_noticed(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    engine = connect(f"sqlite:///{tmp_path_factory.mktemp('silent') / 'unit.db'}")
    migrate(engine)
    assert _noticed(engine, acts=False) == ["POST /tell wrote stock and no act"]
    assert _noticed(engine, acts=True) == []
    engine.dispose()


def _noticed(engine: Engine, *, acts: bool) -> list[str]:
    app, at = FastAPI(), datetime(2031, 3, 4, tzinfo=UTC)

    @app.post("/tell")
    def tell() -> None:
        with transaction(engine) as session:
            session.execute(
                text(
                    "INSERT INTO stock (fluid_id, state, since, note, by) VALUES ('a','b',:a,'','')"
                ),
                {"a": "2031-03-04 00:00:00.000000"},
            )
            if acts:
                record(session, at=at, who="x", account_id="x", act="told stock", subject="stock:a")

    watching = watch.watched()
    silent = next(watching)
    TestClient(app).post("/tell")
    next(watching, None)
    return silent

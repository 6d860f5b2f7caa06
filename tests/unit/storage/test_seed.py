"""Loading is told file by file, and loading twice changes nothing."""

import logging
import shutil
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, Table, select

from app.catalogue.stock.stock import StockState
from app.storage.changes.release import Told
from app.storage.database import reading, transaction
from app.storage.fluids import read_catalogue
from app.storage.patients import read_bed, read_beds, read_unit
from app.storage.seed import seed
from app.storage.seed_files import SEED_DATA
from app.storage.stock import read_stock, tell_stock
from app.storage.tables import Base, SeedRunRow

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the seed data with few fluids, to be spoiled by a test."""
    made = tmp_path / "seed_data"
    shutil.copytree(SEED_DATA / "demo", made / "demo")
    shutil.copytree(SEED_DATA / "fluids", made / "fluids")
    return made


def load(engine: Engine, folder: Path, *, demo: bool = True, now: datetime = NOW) -> list[Told]:
    with transaction(engine) as session:
        return list(seed(session, now=now, demo=demo, folder=folder))


def outcomes(told: list[Told]) -> Counter[str]:
    return Counter(line.outcome for line in told)


def rows(engine: Engine) -> dict[str, list[tuple[object, ...]]]:
    def of(table: Table) -> list[tuple[object, ...]]:
        with reading(engine) as session:
            return [tuple(row) for row in session.execute(select(table))]

    return {table.name: of(table) for table in Base.metadata.sorted_tables}


def test_everything_is_loaded_at_first(engine: Engine, folder: Path) -> None:
    told = load(engine, folder)
    files = len(list((folder / "fluids").iterdir())) + len(("unit", "stock", "counts")) + 25
    assert outcomes(told) == {"loaded": files}


def test_loading_twice_changes_nothing_at_all(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    before = rows(engine)
    told = load(engine, folder, now=NOW + timedelta(days=1))
    assert set(outcomes(told)) == {"unchanged"}
    assert rows(engine) == before


def test_without_demo_mode_no_patient_is_loaded(engine: Engine, folder: Path) -> None:
    load(engine, folder, demo=False)
    with reading(engine) as session:
        assert read_unit(session) is None
        assert len(read_catalogue(session, NOW)) > 50


def test_a_changed_fluid_is_told_and_read_from_then_on(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    path = folder / "fluids" / "dextrose-5.toml"
    path.write_text(path.read_text().replace("note = ", "note = 'Local. ' #"), encoding="utf-8")
    assert [str(t) for t in load(engine, folder) if t.outcome != "unchanged"] == [
        "changed: dextrose-5.toml"
    ]
    with reading(engine) as session:
        fluid = read_catalogue(session, NOW).get("dextrose-5")
    assert fluid is not None
    assert fluid.note == "Local. "


def test_a_comment_is_no_change(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    path = folder / "demo" / "patients" / "bed-01.toml"
    path.write_text("# A word more.\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    assert set(outcomes(load(engine, folder))) == {"unchanged"}


def test_a_faulty_fluid_is_refused_by_field_and_what_was_held_stays(
    engine: Engine, folder: Path
) -> None:
    load(engine, folder)
    path = folder / "fluids" / "sodium-chloride-0.9.toml"
    path.write_text(path.read_text().replace("sodium = 154", "sodium = -154"), encoding="utf-8")
    refused = [line for line in load(engine, folder) if line.outcome == "refused"]
    assert [line.file for line in refused] == ["sodium-chloride-0.9.toml"]
    assert "composition_mmol_l.sodium: -154" in refused[0].detail
    assert "0 or more" in refused[0].detail
    with reading(engine) as session:
        fluid = read_catalogue(session, NOW).get("sodium-chloride-0.9")
    assert fluid is not None
    assert fluid.composition.sodium_mmol_l == 154


def test_bad_toml_is_refused_with_its_line(engine: Engine, folder: Path) -> None:
    (folder / "fluids" / "dextrose-5.toml").write_text('id = "dextrose-5"\nname = \n')
    refused = [line for line in load(engine, folder) if line.outcome == "refused"]
    assert "line 2" in str(refused[0])


def test_a_fluid_whose_file_is_gone_is_removed_and_told(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    (folder / "fluids" / "dextrose-5.toml").unlink()
    assert "removed: dextrose-5.toml" in map(str, load(engine, folder))
    with reading(engine) as session:
        assert read_catalogue(session, NOW).get("dextrose-5") is None


def test_a_faulty_bed_is_refused_and_the_others_are_loaded(engine: Engine, folder: Path) -> None:
    path = folder / "demo" / "patients" / "bed-03.toml"
    text = path.read_text(encoding="utf-8").replace("rate_ml_h = 83", 'rate_ml_h = "8o"')
    path.write_text(text, encoding="utf-8")
    told = load(engine, folder)
    refused = [line for line in told if line.outcome == "refused"]
    assert [line.file for line in refused] == ["bed-03.toml"]
    assert "orders[1].rate_ml_h: '8o' is not accepted; accepted: a number" in refused[0].detail
    with reading(engine) as session:
        assert len(read_beds(session, "harbour-ward")) == 24


def test_a_changed_bed_replaces_the_old_one(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    path = folder / "demo" / "patients" / "bed-01.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("5.6", "5.2"), encoding="utf-8")
    assert [str(t) for t in load(engine, folder) if t.outcome != "unchanged"] == [
        "changed: bed-01.toml"
    ]
    with reading(engine) as session:
        bed = read_bed(session, "bed-01")
    assert bed is not None
    values = [o["value"] for o in bed.request["patient"]["observations"]]
    assert 5.2 in values
    assert 5.6 not in values


def test_a_bed_that_is_gone_is_removed(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    (folder / "demo" / "patients" / "bed-24.toml").unlink()
    assert "removed: bed-24.toml" in map(str, load(engine, folder))
    with reading(engine) as session:
        assert read_bed(session, "bed-24") is None


def test_a_renamed_unit_is_told(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    path = folder / "demo" / "unit.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("Harbour", "Hill"), encoding="utf-8")
    assert "changed: unit.toml" in map(str, load(engine, folder))
    with reading(engine) as session:
        unit = read_unit(session)
    assert unit is not None
    assert unit.name.startswith("Hill")


def test_a_faulty_unit_is_refused_and_its_beds_are_not_touched(
    engine: Engine, folder: Path
) -> None:
    load(engine, folder)
    (folder / "demo" / "unit.toml").write_text("zone = 3\n", encoding="utf-8")
    assert [t.file for t in load(engine, folder) if t.outcome != "unchanged"] == ["unit.toml"]
    with reading(engine) as session:
        assert len(read_beds(session, "harbour-ward")) == 25


def told_of(engine: Engine, fluid_id: str) -> str:
    with reading(engine) as session:
        return read_stock(session).of(fluid_id).state


def test_the_demo_stock_is_told_and_without_demo_mode_none_is(engine: Engine, folder: Path) -> None:
    load(engine, folder, demo=False)
    assert told_of(engine, "sodium-chloride-0.9") == "not told"
    load(engine, folder)
    assert told_of(engine, "sodium-chloride-0.9") == "on the ward"


def test_loading_again_does_not_undo_what_was_told_on_a_page(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    with transaction(engine) as session:
        tell_stock(session, "sodium-chloride-0.9", StockState("out", NOW, "lorry late"))
    assert set(outcomes(load(engine, folder))) == {"unchanged"}
    assert told_of(engine, "sodium-chloride-0.9") == "out"


def test_a_changed_stock_file_is_told_anew(engine: Engine, folder: Path) -> None:
    load(engine, folder)
    path = folder / "demo" / "stock.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('"short"', '"out"'), encoding="utf-8")
    assert [str(t) for t in load(engine, folder) if t.outcome != "unchanged"] == [
        "changed: stock.toml"
    ]
    assert told_of(engine, "compound-sodium-lactate") == "out"


def test_a_faulty_stock_file_is_refused_by_field_and_the_beds_are_loaded(
    engine: Engine, folder: Path
) -> None:
    path = folder / "demo" / "stock.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('"short"', '"few"'), encoding="utf-8")
    refused = [str(line) for line in load(engine, folder) if line.outcome == "refused"]
    assert len(refused) == 1
    assert "stock.toml: told[5].state: 'few' is not accepted" in refused[0]
    assert told_of(engine, "sodium-chloride-0.9") == "not told"


def test_a_unit_without_a_stock_file_was_told_nothing(engine: Engine, folder: Path) -> None:
    (folder / "demo" / "stock.toml").unlink()
    assert "refused" not in outcomes(load(engine, folder))
    assert told_of(engine, "sodium-chloride-0.9") == "not told"


def test_what_a_run_did_is_kept(engine: Engine, folder: Path) -> None:
    load(engine, folder, demo=False)
    (folder / "fluids" / "dextrose-5.toml").unlink()
    load(engine, folder, demo=False, now=NOW + timedelta(hours=1))
    with reading(engine) as session:
        runs = session.execute(select(SeedRunRow.at, SeedRunRow.told).order_by(SeedRunRow.id)).all()
    assert len(runs[0].told) > 50
    assert runs[1] == (NOW + timedelta(hours=1), ["removed: dextrose-5.toml"])


def test_no_word_about_a_patient_reaches_a_log_or_the_lines_told(
    engine: Engine, folder: Path, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.DEBUG):
        told = load(engine, folder)
    said = "\n".join([*map(str, told), *(record.getMessage() for record in caplog.records)])
    assert "bed-04.toml" in said
    assert "kidney injury" not in said
    assert "D.P." not in said

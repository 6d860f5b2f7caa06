"""Draw the pictures that README shows: `make pictures`, over a fresh demo unit."""

import importlib
import importlib.util
import io
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

import uvicorn
from playwright.sync_api import sync_playwright

from app.main import create_app
from app.security.acts import Role
from app.settings import Settings
from app.storage.database import connect, migrate, transaction
from app.storage.seed import seed
from tests.conftest import LOADED
from tests.people import COOKIE, key_for

FOLDER: Final = Path(__file__).resolve().parents[2] / "static" / "pictures"
CHROMIUM: Final = "/usr/bin/chromium"
DESK: Final = {"width": 1280, "height": 900}
LARGEST_BYTES: Final = 250 * 1024
COLOURS: Final = 128
STARTS_WITHIN_S: Final = 30
PAGES: Final = {
    "shift": "/",
    "compare": "/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers"
    "&fluid=multiple-electrolytes-type-1-ph-7.4",
    "order": "/orders/new?patient=bed-04&fluid=0.9%25+sodium+chloride&volume=1000&rate=125"
    "&additive=potassium+chloride&amount=40&unit=mmol&purpose=maintenance",
}


def main() -> None:
    """Every picture, each light enough for a page of text."""
    FOLDER.mkdir(exist_ok=True)
    with TemporaryDirectory() as folder, served(Path(folder)) as (address, key):
        for name, picture in drawn(address, key):
            if len(picture) > LARGEST_BYTES:
                raise SystemExit(f"{name}.png would be {len(picture):,} bytes")
            (FOLDER / f"{name}.png").write_bytes(picture)


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, str]]:
    """The app on a free port over a demo unit of its own; yields its address, and a nurse's key."""
    url = f"sqlite:///{folder / 'unit.db'}"
    engine = connect(url)
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    engine.dispose()
    with socket.create_server(("127.0.0.1", 0)) as listener:
        app = create_app(Settings(database_url=url, demo=True))
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", ws="none"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
        thread.start()
        until = time.monotonic() + STARTS_WITHIN_S
        while not server.started and time.monotonic() < until:
            time.sleep(0.05)
        yield f"http://127.0.0.1:{listener.getsockname()[1]}", key_for(app.state.engine, Role.NURSE)
        server.should_exit = True
        thread.join(STARTS_WITHIN_S)


def drawn(address: str, key: str) -> Iterator[tuple[str, bytes]]:
    """Each page as it first stands on a desk's screen, by name."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport=DESK, device_scale_factor=1, color_scheme="light")  # type: ignore[arg-type]
        page.context.add_cookies([{"name": COOKIE, "value": key, "url": address}])
        for name, path in PAGES.items():
            page.goto(address + path)
            page.evaluate("document.fonts.ready")
            yield name, light(page.screenshot())
        browser.close()


def light(png: bytes) -> bytes:
    """The same picture in fewer colours, where Pillow is at hand; it is not one of our packages."""
    if importlib.util.find_spec("PIL") is None:
        return png
    image = importlib.import_module("PIL.Image").open(io.BytesIO(png)).convert("RGB")
    out = io.BytesIO()
    image.quantize(COLOURS, dither=0).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    main()

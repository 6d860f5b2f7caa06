"""The house holds itself to its sizes and its shape (DEVELOPERS.md, "Sizes")."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
APP_FILES = sorted(p for p in (ROOT / "app").rglob("*.py") if p.name != "__init__.py")
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))

FILE_LINES = 300
FUNCTION_LINES = 40
FUNCTION_LINES_WEB = 30
TEMPLATE_LINES = 150
FOLDER_FILES = 12

# Splits refused, each with its reason.
FULL_FOLDERS: dict[str, str] = {}
# Files without a test of their own name, each with what tests them.
TESTED_ELSEWHERE: dict[str, str] = {
    "app/cautions/rule.py": "plain data; tests/unit/cautions/test_examples.py reads every field",
    "app/cautions/registry.py": "tests/unit/cautions/test_examples.py",
    "app/cautions/cited.py": "plain data; tests/unit/cautions/test_examples.py reads the sources",
    "app/cautions/data_rules.py": "plain data; tests/unit/review/missing/test_asked.py",
    "app/patient/access.py": "plain data",
    "app/patient/case.py": "tests/unit/cautions/test_examples.py",
    "app/catalogue/source.py": "plain data",
    "app/storage/people/tables.py": "plain tables; tests/unit/storage/test_tables.py",
    "app/web/account/views.py": "plain data; tests/unit/web/account/test_sign_in.py",
    "app/api/shapes.py": "tests/contract/test_interfaces.py",
    "app/api/predict_shapes.py": "tests/contract/test_interfaces.py",
    "app/api/line_plan_shapes.py": "tests/contract/test_interfaces.py",
}
TOP_LEVEL = {
    ".ci", ".git", ".gitignore", "CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "Makefile",
    "README.md", "app", "migrations", "pyproject.toml", "requirements-dev.lock",
    "requirements.lock", "seed_data", "static", "templates", "tests",
}  # fmt: skip
MADE_HERE = {".venv", "var", "build", "ringside.egg-info", ".mypy_cache", ".ruff_cache"}
MADE_HERE |= {".pytest_cache", ".hypothesis", ".import_linter_cache", "__pycache__"}


def relative(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def functions(path: Path) -> Iterator[ast.FunctionDef]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    yield from (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def body_lines(function: ast.FunctionDef) -> int:
    body = function.body
    if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
        body = body[1:]
    return 0 if not body else (body[-1].end_lineno or 0) - body[0].lineno + 1


@pytest.mark.parametrize("path", APP_FILES, ids=relative)
def test_a_file_is_short_enough_to_read_at_once(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= FILE_LINES


@pytest.mark.parametrize("path", APP_FILES, ids=relative)
def test_a_function_fits_on_a_screen(path: Path) -> None:
    edge = relative(path).startswith(("app/web/", "app/api/"))
    limit = FUNCTION_LINES_WEB if edge else FUNCTION_LINES
    too_long = [f.name for f in functions(path) if body_lines(f) > limit]
    assert not too_long


@pytest.mark.parametrize("path", TEMPLATES, ids=relative)
def test_a_template_is_short_enough(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= TEMPLATE_LINES


def test_a_folder_holds_at_most_a_dozen_files() -> None:
    folders = {path.parent for path in APP_FILES}
    full = {
        relative(folder)
        for folder in folders
        if len([p for p in folder.glob("*.py") if p.name != "__init__.py"]) > FOLDER_FILES
    }
    assert full == set(FULL_FOLDERS)


@pytest.mark.parametrize("path", APP_FILES, ids=relative)
def test_a_file_has_its_test(path: Path) -> None:
    name = relative(path)
    mirror = ROOT / "tests/unit" / path.relative_to(ROOT / "app").parent / f"test_{path.name}"
    if name.startswith("app/cautions/families/"):
        pytest.skip("families are tested by their examples, tests/unit/cautions/test_examples.py")
    assert mirror.exists() != (name in TESTED_ELSEWHERE), f"{name}: {relative(mirror)} is missing"


CORE = ("chemistry", "catalogue", "patient", "intake", "physiology", "lines", "cautions")


@pytest.mark.parametrize(
    "path", [p for p in APP_FILES if relative(p).split("/")[1] in CORE], ids=relative
)
def test_every_public_function_of_the_core_says_what_it_does(path: Path) -> None:
    silent = [
        f.name for f in functions(path) if not f.name.startswith("_") and not ast.get_docstring(f)
    ]
    assert not silent


def test_the_top_level_holds_only_what_is_agreed() -> None:
    found = {p.name for p in ROOT.iterdir()} - MADE_HERE
    assert found <= TOP_LEVEL, found - TOP_LEVEL


def test_the_tests_outweigh_the_source() -> None:
    def lines(paths: Iterator[Path]) -> int:
        return sum(len(p.read_text(encoding="utf-8").splitlines()) for p in paths)

    source = lines(iter(APP_FILES))
    # Data cases: rule examples, panel cases, and the demo's beds, each held to its story by a test.
    data = [*(ROOT / "seed_data/rule_examples").glob("*"), *(ROOT / "tests").rglob("*.toml")]
    data += (ROOT / "seed_data/demo/patients").glob("*")
    tests = lines((ROOT / "tests").rglob("*.py")) + lines(iter(data))
    assert tests >= source

"""`make fluid`, `make rule`, `make page`: copy a commented skeleton together with its test."""

import sys
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
HERE: Final = Path(__file__).resolve().parent

# skeleton -> where it goes; NAME is the name given, SNAKE the same as a Python name.
PLACES: Final = {
    "fluid": {"fluid.toml": "seed_data/fluids/NAME.toml"},
    "rule": {
        "rule.py.txt": "app/cautions/families/SNAKE.py",
        "rule.toml": "seed_data/rule_examples/SNAKE.toml",
    },
    "page": {
        "page.py.txt": "app/web/SNAKE.py",
        "page.html": "templates/SNAKE/SNAKE.html",
        "page_list.html": "templates/SNAKE/_list.html",
        "test_page.py.txt": "tests/unit/web/test_SNAKE.py",
    },
}
NEXT: Final = {
    "fluid": "Fill in composition and source, then: make check-data",
    "rule": "Add one line to app/cautions/registry.py, then: pytest -k NAME; make fix",
    "page": "Include its router in app/main.py, then: make test",
}


def copy(kind: str, name: str, root: Path = ROOT) -> list[Path]:
    """Copy every skeleton of a kind for a name; refuses to write over a file that is there."""
    snake = name.replace("-", "_").replace(".", "_")
    written = []
    for skeleton, place in PLACES[kind].items():
        target = root / place.replace("NAME", name).replace("SNAKE", snake)
        if target.exists():
            raise SystemExit(f"{target.relative_to(root)} is there already")
        text = (HERE / skeleton).read_text(encoding="utf-8")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text.replace("NAME", name).replace("SNAKE", snake), encoding="utf-8")
        written.append(target)
    return written


if __name__ == "__main__":
    if len(sys.argv) < 3 or sys.argv[1] not in PLACES or not sys.argv[2]:
        raise SystemExit("say what to call it, for example: make fluid NAME=ringers-acetate-2")
    for path in copy(sys.argv[1], sys.argv[2]):
        print(path.relative_to(ROOT))
    print(NEXT[sys.argv[1]].replace("NAME", sys.argv[2]))

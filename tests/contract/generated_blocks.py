"""The blocks of DEVELOPERS.md that are made from the code: `make fix` writes them."""

import re
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

from app.cautions.registry import RULES
from app.chemistry.substances import IONS
from app.cli import command_line
from app.main import create_app
from app.settings import SETTINGS_HELP, read_settings
from tests.contract.routes import routes_of

ROOT: Final = Path(__file__).resolve().parents[2]
DEVELOPERS: Final = ROOT / "DEVELOPERS.md"
MARK: Final = re.compile(r"(<!-- made: (\w+) -->\n)(.*?)(<!-- end -->)", re.DOTALL)


def table(head: list[str], rows: list[list[str]]) -> str:
    """A Markdown table."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join("| " + " | ".join(cells) + " |\n" for cells in lines)


def rules() -> str:
    """Every rule: id, levels, what triggers it, limits."""
    rows = [
        [
            f"`{rule.id}`",
            ", ".join(rule.levels),
            rule.trigger,
            "; ".join(f"{limit.name} {limit.value:g} {limit.unit}" for limit in rule.limits),
        ]
        for rule in RULES
    ]
    return table(["rule", "levels", "trigger", "limits"], rows)


def glossary() -> str:
    """Every ion: key, symbol, charge, molar mass, what it becomes."""
    rows = [
        [
            ion.key,
            ion.symbol,
            "not fixed" if ion.charge is None else f"{ion.charge:+d}",
            f"{ion.molar_mass_g_mol:g}",
            f"{ion.bicarbonate_yield:g}" if ion.bicarbonate_yield else "",
        ]
        for ion in IONS
    ]
    return table(["ion", "symbol", "charge", "g/mol", "mol bicarbonate from one mol"], rows)


def routes() -> str:
    """Every route, with the first line of what it says it does."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{folder}/routes.db"
        app = create_app(read_settings({"RINGSIDE_DATABASE_URL": url}))
    rows = []
    for route in routes_of(app):
        said = (route.endpoint.__doc__ or "").strip().splitlines()
        verbs = ", ".join(sorted(route.methods - {"HEAD"}))
        rows.append([verbs, f"`{route.path}`", said[0] if said else ""])
    return table(["method", "path", "does"], sorted(rows, key=lambda r: (r[1], r[0])))


def settings() -> str:
    """Every environment variable."""
    return table(["variable", "means"], [[f"`{k}`", v] for k, v in SETTINGS_HELP.items()])


def commands() -> str:
    """The command line's own help."""
    return f"```\n{command_line().format_help().rstrip()}\n```\n"


BLOCKS: Final[dict[str, Callable[[], str]]] = {
    "rules": rules,
    "glossary": glossary,
    "routes": routes,
    "settings": settings,
    "commands": commands,
}


def rewritten(text: str) -> str:
    """The document with every block made anew."""
    return MARK.sub(lambda m: m[1] + BLOCKS[m[2]]() + m[4], text)


if __name__ == "__main__":
    current = DEVELOPERS.read_text(encoding="utf-8")
    fresh = rewritten(current)
    if "--write" in sys.argv and fresh != current:
        DEVELOPERS.write_text(fresh, encoding="utf-8")

"""Whatever is written into the database on a page is written into the trail as well."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.storage.audit import acts
from app.web.audit.sentences import DID
from app.web.audit.subjects import KINDS

APP = Path(__file__).resolve().parents[2] / "app"
# What records: the function's name, and where its act and subject stand when not named.
RECORDING = {"record": (None, None), "noted": (2, 3)}


def calls() -> Iterator[tuple[str, ast.Module, ast.Call]]:
    for path in sorted(APP.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            named = isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
            if named and node.func.id in RECORDING:  # type: ignore[attr-defined, union-attr]
                yield path.relative_to(APP).as_posix(), tree, node  # type: ignore[misc]


def argument(call: ast.Call, name: str, place: int | None) -> ast.expr | None:
    given = next((word.value for word in call.keywords if word.arg == name), None)
    if given is None and place is not None and len(call.args) > place:
        return call.args[place]
    return given


def texts(node: ast.expr | None, tree: ast.Module) -> Iterator[str]:
    """Every text that an expression can come to, as far as reading the file tells."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Name) and hasattr(acts, node.id):
        yield getattr(acts, node.id)
    elif isinstance(node, ast.Name | ast.Subscript):
        name = node.id if isinstance(node, ast.Name) else getattr(node.value, "id", "")
        for part in ast.walk(tree):
            target = getattr(part, "target", None)
            if isinstance(part, ast.AnnAssign) and getattr(target, "id", "") == name:
                value = part.value
                yield from texts_of(value.values if isinstance(value, ast.Dict) else [value], tree)
    elif isinstance(node, ast.IfExp):
        yield from texts_of([node.body, node.orelse], tree)


def texts_of(nodes: list[ast.expr | None] | list[ast.expr], tree: ast.Module) -> Iterator[str]:
    for node in nodes:
        yield from texts(node, tree)


def kind(node: ast.expr | None) -> str:
    """The kind of subject, where it is written out: "stock" of f"stock:{fluid_id}"."""
    if isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
        return str(node.values[0].value).partition(":")[0]
    if isinstance(node, ast.Constant):
        return str(node.value).partition(":")[0]
    return ""


RECORDED = [
    (file, text)
    for file, tree, call in calls()
    for text in texts(argument(call, "act", RECORDING[call.func.id][0]), tree)  # type: ignore[attr-defined]
]


def test_acts_are_recorded_in_many_places() -> None:
    assert len({file for file, _ in RECORDED}) >= 5


@pytest.mark.parametrize(("file", "act"), RECORDED)
def test_every_act_that_is_recorded_has_a_sentence(file: str, act: str) -> None:
    assert act in DID, f"{file} records “{act}”: give it words in app/web/audit/sentences.py"


def test_every_act_that_we_name_has_a_sentence() -> None:
    assert {value for name, value in vars(acts).items() if name.isupper()} <= set(DID)


@pytest.mark.parametrize(
    ("file", "found"),
    [
        (file, kind(argument(call, "subject", RECORDING[call.func.id][1])))  # type: ignore[attr-defined]
        for file, _, call in calls()
    ],
)
def test_every_kind_of_subject_is_one_that_somebody_may_read_of(file: str, found: str) -> None:
    assert found in KINDS | {""}, f"{file}: say in app/web/audit/subjects.py who may read of it"

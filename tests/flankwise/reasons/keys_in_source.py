"""Which rows of the table the source asks for, read from its syntax trees."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from flankwise.reasons.table import rows

ROOT = Path(__file__).parents[3]
FLOORS = ("threads", "vision", "calib", "flankwise", "records", "cli", "gui")
LOWER = ("threads", "vision", "calib", "records")


HELPERS = {
    "fault": (1, "own_table.", set()),
    "_whole": (0, "own_table.", set()),
    "refuse": (0, "table_invalid.", {"name", "row"}),
    "UnknownDesignationError": (1, "unknown_designation.", {"text", "offer"}),
    "BrokenOwnSeriesError": (1, "own_series_broken.", {"path", "name"}),
}
"""Calls that put a key together: which argument is the case, what stands before it, what values they give besides."""


@dataclass(frozen=True)
class Asked:
    """One call that makes a reason: a key that it asks for, and the names of the values it gives.

    ``names`` is None where they are handed over as a dict.
    """

    file: str
    line: int
    key: str
    names: frozenset[str] | None


def trees(floors: tuple[str, ...]) -> Iterator[tuple[str, ast.Module]]:
    """Every module of the floors with its tree."""
    for floor in floors:
        for path in sorted((ROOT / floor).rglob("*.py")):
            yield path.relative_to(ROOT).as_posix(), _tree(path)


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def asked() -> tuple[Asked, ...]:
    """Every call of Reason and of an error of reasons with a key in it, once for each key that it can ask for."""
    makers = {"Reason", "__init__", *_reasoned_errors()} - set(HELPERS)
    found: list[Asked] = []
    for file, tree in trees(FLOORS):
        for node, function in _calls(tree):
            name = _name(node.func)
            at, before, more = HELPERS.get(name, (0, "", set()))
            if name not in {*makers, *HELPERS} or len(node.args) <= at:
                continue
            names = {keyword.arg for keyword in node.keywords}
            given = None if None in names else frozenset({str(name) for name in names} | more)
            keys = [before + key for part in _branches(node.args[at]) for key in _keys(part, before, function, tree)]
            found += [Asked(file, node.lineno, key, given) for key in keys]
    return tuple(dict.fromkeys(found))


def literals() -> set[str]:
    """Every string in the source: the cases that patterns are filled with are among them."""
    return {
        node.value
        for _, tree in trees(FLOORS)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def spoken(floors: tuple[str, ...]) -> Iterator[tuple[str, int, str]]:
    """Every string that is no docstring: file, line, text."""
    for file, tree in trees(floors):
        docs = {
            id(statement.value)
            for node in ast.walk(tree)
            if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
            for statement in node.body
            if isinstance(statement, ast.Expr)
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
                yield file, node.lineno, node.value


def _reasoned_errors() -> set[str]:
    """ReasonedError and all that are made of it; classes stand at the top of a module."""
    classes = [node for _, tree in trees(FLOORS) for node in tree.body if isinstance(node, ast.ClassDef)]
    known, before = {"ReasonedError"}, 0
    while len(known) > before:
        before = len(known)
        known |= {one.name for one in classes if any(_name(base) in known for base in one.bases)}
    return known


def _calls(tree: ast.Module) -> Iterator[tuple[ast.Call, ast.AST]]:
    """Every call with the innermost function that it stands in."""
    left: list[tuple[ast.AST, ast.AST]] = [(tree, tree)]
    while left:
        node, function = left.pop()
        if isinstance(node, ast.Call):
            yield node, function
        inner = node if isinstance(node, ast.FunctionDef) else function
        left += [(child, inner) for child in ast.iter_child_nodes(node)]


def _branches(node: ast.expr) -> Iterator[ast.expr]:
    if isinstance(node, ast.IfExp):
        yield from _branches(node.body)
        yield from _branches(node.orelse)
    else:
        yield node


def _keys(node: ast.expr, before: str, function: ast.AST, tree: ast.Module) -> Iterator[str]:
    """The keys, less ``before``, that an argument can be: an f-string is filled with what stands near it."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str) and re.fullmatch(r"[a-z][\w.]*", node.value):
        yield node.value
    if not isinstance(node, ast.JoinedStr):
        return
    parts = (re.escape(str(v.value)) if isinstance(v, ast.Constant) else r"(\w*)" for v in node.values)
    pattern = re.compile("".join(parts))
    for near in (function, tree):
        texts = {
            n.value for n in ast.walk(near) if isinstance(n, ast.Constant) and isinstance(n.value, str) and n.value
        }
        texts |= {n.name for n in ast.walk(near) if isinstance(n, ast.FunctionDef)}
        found = [
            key.removeprefix(before)
            for key in rows()
            if key.startswith(before) and (m := pattern.fullmatch(key.removeprefix(before)))
            if all(_composed(text, texts) for text in m.groups())
        ]
        if found:
            yield from found
            return


def _composed(text: str, of: set[str]) -> bool:
    """Whether ``text`` is made of one or more of the strings."""
    return not text or any(text.startswith(piece) and _composed(text[len(piece) :], of) for piece in of)


def _name(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else getattr(node, "attr", "")

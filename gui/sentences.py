"""The sentences that come from downstairs, collected from the source for whoever translates them.

    python -m gui.sentences     writes gui/translations/sentences.py anew

Refusals and warnings are taken from where they are made, advice and answers from the modules that make nothing else.
What a sentence is filled with at run time stands in it as {0}, {1} and so on, in its order.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from threads.identify import evidence
from threads.shared.quantity_words import OF_SECTIONS
from vision.fit import budget, rejected
from vision.part import sections
from vision.several.impression import SHRINKAGE
from vision.several.weighted_mean import REPEATABILITY

ROOT = Path(__file__).parents[1]
TARGET = Path(__file__).parent / "translations" / "sentences.py"
FLOORS = ("threads", "vision", "calib", "records")
TELLS = {"RefusalError", "Reason"}
ADVICE = (
    "threads/workshop/closer_die.py",
    "threads/judge/die_advice.py",
    "threads/identify/grouping.py",
    "threads/identify/identification.py",
    "threads/identify/identity_words.py",
    "threads/judge/judgement.py",
    "threads/workshop/play_words.py",
    "threads/identify/provenance.py",
    "threads/judge/check_part.py",
    "threads/shared/typed.py",
)
_ERRORS = re.compile(r"Error$")


def pattern_of(node: ast.expr) -> str | None:
    """The text of a literal, {0}, {1} ... for what is put in; None for anything that is not one."""
    parts = _parts(node)
    if parts is None:
        return None
    text, number = "", 0
    for part in parts:
        if part is None:
            text += f"{{{number}}}"
            number += 1
        else:
            text += part
    return text


def _parts(node: ast.expr) -> list[str | None] | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return [node.value]
    if isinstance(node, ast.JoinedStr):
        return [str(v.value) if isinstance(v, ast.Constant) else None for v in node.values]
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        left, right = _parts(node.left), _parts(node.right)
        if left is None and right is None:
            return None
        return [*(left or [None]), *(right or [None])]
    return None


def words() -> list[str]:
    """Single words from downstairs that are shown as they are: verdicts, kinds of sections, reasons, sources of u."""
    told = (
        *(evidence.INSIDE, evidence.ABOVE, evidence.BELOW, evidence.CANNOT_TELL, evidence.NOT_JUDGED),
        *(evidence.NOT_RESOLVED, evidence.ROUND_NOT_FLAT, evidence.FLAT_NOT_ROUND),
        *sections.KINDS,
        *(text for _, text in OF_SECTIONS),
        *(rejected.LIES_ON, rejected.MISSING, rejected.SHINES, rejected.WORN, rejected.BURNT),
        *(budget.NOISE_AND_FORM, budget.LOCAL_FORM, budget.BLUR_SHAPE, budget.HEIGHT, budget.OPEN_FORM, budget.GAUGES),
        *(budget.TEMPERATURE, budget.MIRRORED_BY_PINS, budget.MIRRORED_BY_FLANKS, budget.CONE, SHRINKAGE),
        *(REPEATABILITY, "{0}, full bound"),
    )
    return sorted(set(told))


def sentences() -> list[str]:
    """Every sentence, each once, in alphabetical order."""
    found: set[str] = set()
    for floor in FLOORS:
        for path in sorted((ROOT / floor).rglob("*.py")):
            tree = ast.parse(path.read_text("utf-8"))
            found.update(_told(tree))
            if path.relative_to(ROOT).as_posix() in ADVICE:
                found.update(_advice(tree))
    return sorted({*(text for text in found if _is_sentence(text)), *words()})


def _told(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            at = 1 if name in TELLS else 0 if _ERRORS.search(name) else None
            if at is not None and len(node.args) > at:
                for branch in _branches(node.args[at]):
                    text = pattern_of(branch)
                    if text:
                        yield text


def _branches(node: ast.expr) -> Iterator[ast.expr]:
    if isinstance(node, ast.IfExp):
        yield from _branches(node.body)
        yield from _branches(node.orelse)
    else:
        yield node


def _advice(tree: ast.Module) -> Iterator[str]:
    """Every literal that is no docstring and not part of a larger one."""
    passed: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)):
            passed.update(id(s.value) for s in node.body if isinstance(s, ast.Expr))
    for node in ast.walk(tree):
        if isinstance(node, (ast.BinOp, ast.JoinedStr)):
            passed.update(id(inner) for inner in ast.walk(node) if inner is not node)
    for node in ast.walk(tree):
        if isinstance(node, ast.expr) and id(node) not in passed:
            text = pattern_of(node)
            if text:
                yield text


def _is_sentence(text: str) -> bool:
    """At least two words of letters beside what is put in: keys, names and formats are none."""
    return len(re.findall(r"[A-Za-z]{2,}", re.sub(r"\{\d+\}", " ", text))) >= 2 and " " in text.strip()


def source() -> str:
    """The module of sentences, as the translator's tool reads it."""
    lines = [
        '"""Sentences from downstairs, for the translator\'s tool; written by gui/sentences.py."""',
        "",
        "from PySide6.QtCore import QT_TRANSLATE_NOOP",
        "",
        "SENTENCES = (",
        *(f'    QT_TRANSLATE_NOOP("said", {_quoted(text)}),' for text in sentences()),
        ")",
        "",
    ]
    return "\n".join(lines)


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


if __name__ == "__main__":
    TARGET.write_text(source(), "utf-8")
    sys.stdout.write(f"{TARGET.name}: {len(sentences())} sentences\n")

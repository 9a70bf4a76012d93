"""What the program says: plain sentences that say what to do."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.rules.markup import words
from tests.rules.tree import ROOT, modules, syntax, templates

UNWANTED = re.compile(
    r"\b(?:invalid|forbidden|please|oops|sorry|this field is required)\b|[a-z]!(?=\s|$)", re.IGNORECASE
)
QUOTED = re.compile(r"""(["'`])((?:(?!\1)[^\n])*\s(?:(?!\1)[^\n])*)\1""")


def sentences(module: ast.Module) -> Iterator[tuple[int, str]]:
    """Text in a module, without docstrings; a word alone is a key or a code."""
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(module)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(module):
        if id(node) not in docstrings and isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value


def report(faults: list[str]) -> None:
    assert not faults, "\n" + "\n".join(faults)


def said(path: Path | str, line: int | str, text: str) -> list[str]:
    return [f"{path}:{line}: {found[0]!r} in {text.strip()[:80]!r}" for found in UNWANTED.finditer(text)]


@pytest.mark.parametrize(
    "text", ["Invalid date.", "Please enter a date.", "This field is required.", "Saved!", "Oops, that went wrong."]
)
def test_an_unwanted_word_is_seen(text: str) -> None:
    assert UNWANTED.search(text)


@pytest.mark.parametrize("text", ["Enter a date.", "3! = 6, a != b", "The pleased commissioner.", "Use `x!r`."])
def test_other_words_are_left_alone(text: str) -> None:
    assert not UNWANTED.search(text)


def test_templates_say_what_to_do() -> None:
    assert templates()
    report(
        [
            fault
            for path in templates()
            if path.suffix in (".html", ".txt")
            for line in words(path.read_text(encoding="utf-8")).splitlines()
            for fault in said(path.relative_to(ROOT), "", line)
        ]
    )


def test_messages_say_what_to_do() -> None:
    found = [
        (path, line, text)
        for path in modules().values()
        for line, text in sentences(syntax(path))
        if " " in text.strip()
    ]
    assert len(found) > 100
    report([fault for path, line, text in found for fault in said(path.relative_to(ROOT), line, text)])


def test_scripts_say_what_to_do() -> None:
    paths = sorted((ROOT / "static" / "js").rglob("*.js"))
    assert paths
    report(
        [
            fault
            for path in paths
            for found in QUOTED.finditer(path.read_text(encoding="utf-8"))
            for fault in said(path.relative_to(ROOT), "", found[2])
        ]
    )

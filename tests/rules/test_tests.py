"""No test is left out, run again until it passes, or bound to a clock."""

import ast
import re

from tests.rules.tree import ROOT, syntax

LEFT_OUT = re.compile(r"\b(?:skip|skipif|xfail|importorskip|flaky|reruns)\b")


def test_no_test_is_left_out() -> None:
    paths = [path for path in sorted((ROOT / "tests").rglob("*.py")) if path.name.startswith(("test_", "conftest"))]
    assert len(paths) > 10
    faults = [
        f"{path.relative_to(ROOT)}:{node.lineno}: {node.attr}"
        for path in paths
        for node in ast.walk(syntax(path))
        if isinstance(node, ast.Attribute) and LEFT_OUT.fullmatch(node.attr)
    ]
    assert not faults, "\n" + "\n".join(faults)

"""The program's own source as the rule tests see it: modules, what they import, templates."""

import ast
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("studio", "materials", "jobs")


@dataclass(frozen=True, slots=True)
class Import:
    """One imported module: its full name, the line, whether inside a function, whether for type checkers only."""

    name: str
    line: int
    function: str | None
    for_types_only: bool


@cache
def modules() -> dict[str, Path]:
    """Every module of the program by its dotted name, without migrations."""
    found = {}
    for package in PACKAGES:
        for path in sorted((ROOT / package).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            if "migrations" not in parts:
                found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


@cache
def syntax(path: Path) -> ast.Module:
    """The module's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def within(name: str, prefix: str) -> bool:
    """Whether a dotted name is the prefix or lies below it."""
    return name == prefix or name.startswith(f"{prefix}.")


def is_ours(name: str) -> bool:
    """Whether a module belongs to the program."""
    return name.partition(".")[0] in PACKAGES


@cache
def imports(module: str) -> tuple[Import, ...]:
    """Everything a module imports, submodules by their full name."""
    path = modules()[module]
    found: list[Import] = []

    def visit(node: ast.AST, function: str | None, for_types_only: bool) -> None:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Import):
                found.extend(Import(alias.name, child.lineno, function, for_types_only) for alias in child.names)
            elif isinstance(child, ast.ImportFrom):
                base = _base(module, path, child)
                for alias in child.names:
                    full = f"{base}.{alias.name}"
                    found.append(Import(full if full in modules() else base, child.lineno, function, for_types_only))
            elif isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
                visit(child, child.name, for_types_only)
            elif isinstance(child, ast.If) and ast.unparse(child.test).endswith("TYPE_CHECKING"):
                visit(child, function, True)
            else:
                visit(child, function, for_types_only)

    visit(syntax(path), None, False)
    return tuple(dict.fromkeys(found))


def _base(module: str, path: Path, node: ast.ImportFrom) -> str:
    if not node.level:
        return node.module or ""
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    for _ in range(node.level - 1):
        package = package.rpartition(".")[0]
    return f"{package}.{node.module}" if node.module else package


@cache
def templates() -> tuple[Path, ...]:
    """Every template, pages and documents alike."""
    return tuple(sorted(path for path in (ROOT / "templates").rglob("*") if path.is_file()))

"""Two installations are the same, and every setting is described where a studio looks for it."""

import re
import sys
from importlib.metadata import packages_distributions

from tests.rules.tree import ROOT, imports, is_ours, modules

PIN = re.compile(r"(?P<name>[A-Za-z0-9._-]+)(?:\[[a-z,-]+\])?==(?P<version>[0-9][A-Za-z0-9.]*)")
FILES = ("requirements.txt", "tests/requirements.txt")


def pins(file: str) -> dict[str, str]:
    """What a requirements file pins, by the package's folded name; any other line fails."""
    found = {}
    for raw in (ROOT / file).read_text(encoding="utf-8").splitlines():
        line = raw.partition("#")[0].strip()
        if line and line != "-r ../requirements.txt":
            pin = PIN.fullmatch(line)
            assert pin, f"{file}: {line!r} is not an exact pin"
            found[folded(pin["name"])] = pin["version"]
    return found


def folded(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def test_every_package_is_pinned_once_and_exactly() -> None:
    running, testing = (pins(file) for file in FILES)
    assert len(running) > 20
    assert set(running) & set(testing) == set()


def test_every_package_that_the_program_imports_is_pinned_for_running() -> None:
    running = pins("requirements.txt")
    owners = packages_distributions()
    faults = set()
    for module in modules():
        for found in imports(module):
            root = found.name.partition(".")[0]
            if root in sys.stdlib_module_names or is_ours(found.name) or found.for_types_only:
                continue
            if not {folded(owner) for owner in [root, *owners.get(root, [])]} & set(running):
                faults.add(f"{module}:{found.line}: {root} is not in requirements.txt")
    assert not faults, "\n" + "\n".join(sorted(faults))


def test_every_package_asked_for_is_used() -> None:
    text = (ROOT / "requirements.txt").read_text(encoding="utf-8").partition("# What these need in turn")[0]
    asked = {folded(found["name"]) for found in map(PIN.match, text.splitlines()) if found}
    assert len(asked) > 15
    # Settings name apps and middleware as text; the database driver is loaded by its URL.
    source = "\n".join(path.read_text(encoding="utf-8") for path in modules().values())
    roots: dict[str, set[str]] = {name: {name.replace("-", "_")} for name in asked}
    for root, names in packages_distributions().items():
        for owner in names:
            roots.setdefault(folded(owner), set()).add(root)
    unused = [
        name for name in asked - {"psycopg"} if not any(re.search(rf"\b{root}\b", source) for root in roots[name])
    ]
    assert unused == []


def test_every_setting_is_described_in_the_example() -> None:
    settings = (ROOT / "studio" / "settings.py").read_text(encoding="utf-8")
    read = set(re.findall(r'env\.\w+\(os\.environ, "([A-Z_]+)"', settings))
    example = (ROOT / ".env.example").read_text(encoding="utf-8")
    described = set(re.findall(r"^([A-Z_]+)=", example, flags=re.MULTILINE))
    assert "SECRET_KEY" in read
    assert described == read


def test_the_example_holds_no_secret() -> None:
    assert re.search(r"^SECRET_KEY=$", (ROOT / ".env.example").read_text(encoding="utf-8"), flags=re.MULTILINE)

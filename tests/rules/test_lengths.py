"""No file so long that nobody can hold it in mind."""

from tests.rules.tree import ROOT

LONGEST = 420
FOLDERS = ("studio", "materials", "jobs", "templates", "static", "tests", ".ci")
KINDS = {".py", ".html", ".css", ".js", ""}


def test_no_file_is_longer_than_can_be_held_in_mind() -> None:
    lengths = {
        path.relative_to(ROOT): len(path.read_text(encoding="utf-8").splitlines())
        for folder in FOLDERS
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and path.suffix in KINDS and "__pycache__" not in path.parts
    }
    assert len(lengths) > 50
    long = [f"{path}: {length} lines" for path, length in sorted(lengths.items()) if length > LONGEST]
    assert not long, "\n" + "\n".join(long)

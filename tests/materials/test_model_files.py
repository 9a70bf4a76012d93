"""Model files are kept by their digest, whole or not at all."""

import hashlib
from pathlib import Path

import pytest

from materials.models import ModelFile
from materials.services.model_files import NotKept, keep_model_file
from studio.accounts.models import User
from tests.factories import make_person

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _own_media(settings: pytest.FixtureRequest, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path  # type: ignore[attr-defined]


@pytest.fixture
def tam() -> User:
    return make_person("office")


def test_it_is_kept_under_its_digest_readable_by_its_owner_alone(tam: User) -> None:
    kept = keep_model_file(by=tam, name="../../etc/figure.STL", chunks=[b"solid ", b"figure"])
    assert kept.sha256 == hashlib.sha256(b"solid figure").hexdigest()
    assert (kept.name, kept.format, kept.size) == ("figure.STL", "stl", 12)
    assert kept.path.read_bytes() == b"solid figure"
    assert kept.path.stat().st_mode & 0o077 == 0


def test_the_same_bytes_are_kept_once(tam: User) -> None:
    first = keep_model_file(by=tam, name="a.stl", chunks=[b"same"])
    second = keep_model_file(by=tam, name="b.stl", chunks=[b"same"])
    assert first == second
    assert ModelFile.objects.count() == 1


@pytest.mark.parametrize(
    ("name", "chunks", "told"),
    [
        ("figure.step", [b"x"], "ends in .stl, .obj, .ply, .3mf or .glb"),
        ("figure.stl", [], "is empty"),
        ("figure.stl", [b"x" * 60_000_000, b"x" * 60_000_000], "at most 100 MB"),
    ],
)
def test_what_cannot_be_read_is_refused_and_leaves_nothing(
    tam: User, tmp_path: Path, name: str, chunks: list[bytes], told: str
) -> None:
    with pytest.raises(NotKept, match=told):
        keep_model_file(by=tam, name=name, chunks=chunks)
    assert not ModelFile.objects.exists()
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_full_disk_is_told_and_leaves_nothing(tam: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_room(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", no_room)
    with pytest.raises(NotKept, match="Make room"):
        keep_model_file(by=tam, name="figure.stl", chunks=[b"x"])
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []

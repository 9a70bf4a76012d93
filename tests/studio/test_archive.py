"""The file of a backup: whole or refused."""

import hashlib
import json
import zipfile
from pathlib import Path

import pytest

from studio.archive import DIGEST_SIGNS, FORMAT, LIST, NotWhole, is_plain, read_manifest, unpack, write_archive


@pytest.fixture
def backup(tmp_path: Path) -> Path:
    (tmp_path / "one").write_bytes(b"rows" * 500)
    (tmp_path / "two").write_bytes(b"")
    target = tmp_path / "studio.zip"
    write_archive(target, [("database", tmp_path / "one"), ("media/models/ab", tmp_path / "two")], {"made": "now"})
    return target


def sealed(target: Path, names: list[str], listed: list[str] | None = None, **values: object) -> Path:
    """A file with a right digest that this program would never write."""
    with zipfile.ZipFile(target, "w") as archive:
        for name in names:
            # By an entry of its own: from a name alone, Python before 3.12 cannot write the empty one.
            archive.writestr(zipfile.ZipInfo(name), b"rows")
        digest = hashlib.sha256(b"rows").hexdigest()
        files = dict.fromkeys(names if listed is None else listed, digest)
        archive.writestr(LIST, json.dumps({"format": FORMAT, "files": files, **values}))
        archive.comment = b"0" * DIGEST_SIGNS
    content = target.read_bytes()[:-DIGEST_SIGNS]
    target.write_bytes(content + hashlib.sha256(content).hexdigest().encode())
    return target


def test_what_is_written_is_read_and_unpacked_again(backup: Path, tmp_path: Path) -> None:
    manifest = read_manifest(backup)
    assert manifest.about == {"made": "now"}
    unpack(backup, manifest, tmp_path / "out")
    assert (tmp_path / "out" / "database").read_bytes() == b"rows" * 500
    assert (tmp_path / "out" / "media" / "models" / "ab").read_bytes() == b""


def test_any_program_for_zip_files_opens_it(backup: Path) -> None:
    with zipfile.ZipFile(backup) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["database", "media/models/ab", LIST]


def test_nobody_else_can_read_it(backup: Path) -> None:
    assert backup.stat().st_mode & 0o077 == 0


def test_one_flipped_bit_anywhere_is_seen(backup: Path) -> None:
    content = backup.read_bytes()
    for place in range(len(content)):
        broken = bytearray(content)
        broken[place] ^= 1 << (place % 8)
        backup.write_bytes(broken)
        with pytest.raises(NotWhole, match="damaged, cut short, or no backup"):
            read_manifest(backup)


def test_a_file_cut_short_anywhere_is_seen(backup: Path) -> None:
    content = backup.read_bytes()
    for length in [*range(0, len(content), 7), len(content) - 1]:
        backup.write_bytes(content[:length])
        with pytest.raises(NotWhole, match="damaged, cut short, or no backup"):
            read_manifest(backup)


def test_what_is_there_already_is_not_overwritten(backup: Path, tmp_path: Path) -> None:
    before = backup.read_bytes()
    with pytest.raises(FileExistsError):
        write_archive(backup, [("database", tmp_path / "one")], {})
    assert backup.read_bytes() == before


def test_a_backup_that_fails_leaves_nothing_behind(tmp_path: Path) -> None:
    target = tmp_path / "studio.zip"
    with pytest.raises(IsADirectoryError):
        write_archive(target, [("database", tmp_path)], {})
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_has_gone_meanwhile_is_left_out(tmp_path: Path) -> None:
    written = write_archive(tmp_path / "studio.zip", [("media/gone", tmp_path / "gone")], {})
    assert written.digests == {}
    assert read_manifest(tmp_path / "studio.zip") == written


@pytest.mark.parametrize(
    "name", ["../up", "media/../../up", "/etc/passwd", "media//two", "media/./x", "a\\..\\b", "c:x", "media/", "", "."]
)
def test_a_name_that_leads_elsewhere_is_refused(name: str, tmp_path: Path) -> None:
    assert not is_plain(name)
    with pytest.raises(NotWhole, match="names a place outside of its own"):
        read_manifest(sealed(tmp_path / "studio.zip", [name]))


@pytest.mark.parametrize(
    ("names", "listed"), [(["database", "more"], ["database"]), (["database"], ["database", "more"])]
)
def test_a_list_that_does_not_fit_is_refused(names: list[str], listed: list[str], tmp_path: Path) -> None:
    with pytest.raises(NotWhole, match="does not hold what its list names"):
        read_manifest(sealed(tmp_path / "studio.zip", names, listed))


def test_a_file_that_does_not_agree_with_its_digest_is_refused(tmp_path: Path) -> None:
    target = sealed(tmp_path / "studio.zip", ["database"], files={"database": "0" * 64})
    with pytest.raises(NotWhole, match="does not agree with its digest"):
        unpack(target, read_manifest(target), tmp_path / "out")


def test_a_later_form_is_refused(tmp_path: Path) -> None:
    target = sealed(tmp_path / "studio.zip", ["database"], format="mouldwright backup 2")
    with pytest.raises(NotWhole, match="another version of the program"):
        read_manifest(target)


def test_any_other_file_is_refused(tmp_path: Path) -> None:
    other = tmp_path / "other"
    content = b"not a zip at all"
    other.write_bytes(content + hashlib.sha256(content).hexdigest().encode())
    with pytest.raises(NotWhole, match="no backup of this program"):
        read_manifest(other)

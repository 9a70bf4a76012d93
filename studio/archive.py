"""The one file of a backup: a ZIP that any program opens, with a digest of every file and one of the whole.

The list of digests lies inside. The digest of everything before it is the
ZIP's own comment, its last 64 signs, so that one flipped bit anywhere, or a
missing end, is seen before anything is unpacked.
"""

import hashlib
import json
import os
import tempfile
import zipfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO, Any

FORMAT = "mouldwright backup 1"
LIST = "manifest.json"
DIGEST_SIGNS = 64
BLOCK = 1 << 20
LONGEST_LIST = 1 << 28
"""Bytes of the list that are read into memory: room for a million files."""


class NotWhole(ValueError):
    """The file is no backup, or is damaged; in one sentence."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a backup says of itself, and the digest of each file by its name."""

    about: Mapping[str, Any]
    digests: Mapping[str, str]


def write_archive(target: Path, files: Iterable[tuple[str, Path]], about: Mapping[str, Any]) -> Manifest:
    """Write a backup beside its name, and give it the name when it is whole; what is there already stays.

    A file that has gone since it was listed is left out.
    """
    with target.open("xb"):
        pass
    handle, name = tempfile.mkstemp(prefix=".backup-", dir=target.parent)
    try:
        with os.fdopen(handle, "w+b") as file:
            digests = _fill(file, files, about)
            _seal(file)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, target)
    except BaseException:
        os.unlink(name)
        target.unlink()
        raise
    return Manifest(about, digests)


def _fill(file: IO[bytes], files: Iterable[tuple[str, Path]], about: Mapping[str, Any]) -> dict[str, str]:
    digests: dict[str, str] = {}
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, path in files:
            try:
                source = path.open("rb")
            except FileNotFoundError:
                continue
            with source, archive.open(name, "w", force_zip64=True) as entry:
                digests[name] = _copied(source, entry)
        listed = {"format": FORMAT, **about, "files": digests}
        archive.writestr(LIST, json.dumps(listed, indent=1, sort_keys=True))
        archive.comment = b"0" * DIGEST_SIGNS
    return digests


def _seal(file: IO[bytes]) -> None:
    length = file.seek(0, os.SEEK_END) - DIGEST_SIGNS
    digest = _digest_of(file, length)
    file.seek(length)
    file.write(digest.encode())


def read_manifest(source: Path) -> Manifest:
    """The list of a backup whose every byte has been read and agrees with its digest."""
    try:
        with source.open("rb") as file:
            length = file.seek(0, os.SEEK_END) - DIGEST_SIGNS
            if length < 0 or _digest_of(file, length).encode() != file.read(DIGEST_SIGNS):
                raise NotWhole(f"{source.name} is damaged, cut short, or no backup; take another copy of it.")
        with zipfile.ZipFile(source) as archive:
            return _listed(archive, source.name)
    except zipfile.BadZipFile:
        raise NotWhole(f"{source.name} is no backup of this program; take another file.") from None


def _listed(archive: zipfile.ZipFile, name: str) -> Manifest:
    names = archive.namelist()
    if LIST not in names or archive.getinfo(LIST).file_size > LONGEST_LIST:
        raise NotWhole(f"{name} has no list of what it holds; take another copy of it.")
    try:
        about = json.loads(archive.read(LIST))
        digests = {str(each): str(digest) for each, digest in about.pop("files").items()}
        form = about.pop("format")
    except (ValueError, KeyError, AttributeError):
        raise NotWhole(f"{name} has a list that cannot be read; take another copy of it.") from None
    if form != FORMAT:
        raise NotWhole(f"{name} is a backup of another version of the program; restore it with that version.")
    if sorted(names) != sorted([LIST, *digests]):
        raise NotWhole(f"{name} does not hold what its list names; take another copy of it.")
    unsafe = next((each for each in digests if not is_plain(each)), None)
    if unsafe is not None:
        raise NotWhole(f"{name} names a place outside of its own, {unsafe[:60]!r}; it was not made by this program.")
    return Manifest(about, digests)


def is_plain(name: str) -> bool:
    """Whether a name in a backup leads to a place below the folder it is unpacked into, and nowhere else."""
    parts = PurePosixPath(name).parts
    return (
        bool(parts)
        and name == "/".join(parts)
        and not name.startswith("/")
        and not any(part in ("", ".", "..") for part in parts)
        and not any(sign in name for sign in "\\:\0")
    )


def unpack(source: Path, manifest: Manifest, folder: Path) -> None:
    """Unpack everything below a folder of its own, each file held against its digest."""
    with zipfile.ZipFile(source) as archive:
        for name, digest in manifest.digests.items():
            place = folder / name
            place.parent.mkdir(parents=True, exist_ok=True)
            with archive.open(name) as entry, place.open("xb") as target:
                if _copied(entry, target) != digest:
                    raise NotWhole(f"{name} in {source.name} does not agree with its digest; take another copy of it.")
                target.flush()
                os.fsync(target.fileno())


def digest_of(path: Path) -> str:
    """SHA-256 of a file."""
    with path.open("rb") as file:
        return _digest_of(file, path.stat().st_size)


def _copied(source: IO[bytes], target: IO[bytes]) -> str:
    digest = hashlib.sha256()
    while block := source.read(BLOCK):
        digest.update(block)
        target.write(block)
    return digest.hexdigest()


def _digest_of(file: IO[bytes], length: int) -> str:
    """SHA-256 of so many bytes from the beginning; the file is left standing behind them."""
    digest = hashlib.sha256()
    file.seek(0)
    while length:
        block = file.read(min(BLOCK, length))
        if not block:
            break
        digest.update(block)
        length -= len(block)
    return digest.hexdigest()

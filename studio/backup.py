"""Backup and restore: database and media in one verified file, taken while people write.

The database comes first, as of one moment; the media after it. A media file is
named by its content and never altered, so whatever the database names is there.
"""

import datetime
import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from studio import postgres
from studio.accounts.models import User
from studio.archive import Manifest, digest_of, read_manifest, unpack, write_archive

DATABASE, MEDIA = "database", "media"
ENGINES = {"sqlite": "SQLite", "postgresql": "PostgreSQL"}


class Refused(ValueError):
    """A backup or a restore that is not done; the sentence says why and what to do."""


def back_up(target: Path, *, at: datetime.datetime) -> Manifest:
    """Write a backup, and read it again to the last byte before it is called one."""
    if target.exists():
        raise Refused(f"{target} is there already and stays as it is; give another name.")
    if not target.parent.is_dir():
        raise Refused(f"The folder {target.parent} is not there; make it, or give another name.")
    applied = sorted(".".join(migration) for migration in MigrationRecorder(connection).applied_migrations())
    if not applied:
        raise Refused("The database holds no studio; look whether VAR_DIR and DATABASE_URL name the right one.")
    about: dict[str, Any] = {"made": at.isoformat(), "engine": connection.vendor, "migrations": applied}
    with tempfile.TemporaryDirectory(prefix=".backup-", dir=target.parent) as folder:
        copy = Path(folder) / DATABASE
        if connection.vendor == "sqlite":
            _copy_sqlite(copy)
        else:
            about["schema"] = postgres.dump(copy)
        files = [(DATABASE, copy), *((f"{MEDIA}/{name}", path) for name, path in _media())]
        written = write_archive(target, files, about)
    if read_manifest(target) != written:
        raise Refused(f"{target} does not read as it was written; look at the disk, and back up to another.")
    return written


def restore(source: Path, *, replace: bool) -> Manifest:
    """Verify a backup to the last byte, then put its media and its database in place.

    Media are only added to; the database is replaced last and in one
    transaction. Until that has ended, everything is as it was.
    """
    manifest = read_manifest(source)
    _refuse_what_does_not_fit(manifest)
    if connection.vendor == "sqlite":
        Path(connection.settings_dict["NAME"]).parent.mkdir(parents=True, exist_ok=True)
    if not replace and _holds_a_studio():
        raise Refused("The database holds a studio already. Add --replace to put the backup in its place.")
    media = Path(settings.MEDIA_ROOT)
    media.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".restore-", dir=media.parent) as name:
        folder = Path(name)
        unpack(source, manifest, folder)
        database = folder / DATABASE
        if connection.vendor == "sqlite":
            _refuse_unsound(database)
        _place_media(manifest, folder, media, replace=replace)
        if connection.vendor == "sqlite":
            _replace_sqlite(database)
        else:
            postgres.replace(database, str(manifest.about["schema"]))
    return manifest


def unapplied() -> bool:
    """Whether the program is newer than its database, so that it has to be migrated."""
    return bool(
        set(MigrationLoader(None).disk_migrations or ()) - set(MigrationRecorder(connection).applied_migrations())
    )


def _media() -> Iterator[tuple[str, Path]]:
    """Every media file with its name; what begins with a point is still on its way."""
    root = Path(settings.MEDIA_ROOT)
    for path in sorted(root.rglob("*")):
        parts = path.relative_to(root).parts
        if path.is_file() and not path.is_symlink() and not any(part.startswith(".") for part in parts):
            yield "/".join(parts), path


def _copy_sqlite(copy: Path) -> None:
    """One moment of the database, in one step: writers wait for it, and readers do not."""
    connection.ensure_connection()
    with closing(sqlite3.connect(copy)) as target:
        connection.connection.backup(target)
        # A copy has to be one file, whatever its original is.
        target.execute("PRAGMA journal_mode=DELETE")
    _refuse_unsound(copy)


def _refuse_unsound(database: Path) -> None:
    try:
        with closing(sqlite3.connect(database)) as found:
            whole = found.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            tied = not found.execute("PRAGMA foreign_key_check").fetchall()
    except sqlite3.DatabaseError:
        whole = tied = False
    if not (whole and tied):
        raise Refused("The database is damaged inside; take an earlier backup.")


def _refuse_what_does_not_fit(manifest: Manifest) -> None:
    engine = str(manifest.about.get("engine"))
    if engine != connection.vendor:
        kept, here = ENGINES.get(engine, engine), ENGINES[connection.vendor]
        raise Refused(
            f"The backup is of a {kept} database and this one is {here}; set DATABASE_URL to one of its kind."
        )
    known = {".".join(migration) for migration in MigrationLoader(None).disk_migrations or ()}
    if not known.issuperset(manifest.about.get("migrations", ())):
        raise Refused("The backup was made by a newer version of the program; bring the program up to date first.")
    if DATABASE not in manifest.digests:
        raise Refused("The backup holds no database; take another copy of it.")


def _holds_a_studio() -> bool:
    try:
        return User._meta.db_table in connection.introspection.table_names() and User.objects.exists()
    except DatabaseError:
        place = connection.settings_dict["NAME"]
        raise Refused(f"The database at {place} cannot be read; move it away, then restore again.") from None


def _place_media(manifest: Manifest, folder: Path, media: Path, *, replace: bool) -> None:
    """Move files to their places; all are looked at before the first is moved."""
    names = [name.removeprefix(f"{MEDIA}/") for name in manifest.digests if name.startswith(f"{MEDIA}/")]
    wanted = []
    for name in names:
        place = media / name
        if not place.exists():
            wanted.append(name)
        elif digest_of(place) != manifest.digests[f"{MEDIA}/{name}"]:
            if not replace:
                raise Refused(f"{place} is there with other content. Add --replace to put the backup's in its place.")
            wanted.append(name)
    for name in wanted:
        (media / name).parent.mkdir(parents=True, exist_ok=True)
        os.replace(folder / MEDIA / name, media / name)


def _replace_sqlite(database: Path) -> None:
    """Write the copy into the database in place, in one transaction of SQLite's own.

    A new file under the old name would leave a program that runs writing into
    the one that is gone, and an old journal beside it would be played into it.
    """
    connection.ensure_connection()
    with closing(sqlite3.connect(database)) as source:
        source.backup(connection.connection)
    connection.close()
